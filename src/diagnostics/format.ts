/** Lists of diagnostics for a terminal, like a compiler's, and for other programs. */
import type { Diagnostic } from './diagnostic.js';
import { describe, visible } from './messages.js';

/**
 * One line each: `file:row: column: error: what (CODE)`, then a blank line and the counts. Empty for none.
 *
 * @param root What stands before each file: the job folder as the caller named it; '' for nothing.
 */
export function formatDiagnostics(
  list: readonly Diagnostic[],
  { root = '' }: { root?: string } = {},
): string {
  if (list.length === 0) return '';
  const prefix = root === '' || root.endsWith('/') ? root : `${root}/`;
  const lines = list.map((d) => `${visible(place(d, prefix))}${d.severity}: ${describe(d)} (${d.code})`);
  return `${lines.join('\n')}\n\n${countWords(list)}\n`;
}

function place({ at }: Diagnostic, prefix: string): string {
  if (at === undefined) return '';
  const row = at.row === undefined ? '' : `${at.row}:`;
  const column = at.column === undefined || at.column === '' ? '' : ` ${at.column}:`;
  return `${prefix}${at.file}:${row}${column} `;
}

/** `2 errors, 1 warning`. */
export function countWords(list: readonly Diagnostic[]): string {
  const errors = list.filter((d) => d.severity === 'error').length;
  const warnings = list.length - errors;
  const words = [
    errors === 0 ? '' : errors === 1 ? '1 error' : `${errors} errors`,
    warnings === 0 ? '' : warnings === 1 ? '1 warning' : `${warnings} warnings`,
  ].filter((word) => word !== '');
  return words.length === 0 ? 'no problems' : words.join(', ');
}

/** A diagnostic as other programs read it; null where it has no place. */
export interface JsonDiagnostic {
  readonly code: string;
  readonly severity: 'error' | 'warning';
  readonly file: string | null;
  readonly row: number | null;
  readonly column: string | null;
  readonly message: string;
  readonly data: Readonly<Record<string, string | number>>;
}

export function diagnosticsToJson(list: readonly Diagnostic[]): JsonDiagnostic[] {
  return list.map((d) => ({
    code: d.code,
    severity: d.severity,
    file: d.at?.file ?? null,
    row: d.at?.row ?? null,
    column: d.at?.column ?? null,
    message: describe(d),
    data: d.data,
  }));
}
