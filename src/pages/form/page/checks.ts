/** The checks of `waysheet check` for job.json, by the same code. */
import { sortDiagnostics, type Diagnostic } from '../../../base/diagnostics/diagnostic.js';
import { draftJob } from '../../../survey/job/draft.js';
import { parseJsonSource } from '../../../survey/job/json-source.js';
import { resolveDraft, type Frame } from '../../../survey/job/resolve-job.js';

export interface Checked {
  readonly diagnostics: readonly Diagnostic[];
  /** null: not even the units are known. */
  readonly frame: Frame | null;
}

/** @param text job.json as it would be saved. */
export function checkJob(text: string): Checked {
  const source = parseJsonSource(text, 'job.json');
  if (!source.ok) return { diagnostics: source.diagnostics, frame: null };
  const { findings, frame } = resolveDraft(draftJob(source.value), null);
  return { diagnostics: sortDiagnostics(findings.list), frame };
}
