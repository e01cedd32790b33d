/** Where the reports of a job lie below an output folder: the issued one, and a newer draft beside it. */
import { join } from 'node:path';
import { readManifest, type Manifest } from '../pages/deliverables/manifest.js';

/** Below the output folder: drafts of jobs that have an issued report. No job may have this name (register.ts). */
export const DRAFTS = 'drafts';

/**
 * Where a new draft of a job is written: an issued report is never written over.
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

/** The reports that lie there of a job, the newest first: a draft beside an issued one, then that one, or the draft alone. */
export async function standingReports(out: string, job: string): Promise<StandingReport[]> {
  const [draft, report] = await Promise.all([readManifest(join(out, DRAFTS), job), readManifest(out, job)]);
  return [
    ...(draft === null ? [] : [{ place: `${DRAFTS}/${job}`, manifest: draft }]),
    ...(report === null ? [] : [{ place: job, manifest: report }]),
  ];
}
