/** Finds the header of a readings file and with it the delimiter; checks its columns. */
import type { Findings } from '../diagnostics/diagnostic.js';
import { nearest } from '../diagnostics/nearest.js';
import type { FileEntry } from '../job/settle-readings-files.js';
import { isLengthUnit, isSlopeUnit, unitNames } from '../job/units.js';
import { columnNamed, columnsOf, isPosition, isReading, neededColumns, readHeaderCell } from './columns.js';
import type { HeaderCell, Kind } from './columns.js';
import { recordsOf } from './records.js';

export interface Column {
  readonly index: number;
  /** As it stands in the header. */
  readonly text: string;
  /** The unit in brackets behind the name; null: none. */
  readonly unit: string | null;
}

export interface Header {
  readonly delimiter: string;
  readonly line: number;
  /** Where the rows begin. */
  readonly body: { readonly offset: number; readonly line: number };
  /** Lines of titles and comments above the header that hold text. */
  readonly titleLines: number;
  readonly cells: readonly HeaderCell[];
  /** By the contract's column name. */
  readonly columns: ReadonlyMap<string, Column>;
}

/** Titles and comments above the header take at most this many lines. */
const MOST_TITLE_LINES = 50;
const DELIMITERS = [',', ';', '\t'];

interface Candidate {
  readonly delimiter: string;
  readonly line: number;
  readonly cells: readonly string[];
  readonly known: number;
}

/**
 * The header is the line in which most cells are columns of the kind, at least two; the delimiter is the one
 * that makes them so, unless a first line `sep=;` states it.
 *
 * @param text With LF line ends.
 * @returns null when the file cannot be read on: CSV_EMPTY; CSV_DELIMITER_UNCLEAR; CSV_COLUMN_MISSING. Other
 *   findings about columns are reported and leave the header usable for the columns that are sound.
 */
export function readHeader(text: string, entry: FileEntry, findings: Findings): Header | null {
  const file = entry.file;
  if (text.trim() === '') {
    findings.error('CSV_EMPTY', {}, { file });
    return null;
  }
  const stated = /^"?sep=(.)"?[ \t]*(?:\n|$)/i.exec(text);
  const start = stated === null ? { offset: 0, line: 1 } : { offset: stated[0].length, line: 2 };
  if (stated !== null && !/[,;\t|]/.test(stated[1]!)) {
    findings.error('CSV_DELIMITER_UNCLEAR', { found: stated[0].trim() }, { file, row: 1 });
    return null;
  }
  const found = bestCandidate(text, start, stated === null ? DELIMITERS : [stated[1]!], entry.kind);
  if (found === null) {
    reportNoHeader(text, start, entry, findings);
    return null;
  }
  const cells = found.cells.map(readHeaderCell);
  const columns = nameColumns(cells, found.line, entry, findings);
  if (reportMissing(cells, found.line, entry, findings)) return null;
  const body = bodyAfter(text, start, found);
  return {
    delimiter: found.delimiter,
    line: found.line,
    body,
    titleLines: titleLines(text, start, found.line),
    cells,
    columns,
  };
}

const ignore = (): void => undefined;

function bestCandidate(
  text: string,
  start: { readonly offset: number; readonly line: number },
  delimiters: readonly string[],
  kind: Kind,
): Candidate | null {
  let best: Candidate | null = null;
  for (const delimiter of delimiters) {
    let seen = 0;
    for (const { line, cells } of recordsOf(top(text), delimiter, start, ignore)) {
      if (seen++ > MOST_TITLE_LINES) break;
      const known = cells.filter((cell) => columnNamed(kind, readHeaderCell(cell)) !== undefined).length;
      if (known >= 2 && known > (best?.known ?? 0)) best = { delimiter, line, cells, known };
    }
  }
  return best;
}

/** Enough of the text to hold a header: the search need not walk a file of millions of rows. */
const top = (text: string): string => text.slice(0, 200_000);

function bodyAfter(
  text: string,
  start: { readonly offset: number; readonly line: number },
  header: Candidate,
): { offset: number; line: number } {
  let next: { offset: number; line: number } | null = null;
  let offset = start.offset;
  let line = start.line;
  while (line < header.line) {
    offset = text.indexOf('\n', offset) + 1;
    line++;
  }
  const quotedLines = header.cells.reduce((n, cell) => n + (cell.match(/\n/g)?.length ?? 0), 0);
  for (let i = 0; i <= quotedLines; i++) {
    const end = text.indexOf('\n', offset);
    offset = end < 0 ? text.length : end + 1;
    line++;
    next = { offset, line };
  }
  return next!;
}

const titleLines = (
  text: string,
  start: { readonly offset: number; readonly line: number },
  header: number,
): number =>
  text
    .slice(start.offset)
    .split('\n', header - start.line)
    .filter((line) => line.trim() !== '').length;

