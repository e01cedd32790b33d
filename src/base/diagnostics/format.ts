/** Lists of diagnostics for a terminal, and for other programs. */
import { counted } from './counted.js';
import type { Diagnostic, Place, Severity } from './diagnostic.js';
import { grouped, kindsOf, moreWords, rowWords, sizeOf, type Kind } from './groups.js';
import { confirmedBy, describe, explain, HOW_TO_CONFIRM, visible } from './messages.js';
import { piecesOf, type SourceLines } from './source-lines.js';
import { wrapped } from './wrap.js';

export interface FormatOptions {
  /** What is printed before each file: the job folder as the caller named it; '' for nothing. */
  readonly root?: string;
  /** Files whose lines are shown with the cell marked, by their path in the job. */
  readonly sources?: ReadonlyMap<string, SourceLines>;
}

/**
 * Every finding on one line: `error: file, row, column: what (CODE)`, followed by the line of the file if the finding is
 * about a cell; then a blank line and the counts. Empty if there are no findings.
 */
export function formatDiagnostics(
  list: readonly Diagnostic[],
  { root = '', sources }: FormatOptions = {},
): string {
  if (list.length === 0) return '';
  const prefix = prefixOf(root);
  const lines = grouped(list).flatMap(({ first, rows }) => [
    `${headOf(first, prefix)}${rowWords(rows)}`,
    ...causeLines(first, TEXT_WIDTH),
    ...markedLine(first, sources?.get(first.at?.file ?? '')),
  ]);
  const confirm = list.some(({ severity }) => severity === 'confirm') ? `${HOW_TO_CONFIRM}\n` : '';
  return `${lines.join('\n')}\n\n${countWords(list)}\n${confirm}`;
}

export interface ScreenOptions extends FormatOptions {
  /** Number of lines on the screen. */
  readonly lines: number;
  /** Characters on a line; Infinity: lines are not broken. */
  readonly width: number;
  /** How to see the rest: the end of the line "… and 12 more; ". */
  readonly rest: string;
}

const rank: Readonly<Record<Severity, number>> = { error: 0, confirm: 1, warning: 2 };
/** What says why readings disagree comes before the other signs that they do. */
const isReason = ({ code }: Diagnostic): number => (code.startsWith('MISFIT_') ? 0 : 1);

/**
 * The findings in at most `lines` lines, the worst first: each finding if there is room, else each kind once, and how many
 * are not shown. Lines of the files are added if there is still room. Empty if there are no findings.
 */
export function formatScreen(list: readonly Diagnostic[], options: ScreenOptions): string[] {
  const { root = '', sources, lines, width, rest } = options;
  const groups = grouped(
    [...list].sort((a, b) => rank[a.severity] - rank[b.severity] || isReason(a) - isReason(b)),
  );
  const prefix = prefixOf(root);
  const alone = groups.map((first): Kind => ({ first, members: [first], count: sizeOf(first) }));
  const isCut = groups.some(({ first: { code } }) => code === 'MORE_LIKE_THIS');
  const headLines = (kind: Kind) => {
    const { first } = kind.first;
    const head = wrapped(`${headOf(first, prefix)}${moreWords(kind)}`, width);
    return [...head, ...fewCauseLines(first, Math.min(width, TEXT_WIDTH), lines - head.length, rest)];
  };
  const isShort = (kinds: readonly Kind[]) => kinds.flatMap(headLines).length <= lines;
  const kinds = isShort(alone) && !isCut ? alone : kindsOf(groups);
  let left = isShort(kinds) ? lines : lines - 1;
  const heads: string[][] = [];
  for (const kind of kinds) {
    const head = headLines(kind);
    // The first is always shown, however narrow the screen is.
    if (heads.length > 0 && head.length > left) break;
    heads.push(head);
    left -= head.length;
  }
  const shown = heads.flatMap((head, i) => {
    const { first } = kinds[i]!.first;
    const marked = markedLine(first, sources?.get(first.at?.file ?? ''));
    if (marked.length > left) return head;
    left -= marked.length;
    return [...head, ...marked];
  });
  const hidden = kinds.slice(heads.length).reduce((sum, { count }) => sum + count, 0);
  return hidden === 0 ? shown : [...shown, `… and ${counted(hidden, 'more finding')}; ${rest}`];
}

/** `error: file, row 3, column: what (CODE)`; what may have caused it comes on lines of its own. */
const headOf = (d: Diagnostic, prefix: string): string => {
  const { what, causes } = explain(d);
  const said = causes === undefined ? describe(d) : `${what}.${confirmedBy(d)}`;
  return `${severityWords[d.severity]}: ${visible(place(d, prefix))}${said} (${d.code})`;
};

