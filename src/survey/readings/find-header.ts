/** Finds the header line of a readings file, and with it the delimiter. */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import { neededColumns } from '../job/columns.js';
import type { TextPlace } from './layout.js';
import { isHeaderLike, isRowLike, knownCells } from './table-doubts.js';
import { recordsOf, type CsvRecord } from './records.js';

export interface FoundHeader {
  readonly delimiter: string;
  readonly line: number;
  readonly cells: readonly string[];
  /** Where the rows begin. */
  readonly body: TextPlace;
  /** Lines of titles and comments above the header that hold text. */
  readonly titleLines: number;
}

/** Greatest number of records of titles and comments above the header. */
const MOST_TITLES = 50;
/** Number of characters that are searched, so that a file of millions of rows is not read as a whole. */
const TOP = 200_000;
const DELIMITERS = [',', ';', '\t'];

/**
 * The header is the record in which most cells are columns of the kind or named by the mapping, at least two; the delimiter is the one
 * that makes them so, unless a first line `sep=;` states it.
 *
 * @param text With LF line ends.
 * @returns null when there is none: CSV_EMPTY; CSV_DELIMITER_UNCLEAR; CSV_COLUMN_MISSING.
 */
export function findHeader(text: string, entry: FileEntry, findings: Findings): FoundHeader | null {
  const file = entry.file;
  if (text.trim() === '') {
    findings.error('CSV_EMPTY', {}, { file });
    return null;
  }
  const stated = /^"?sep=(.)"?[ \t]*(?:\n|$)/i.exec(text);
  if (stated !== null && !/[,;\t|]/.test(stated[1]!)) {
    findings.error('CSV_DELIMITER_UNCLEAR', { found: stated[0].trim() }, { file, row: 1 });
    return null;
  }
  const start: TextPlace = stated === null ? { offset: 0, line: 1 } : { offset: stated[0].length, line: 2 };
  const isKnown = knownCells(entry);
  const found = bestRecord(text, start, stated === null ? DELIMITERS : [stated[1]!], isKnown);
  if (found === null) {
    reportNoHeader(text, start, entry, findings);
    return null;
  }
  const { delimiter, record } = found;
  if (reportRowsAbove(text, start, found, isKnown, file, findings)) return null;
  return {
    delimiter,
    line: record.line,
    cells: record.cells,
    body: { offset: record.nextOffset, line: record.nextLine },
    titleLines: linesWithText(text, start, record.line).length,
  };
}

/**
 * Rows of readings above the header, with or without their own header: they would be treated as titles. Two rows or more, or one
 * under another header. Reports: CSV_ROWS_ABOVE_HEADER.
 */
function reportRowsAbove(
  text: string,
  start: TextPlace,
  { delimiter, record: header }: Candidate,
  isKnown: (cell: string) => boolean,
  file: string,
  findings: Findings,
): boolean {
  let underHeader = false;
  const rows: CsvRecord[] = [];
  for (const record of recordsOf(text.slice(0, TOP), delimiter, start, () => undefined, MOST_TITLES + 1)) {
    if (record.line >= header.line) break;
    if (isHeaderLike(record.cells, isKnown)) underHeader = true;
    else if (isRowLike(record.cells, header.cells)) rows.push(record);
  }
  if (rows.length < (underHeader ? 1 : 2)) return false;
  const found = rows[0]!.cells.join(delimiter).slice(0, 120);
  const data = { count: rows.length, found, header: header.line };
  findings.error('CSV_ROWS_ABOVE_HEADER', data, { file, row: rows[0]!.line });
  return true;
}

interface Candidate {
  readonly delimiter: string;
  readonly record: CsvRecord;
  readonly known: number;
}

function bestRecord(
  text: string,
  start: TextPlace,
  delimiters: readonly string[],
  isKnown: (cell: string) => boolean,
): Candidate | null {
  const top = text.slice(0, TOP);
  let best: Candidate | null = null;
  for (const delimiter of delimiters.filter((d) => top.includes(d))) {
    for (const record of recordsOf(top, delimiter, start, () => undefined, MOST_TITLES + 1)) {
      const known = record.cells.filter(isKnown).length;
      if (known >= 2 && known > (best?.known ?? 0)) best = { delimiter, record, known };
    }
  }
  return best;
}

const linesWithText = (text: string, start: TextPlace, before: number): string[] =>
  text
    .slice(start.offset, start.offset + TOP)
    .split('\n', before - start.line)
    .filter((line) => line.trim() !== '');

function reportNoHeader(text: string, start: TextPlace, entry: FileEntry, findings: Findings): void {
  const { line, found } = likelyHeader(text.slice(0, TOP), start);
  const wanted = [...wantedHeaders(entry)].slice(0, 20).join(', ');
  const data = { column: wanted, found: found.slice(0, 200) };
  findings.error('CSV_COLUMN_MISSING', data, { file: entry.file, row: line });
}

/** For the message: the line with the most cells of which all are words; else the first line that is not empty. */
function likelyHeader(top: string, start: TextPlace): { line: number; found: string } {
  const lines = top.slice(start.offset).split('\n');
  const first = Math.max(
    lines.findIndex((line) => line.trim() !== ''),
    0,
  );
  let most = 1;
  let likely = { line: start.line + first, found: lines[first]!.trim().slice(0, 80) };
  for (const delimiter of DELIMITERS) {
    for (const { cells, line } of recordsOf(top, delimiter, start, () => undefined, MOST_TITLES)) {
      const named = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
      if (named.length <= most || !named.every((cell) => /\p{L}/u.test(cell))) continue;
      most = named.length;
      likely = { line, found: named.join(', ') };
    }
  }
  return likely;
}

/** The expected columns of a header: those of the mapping, or those that the kind needs. */
function wantedHeaders({ kind, mapping }: FileEntry): Set<string> {
  const mapped = (mapping?.rows ?? []).flatMap(({ columns }) => [...columns.values()].map((c) => c.header));
  return new Set(mapped.length > 0 ? mapped : neededColumns[kind].flatMap((group) => group[0]!));
}
