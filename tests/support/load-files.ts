/**
 * A job folder as its files are read, for tests of how files are read: without what the survey as a whole says (what it does
 * not determine, what it left unread, how it fits). Their folders hold a few rows each.
 */
import { inspectJob, type LoadedJob } from '../../src/solution/intake/load-job.js';
import type { Diagnostic, DiagnosticCode, Outcome } from '../../src/base/diagnostics/diagnostic.js';

const OF_THE_SURVEY: ReadonlySet<DiagnosticCode> = new Set([
  'TOLERANCE_WITHOUT_VALUE',
  'CHARACTERISTIC_UNDETERMINED',
  'READINGS_UNCHECKED',
  'STATIONS_UNREAD',
  'MONUMENT_UNREAD',
  'LEFT_OUT_WITHOUT_NOTE',
  'CLOSURE_EXCEEDED',
  'NOISE_ABOVE_CLAIM',
  'PRIOR_SUSPECT',
  'MISFIT_EXPLAINED',
  'MISFIT_UNEXPLAINED',
  'NOISE_FAR_ABOVE_CLAIM',
  'FILE_UNNAMED',
]);

export const ofTheFiles = (diagnostics: readonly Diagnostic[]): Diagnostic[] =>
  diagnostics.filter(({ code }) => !OF_THE_SURVEY.has(code));

export async function loadFiles(folder: string): Promise<Outcome<LoadedJob>> {
  const { soFar, diagnostics } = await inspectJob(folder);
  const list = ofTheFiles(diagnostics);
  return soFar === null ? { ok: false, diagnostics: list } : { ok: true, value: soFar, diagnostics: list };
}
