/** Where the reports of a job are in an output folder: the issued one, and a newer draft next to it. */
import { join } from 'node:path';
import { readManifest, type Manifest } from '../pages/deliverables/manifest.js';

/** In the output folder: drafts of jobs that have an issued report. No job may have this name (register.ts). */
export const DRAFTS = 'drafts';

/**
 * Where a new draft of a job is written: an issued report is never overwritten.
 *
 * @returns The folder that holds the report's folder, absolute or as `out` is.
 */
export async function parentForDraft(out: string, job: string): Promise<string> {
  const standing = await readManifest(out, job);
  return standing?.issue === undefined ? out : join(out, DRAFTS);
}

export interface StandingReport {
  /** Relative to the output folder, with `/` between its parts. */
  readonly place: string;
  readonly manifest: Manifest;
}

/** The reports of a job, the newest first: a draft next to an issued one, then that one, or the draft alone. */
export async function standingReports(out: string, job: string): Promise<StandingReport[]> {
  const [draft, report] = await Promise.all([readManifest(join(out, DRAFTS), job), readManifest(out, job)]);
  return [
    ...(draft === null ? [] : [{ place: `${DRAFTS}/${job}`, manifest: draft }]),
    ...(report === null ? [] : [{ place: job, manifest: report }]),
  ];
}
