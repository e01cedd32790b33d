/** A job folder as its job and its readings, every problem of both at once. */
import { sortDiagnostics } from '../diagnostics/diagnostic.js';
import type { Diagnostic, Outcome } from '../diagnostics/diagnostic.js';
import type { GivenTolerances } from '../job/given-tolerances.js';
import type { Job } from '../job/job.js';
import type { JobDigests } from '../job/job-digests.js';
import { readSettled } from '../job/read-job.js';
import type { Frame } from '../job/settle-job.js';
import { checkDriftTimes } from './drift-times.js';
import { readFiles } from './read-readings.js';
import type { InputFile, Readings } from './readings.js';
import { findSuspicions } from './suspicions/find-suspicions.js';
import type { MappingSuggestion } from './suggest/suggest-mapping.js';

export interface LoadedJob {
  readonly job: Job;
  readonly readings: Readings;
  /** job.json, the tolerance file if any, then the readings files in the order of the job. */
  readonly inputs: readonly InputFile[];
  readonly digests?: JobDigests | null;
  /** The set that judges the job in place of its own; its bytes do not lie in the folder. */
  readonly given?: GivenTolerances | null;
}

/** What a folder holds, as far as it can be read; for whoever wants to say more than what is wrong. */
export interface Inspection {
  /** The job's id as it stands in job.json; null without one. */
  readonly id: string | null;
  /** null when anything at all is wrong. */
  readonly loaded: LoadedJob | null;
  /** null when job.json is too faulty to say what the job declares. */
  readonly frame: Frame | null;
  readonly readings: Readings | null;
  readonly inputs: readonly InputFile[];
  /** For files with columns that are not known. */
  readonly suggestions: readonly MappingSuggestion[];
  /** Sorted by file and row, job.json first. */
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Reads and checks everything that goes in. A faulty job.json does not keep the readings from being checked
 * against as much of it as is sound.
 *
 * @param folder The job folder.
 * @param given A tolerance set that judges the job in place of its own.
 * @returns Fails: with every problem, job.json first, then by file and row. Warnings come with either end.
 */
export async function loadJob(
  folder: string,
  given: GivenTolerances | null = null,
): Promise<Outcome<LoadedJob>> {
  const { loaded, diagnostics } = await inspectJob(folder, given);
  return loaded === null ? { ok: false, diagnostics } : { ok: true, value: loaded, diagnostics };
}

export async function inspectJob(folder: string, given: GivenTolerances | null = null): Promise<Inspection> {
  const settled = await readSettled(folder, given);
  const { job, frame, id, digests } = settled;
  const read = frame === null ? null : await readFiles(folder, frame);
  const inputs = [...settled.inputs, ...(read?.inputs ?? [])];
  const readings = read?.readings ?? null;
  if (job !== null && readings !== null && read !== null)
    checkDriftTimes(job.setups, readings, read.findings);
  const suspicions = frame !== null && readings !== null ? findSuspicions(readings, frame) : [];
  const sound = job !== null && readings !== null && read?.findings.hasErrors === false;
  return {
    id,
    loaded: sound ? { job, readings, inputs, digests, given } : null,
    frame,
    readings,
    inputs,
    suggestions: read?.suggestions ?? [],
    diagnostics: sortDiagnostics([...settled.findings.list, ...(read?.findings.list ?? []), ...suspicions]),
  };
}
