/** The files of one report, by their path inside its folder ("charts/plan.svg"). */
export type Deliverables = ReadonlyMap<string, Uint8Array>;
