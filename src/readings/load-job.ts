/** A job folder as its job and its readings, every problem of both at once. */
import { sortDiagnostics } from '../diagnostics/diagnostic.js';
import type { Diagnostic, Outcome } from '../diagnostics/diagnostic.js';
import type { Job } from '../job/job.js';
import { readSettled } from '../job/read-job.js';
import { readFiles } from './read-readings.js';
import type { InputFile, Readings } from './readings.js';

export interface LoadedJob {
  readonly job: Job;
  readonly readings: Readings;
  /** job.json, the tolerance file if any, then the readings files in the order of the job. */
  readonly inputs: readonly InputFile[];
}

/**
 * Reads and checks everything that goes in. A faulty job.json does not keep the readings from being checked
 * against as much of it as is sound.
 *
 * @param folder The job folder.
 * @returns Fails: with every problem, job.json first, then by file and row. Warnings come with either end.
 */
export async function loadJob(folder: string): Promise<Outcome<LoadedJob>> {
  const settled = await readSettled(folder);
  const diagnostics: Diagnostic[] = [...settled.findings.list];
  if (settled.frame === null) return { ok: false, diagnostics: sortDiagnostics(diagnostics) };
  const read = await readFiles(folder, settled.frame);
  for (const d of read.findings.list) diagnostics.push(d);
  const sorted = sortDiagnostics(diagnostics);
  if (settled.job === null || read.findings.hasErrors) return { ok: false, diagnostics: sorted };
  const inputs = [...settled.inputs, ...read.inputs];
  return { ok: true, value: { job: settled.job, readings: read.readings, inputs }, diagnostics: sorted };
}
