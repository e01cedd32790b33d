/** Lists of diagnostics for a terminal, like a compiler's, and for other programs. */
import type { Diagnostic, Place, Severity } from './diagnostic.js';
import { grouped, rowWords } from './groups.js';
import { describe, visible } from './messages.js';
import { piecesOf } from './source-lines.js';
import type { SourceLines } from './source-lines.js';

export interface FormatOptions {
  /** What stands before each file: the job folder as the caller named it; '' for nothing. */
  readonly root?: string;
  /** Files whose lines are shown with the cell marked, by their path in the job. */
  readonly sources?: ReadonlyMap<string, SourceLines>;
}

/**
 * One line each: `file:row: column: error: what (CODE)`, with the line of the file under it where a cell of it is
 * meant; then a blank line and the counts. Empty for none.
 */
export function formatDiagnostics(
  list: readonly Diagnostic[],
  { root = '', sources }: FormatOptions = {},
): string {
  if (list.length === 0) return '';
  const prefix = prefixOf(root);
  const lines = grouped(list).flatMap(({ first, rows }) => [
    `${visible(place(first, prefix))}${severityWords[first.severity]}: ${describe(first)} (${first.code})${rowWords(rows)}`,
    ...markedLine(first, sources?.get(first.at?.file ?? '')),
  ]);
  return `${lines.join('\n')}\n\n${countWords(list)}\n`;
}

const prefixOf = (root: string): string => (root === '' || root.endsWith('/') ? root : `${root}/`);

export const severityWords: Readonly<Record<Severity, string>> = {
  error: 'error',
  confirm: 'to be confirmed',
  warning: 'warning',
};

/** The line as it stands, and under it `^^^` where the problem is; none where no cell of it is meant. */
function markedLine({ at }: Diagnostic, source: SourceLines | undefined): string[] {
  if (source === undefined || at?.row === undefined || at.column === undefined) return [];
  const pieces = piecesOf(source, at.row, [at]);
  if (pieces === null || !pieces.some(({ marked }) => marked)) return [];
  const shown = pieces.map(({ text, marked }) => ({ text: onOneLine(text), marked }));
  const under = shown.map(({ text, marked }) =>
    (marked ? '^' : ' ').repeat(marked ? Math.max(1, text.length) : text.length),
  );
  const number = String(at.row).padStart(6);
  const line = `${number} | ${shown.map(({ text }) => text).join('')}`;
  return [line, `${' '.repeat(number.length)} | ${under.join('').trimEnd()}`];
}

const onOneLine = (text: string): string => visible(text.replaceAll('\t', '    ').replaceAll('\n', ' '));

function place({ at }: { readonly at?: Place }, prefix: string): string {
  if (at === undefined) return '';
  const row = at.row === undefined ? '' : `${at.row}:`;
  const column = at.column === undefined || at.column === '' ? '' : ` ${at.column}:`;
  return `${prefix}${at.file}:${row}${column} `;
}

/** `2 errors, 1 warning`. */
export function countWords(list: readonly Diagnostic[]): string {
  const count = (severity: Severity) => list.filter((d) => d.severity === severity).length;
  const [errors, asked, warnings] = [count('error'), count('confirm'), count('warning')];
  const words = [
    errors === 0 ? '' : errors === 1 ? '1 error' : `${errors} errors`,
    asked === 0 ? '' : `${asked} to be confirmed`,
    warnings === 0 ? '' : warnings === 1 ? '1 warning' : `${warnings} warnings`,
  ].filter((word) => word !== '');
  return words.length === 0 ? 'no problems' : words.join(', ');
}

/** A diagnostic as other programs read it; null where it has no place. */
export interface JsonDiagnostic {
  readonly code: string;
  readonly severity: Severity;
  readonly file: string | null;
  readonly row: number | null;
  readonly column: string | null;
  readonly message: string;
  readonly data: Readonly<Record<string, string | number>>;
  /** Where several rows have one cause and are said once: how many, and all of them. */
  readonly count?: number;
  readonly rows?: readonly number[];
}

/** As `check --json` lists them, in the order of files and rows. */
export function diagnosticsToJson(list: readonly Diagnostic[]): JsonDiagnostic[] {
  return grouped(list).map(({ first, rows }) => ({
    code: first.code,
    severity: first.severity,
    file: first.at?.file ?? null,
    row: first.at?.row ?? null,
    column: first.at?.column ?? null,
    message: describe(first),
    data: first.data,
    ...(rows.length > 0 && { count: rows.length, rows }),
  }));
}