function reportNoHeader(
  text: string,
  start: { readonly offset: number; readonly line: number },
  entry: FileEntry,
  findings: Findings,
): void {
  const lines = text.slice(start.offset, start.offset + 100_000).split('\n');
  const skipped = lines.findIndex((line) => line.trim() !== '');
  const row = start.line + Math.max(skipped, 0);
  const found = (lines[skipped] ?? '').trim().slice(0, 80);
  const wanted = neededColumns[entry.kind].map((group) => group[0]!.join(', ')).join(', ');
  findings.error('CSV_COLUMN_MISSING', { column: wanted, found }, { file: entry.file, row });
}

/** Reports: CSV_COLUMN_DUPLICATE, CSV_COLUMN_UNKNOWN, CSV_COLUMNS_CLASH, CSV_UNIT_CLASH, UNIT_UNKNOWN. */
function nameColumns(
  cells: readonly HeaderCell[],
  row: number,
  entry: FileEntry,
  findings: Findings,
): Map<string, Column> {
  const columns = new Map<string, Column>();
  const place = (column: string) => ({ file: entry.file, row, column });
  for (const [index, cell] of cells.entries()) {
    if (cell.key === '') continue;
    const name = columnNamed(entry.kind, cell);
    if (name === undefined) {
      const unused = columnsOf[entry.kind].filter(
        (c) => !cells.some((other) => columnNamed(entry.kind, other) === c),
      );
      const near = nearest(
        cell.key,
        unused.map((c) => c.replace('_', '')),
      );
      const data = {
        column: cell.text,
        nearest: unused.find((c) => c.replace('_', '') === near) ?? '',
        wanted: columnsOf[entry.kind].join(', '),
      };
      findings.error('CSV_COLUMN_UNKNOWN', data, place(cell.text));
    } else if (columns.has(name)) {
      findings.error('CSV_COLUMN_DUPLICATE', { column: name }, place(cell.text));
    } else {
      columns.set(name, {
        index,
        text: cell.text,
        unit: headerUnit(name, cell, entry, place(cell.text), findings),
      });
    }
  }
  const wide = ['vertical', 'horizontal', 'along'].find((c) => columns.has(c));
  const long = ['axis', 'reading'].find((c) => columns.has(c));
  if (entry.kind === 'offset' && wide !== undefined && long !== undefined) {
    findings.error('CSV_COLUMNS_CLASH', { one: wide, other: long }, place(columns.get(long)!.text));
  }
  return columns;
}

/** A unit in brackets counts where it fits the column and does not contradict the job's entry for the file. */
function headerUnit(
  name: string,
  cell: HeaderCell,
  entry: FileEntry,
  place: { file: string; row: number; column: string },
  findings: Findings,
): string | null {
  if (cell.bracket === null || cell.bracket === '' || !(isReading(name) || isPosition(name))) return null;
  const family = name === 'slope' ? 'slope' : 'length';
  const fits = cell.unit !== null && (family === 'slope' ? isSlopeUnit(cell.unit) : isLengthUnit(cell.unit));
  if (!fits) {
    const wanted = `one of ${unitNames(family).join(' ')} in the brackets`;
    findings.error('UNIT_UNKNOWN', { found: cell.bracket, wanted }, place);
    return null;
  }
  if (isReading(name) && entry.unitStated && cell.unit !== entry.unit) {
    findings.error('CSV_UNIT_CLASH', { column: name, header: cell.unit!, entry: entry.unit }, place);
    return null;
  }
  return cell.unit;
}

/**
 * Whether something is missing without which no row can be read. Reports: CSV_COLUMN_MISSING, except where an
 * unknown column has been reported that looks like the missing one.
 */
function reportMissing(
  cells: readonly HeaderCell[],
  row: number,
  entry: FileEntry,
  findings: Findings,
): boolean {
  const has = (column: string) => cells.some((cell) => columnNamed(entry.kind, cell) === column);
  const suspected = new Set(
    findings.list.flatMap((d) =>
      d.code === 'CSV_COLUMN_UNKNOWN' && 'nearest' in d.data ? [d.data.nearest] : [],
    ),
  );
  const found = cells
    .map((cell) => cell.text)
    .filter((text) => text !== '')
    .join(', ')
    .slice(0, 200);
  let missing = false;
  for (const alternatives of neededColumns[entry.kind]) {
    if (alternatives.some((columns) => columns.every(has))) continue;
    missing = true;
    if (alternatives.flat().some((column) => suspected.has(column))) continue;
    const column = alternatives.map((columns) => columns.join(' with ')).join(', or ');
    findings.error('CSV_COLUMN_MISSING', { column, found }, { file: entry.file, row });
  }
  return missing;
}