/** A list is broken at this width also where the terminal is wider, or is none. */
const TEXT_WIDTH = 100;
/** Causes in at most so many lines where that is possible: what to do about the likeliest ones if there is room, else as many as there is room for in one paragraph. */
function fewCauseLines(d: Diagnostic, width: number, lines: number, rest: string): string[] {
  const count = explain(d).causes?.list.length ?? 0;
  let made = causeLines(d, width);
  for (let fixes = count - 1; fixes >= 0 && made.length > lines; fixes--)
    made = causeLines(d, width, { fixes, rest });
  for (let most = count; most >= 2 && count > 2 && made.length > lines; most--)
    made = causeLines(d, width, { fixes: 0, rest, most });
  return made;
}

/** The causes of a finding, numbered, each with what to do about it directly after it; then what tells them apart. */
function causeLines(d: Diagnostic, width: number, { fixes = Infinity, rest = '', most = 0 } = {}): string[] {
  const { causes, fix } = explain(d);
  if (causes === undefined) return [];
  const { intro, list } = causes;
  const file = visible(d.at?.file ?? '');
  // The file is named before them all.
  const short = (text: string) => (file === '' ? text : text.replaceAll(`${file}, row`, 'row'));
  const indented = (text: string, by: number) =>
    wrapped(short(text), width - by).map(
      (line, k) => `${' '.repeat(by)}${k === 0 ? line : line.trimStart()}`,
    );
  const marked = list.map(({ what }, k) => (list.length < 2 ? what : `${k + 1}. ${what}`));
  const more = marked.length - most;
  const listed =
    most > 0
      ? indented(`${intro}: ${marked.slice(0, most).join('; ')}${more === 0 ? '' : `; and ${more} more`}`, 2)
      : [
          ...indented(`${intro}:`, 2),
          ...list.flatMap(({ what, fix: own }, k) => {
            const mark = list.length < 2 ? '' : `${k + 1}. `;
            const [first, ...more] = indented(what, 2 + mark.length);
            return [
              `  ${mark}${first!.trimStart()}`,
              ...more,
              ...(own === null || k >= fixes ? [] : indented(own, 5)),
            ];
          }),
        ];
  return [
    ...listed,
    ...(fix === null ? [] : indented(fix, 2)),
    ...(list.some((cause, k) => k >= fixes && cause.fix !== null)
      ? indented(`What to do about each: ${rest}`, 2)
      : []),
  ];
}

const prefixOf = (root: string): string => (root === '' || root.endsWith('/') ? root : `${root}/`);

export const severityWords: Readonly<Record<Severity, string>> = {
  error: 'error',
  confirm: 'to be confirmed',
  warning: 'warning',
};

/** A warning in words, and its place. */
interface WarningLine {
  readonly code: string;
  readonly file: string | null;
  readonly row: number | null;
  readonly column: string | null;
  readonly message: string;
}

/** Most warnings of a report on a screen; all of them are in the report and in results.json. */
const MAX_WARNINGS = 8;

/** The same for warnings that are words already, without the lines of the files. */
export function formatWarnings(list: readonly WarningLine[], root: string): string {
  const lines = list.slice(0, list.length > MAX_WARNINGS ? MAX_WARNINGS - 1 : MAX_WARNINGS).map((w) => {
    const at = {
      file: w.file ?? '',
      ...(w.row !== null && { row: w.row }),
      ...(w.column !== null && { column: w.column }),
    };
    return `warning: ${w.file === null ? '' : visible(place({ at }, prefixOf(root)))}${w.message} (${w.code})`;
  });
  const more = list.length - lines.length;
  const rest = more === 0 ? [] : [`… and ${counted(more, 'more warning')}, which the report lists`];
  return `${[...lines, ...rest].join('\n')}\n\n${counted(list.length, 'warning')}\n`;
}

/** The line of the file, and below it `^^^` where the problem is; empty if the finding is not about a cell. */
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
  if (at === undefined || at.file === '') return '';
  const row = at.row === undefined ? '' : `, row ${at.row}`;
  const column = at.column === undefined || at.column === '' ? '' : `, ${at.column}`;
  return `${prefix}${at.file}${row}${column}: `;
}

/** `2 errors, 1 warning`. */
export function countWords(list: readonly Diagnostic[]): string {
  const count = (severity: Severity) => list.filter((d) => d.severity === severity).length;
  const [errors, asked, warnings] = [count('error'), count('confirm'), count('warning')];
  const words = [
    errors === 0 ? '' : counted(errors, 'error'),
    asked === 0 ? '' : `${asked} to be confirmed`,
    warnings === 0 ? '' : counted(warnings, 'warning'),
  ].filter((word) => word !== '');
  return words.length === 0 ? 'no problems' : words.join(', ');
}

/** A diagnostic as other programs read it; null: it has no file, row or column. */
export interface JsonDiagnostic {
  readonly code: string;
  readonly severity: Severity;
  readonly file: string | null;
  readonly row: number | null;
  readonly column: string | null;
  readonly message: string;
  readonly data: Readonly<Record<string, string | number>>;
  /** If one finding is for several rows: how many, and all row numbers. */
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
