/**
 * Why something has no value, why no plan was found, and what would decide a verdict: a code and its data, for programs. The
 * wording is in messages.ts.
 */

type Plane = 'vertical' | 'horizontal';

/** The data of each code. Rails, stations, set-ups and targets have the names of the job; lengths are in mm. */
export interface ReasonData {
  /** Too few stations were read. */
  'rail-unread': { rail: string; plane: Plane; isDatum: boolean };
  'straightness-stations': { rail: string; plane: Plane };
  'straightness-stations-has': { rail: string; plane: Plane; has: number };
  'window-stations': { rail: string; overMm: number };
  'rate-stations': { rail: string; plane: Plane };
  'rate-apart': { rail: string; overMm: number };
  'slope-stations': { rail: string };
  'plane-stations': Nothing;
  'square-cross-rail': { rail: string };
  'square-datum-rail': Nothing;
  'matching-stations': { rail: string; other: string; plane: Plane };
  'no-matching-stations': { rail: string; other: string };
  'two-matching-stations': { what: 'parallelism' | 'twist'; rail: string; other: string };
  'same-place-across': { rail: string; other: string };
  'no-joints': { rail: string };
  'joint-stations': { rail: string; side: 'before' | 'behind'; jointMm: number; plane: Plane };
  'datum-no-line': { rail: string };
  'datum-no-horizontal-line': Nothing;
  'own-line': Nothing;
  'set-up-no-heights': { setup: string };
  'set-up-no-offsets': { setup: string };

  /** A free motion of the readings changes it, and something would have stopped that. */
  'nothing-ties-it': Nothing;
  'not-levelled': { setup: string };
  'height-not-carried': { from: string; to: string };
  'targets-not-compared': { first: string; second: string; plane: Plane };
  'direction-not-carried': { from: string; to: string; monuments: readonly [string, string] | null };
  'part-not-tied': { rail: string; from: string; to: string };
  'span-not-measured': { rail: string; other: string };
  'sight-free': { sight: string };
  'step-not-read': { rail: string; from: number; to: number };
  'squareness-not-known': { instrument: string };
  'no-benchmark': Nothing;

  /** No plan of corrections. */
  'limit-missed': { what: string; rail: string; by: number; unit: string; apartM: number | null };
  'no-plan-in-search': Nothing;
  'moves-too-small': { leastUm: number };
  'moves-scatter': { percent: number };
  'nothing-can-move': Nothing;
  'no-stations-beside-datum': { rail: string };
  'place-to-datum-open': { rail: string };
}

/** What would decide an undecided verdict. */
export interface SettleData {
  'readings-disagree': { times: number };
  'more-passes': { times: number };
  'margin-too-small': Nothing;
  'not-by-passes': Nothing;
}

type Nothing = Readonly<Record<string, never>>;

type Coded<D> = { readonly [C in keyof D]: { readonly code: C; readonly data: Readonly<D[C]> } }[keyof D];

export type Reason = Coded<ReasonData>;
export type Settling = Coded<SettleData>;

/** A reason; the compiler checks its data against its code. */
export const reason = <C extends keyof ReasonData>(code: C, data: ReasonData[C]): Reason =>
  ({ code, data }) as Reason;
