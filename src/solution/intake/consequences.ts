/** One cause, said once: what follows from another finding of the same file is left out. */
import type { Diagnostic, DiagnosticCode } from '../../base/diagnostics/diagnostic.js';

/** After these, values are not in the cells that their columns say. */
const CELLS_MISPLACED: ReadonlySet<DiagnosticCode> = new Set<DiagnosticCode>([
  'CSV_DECIMALS_SPLIT',
  'CSV_SECOND_HEADER',
  'CSV_ROWS_ABOVE_HEADER',
  'CSV_ROW_LENGTH',
]);

/**
 * Without what readings look like (suspicions, what is to be confirmed) in files whose cells are not where their columns say.
 * It is asked again once the file can be read.
 */
export function withoutConsequences(list: readonly Diagnostic[]): Diagnostic[] {
  const misread = new Set(
    list.flatMap(({ code, severity, at }) =>
      severity === 'error' && CELLS_MISPLACED.has(code) && at !== undefined ? [at.file] : [],
    ),
  );
  return list.filter(
    ({ severity, at, code }) =>
      severity === 'error' || code.startsWith('CSV_') || at === undefined || !misread.has(at.file),
  );
}
