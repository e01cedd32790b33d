/**
 * The records of a CSV text with the physical line on which each begins. Record ends are found here, cells
 * are taken apart by csv-parse, strictly: every record must come back with the number of cells counted here.
 */
import { groupBy } from '../../base/lists.js';
import { parse } from 'csv-parse/sync';

export interface CsvRecord {
  /** Line of the file, from 1, on which the record begins. */
  readonly line: number;
  /** As they are, without their quotes; one empty cell for a blank line. */
  readonly cells: readonly string[];
  /** true: a line end follows. Only the last record of a file may have none. */
  readonly ended: boolean;
  /** Where the next record begins. */
  readonly nextOffset: number;
  readonly nextLine: number;
}

export type RecordProblem =
  | { readonly kind: 'quote-open'; readonly line: number }
  | { readonly kind: 'quote-stray'; readonly line: number; readonly found: string }
  | { readonly kind: 'too-long'; readonly line: number; readonly characters: number };

/** Longest record, in characters; readings rows are some 50 to 200 long. */
export const MAX_RECORD = 100_000;

/** Records are handed on in batches of this size, each taken apart by few calls of csv-parse. */
const BATCH = 4096;

/** CR LF and CR become LF, in quoted cells too, so that files of mixed line ends count lines alike. */
export const unifyLineEnds = (text: string): string =>
  text.includes('\r') ? text.replace(/\r\n?/g, '\n') : text;

/**
 * @param text With LF line ends.
 * @param from Where to begin: offset of a record's first character, and its line.
 * @param report Called for records that cannot be taken apart; reading continues with the next line, except
 *   after a quote that is never closed, which swallows the rest.
 * @param most Records beyond these are not looked at.
 */
export function* recordsOf(
  text: string,
  delimiter: string,
  from: { readonly offset: number; readonly line: number },
  report: (problem: RecordProblem) => void,
  most = Infinity,
): Generator<CsvRecord> {
  let batch: RawRecord[] = [];
  let left = most;
  for (const raw of rawRecords(text, delimiter, from, report)) {
    if (left-- <= 0) break;
    batch.push(raw);
    if (batch.length < BATCH) continue;
    yield* takeApart(batch, delimiter);
    batch = [];
  }
  yield* takeApart(batch, delimiter);
}

interface RawRecord {
  readonly line: number;
  readonly text: string;
  /** Counted for records with quotes; 0: it has no quotes, so every delimiter counts. */
  readonly quotedCells: number;
  readonly ended: boolean;
  readonly nextOffset: number;
  readonly nextLine: number;
}

function* rawRecords(
  text: string,
  delimiter: string,
  from: { readonly offset: number; readonly line: number },
  report: (problem: RecordProblem) => void,
): Generator<RawRecord> {
  let { offset, line } = from;
  let quote = text.indexOf('"', offset);
  while (offset < text.length) {
    const newline = text.indexOf('\n', offset);
    let end = newline < 0 ? text.length : newline;
    if (quote >= 0 && quote < offset) quote = text.indexOf('"', offset);
    let quotedCells = 0;
    let lines = 1;
    let faulty = false;
    if (quote >= 0 && quote < end) {
      const scanned = scanQuoted(text, offset, line, delimiter);
      if ('problem' in scanned) {
        report(scanned.problem);
        if (scanned.problem.kind === 'quote-open') return;
        faulty = true;
      } else ({ end, cells: quotedCells, lines } = scanned);
    }
    if (end - offset > MAX_RECORD) {
      report({ kind: 'too-long', line, characters: end - offset });
      faulty = true;
    }
    const [nextOffset, nextLine] = [Math.min(end + 1, text.length), line + lines];
    if (!faulty) {
      yield {
        line,
        text: text.slice(offset, end),
        quotedCells,
        ended: end < text.length,
        nextOffset,
        nextLine,
      };
    }
    [offset, line] = [nextOffset, nextLine];
  }
}

type Scanned =
  | { readonly end: number; readonly cells: number; readonly lines: number }
  | { readonly problem: RecordProblem };

/** Finds the end of a record with quotes: RFC 4180, where a quoted cell is quoted as a whole; and inch marks. */
function scanQuoted(text: string, offset: number, line: number, delimiter: string): Scanned {
  let cells = 1;
  let lines = 1;
  let i = offset;
  for (;;) {
    if (text[i] === '"') {
      const close = closingQuote(text, i);
      if (close < 0) return { problem: { kind: 'quote-open', line: line + lines - 1 } };
      for (let n = text.indexOf('\n', i); n >= 0 && n < close; n = text.indexOf('\n', n + 1)) lines++;
      i = close + 1;
    } else {
      while (i < text.length && text[i] !== delimiter && text[i] !== '\n' && text[i] !== '"') i++;
      if (text[i] === '"') i = afterInchMark(text, i, delimiter) ?? i;
    }
    if (i >= text.length || text[i] === '\n') return { end: i, cells, lines };
    if (text[i] !== delimiter) return { problem: strayQuote(text, i, line + lines - 1, delimiter) };
    cells++;
    i++;
  }
}

/** `0.010"`: a quote directly after a digit and last in its cell is an inch mark. null: it is none. */
function afterInchMark(text: string, quote: number, delimiter: string): number | null {
  if (!/\d/.test(text[quote - 1] ?? '')) return null;
  let i = quote + 1;
  while (text[i] === ' ') i++;
  return i >= text.length || text[i] === delimiter || text[i] === '\n' ? i : null;
}

function closingQuote(text: string, open: number): number {
  let close = text.indexOf('"', open + 1);
  while (close >= 0 && text[close + 1] === '"') close = text.indexOf('"', close + 2);
  return close;
}

/** The cell with a quote in a wrong place, from the last delimiter of its line to the next one. */
function strayQuote(text: string, at: number, line: number, delimiter: string): RecordProblem {
  const lineStart = text.lastIndexOf('\n', at) + 1;
  const start = Math.max(lineStart, text.lastIndexOf(delimiter, at) + 1);
  const newline = text.indexOf('\n', at);
  const next = text.indexOf(delimiter, at);
  const ends = [newline, next, start + 60].filter((n) => n >= 0);
  return { kind: 'quote-stray', line, found: text.slice(start, Math.min(...ends)) };
}

function* takeApart(batch: readonly RawRecord[], delimiter: string): Generator<CsvRecord> {
  const quoted = takeApartQuoted(batch, delimiter);
  for (const [i, { line, text, ended, nextOffset, nextLine }] of batch.entries()) {
    yield { line, cells: quoted.get(i) ?? text.split(delimiter), ended, nextOffset, nextLine };
  }
}

/** By place in the batch, the cells of records with quotes: one strict call for each number of cells. */
function takeApartQuoted(batch: readonly RawRecord[], delimiter: string): Map<number, string[]> {
  const byCount = groupBy(batch.keys(), (i) => batch[i]!.quotedCells || null);
  const cells = new Map<number, string[]>();
  for (const [count, places] of byCount) {
    const text = places.map((i) => batch[i]!.text).join('\n');
    const rows = parse(text, {
      delimiter,
      record_delimiter: '\n',
      quote: '"',
      escape: '"',
      // Inch marks; any other quote in a wrong place has been reported.
      relax_quotes: true,
      max_record_size: 0,
    });
    if (rows.length !== places.length || rows.some((row) => row.length !== count)) {
      throw new Error(
        `csv-parse sees ${rows.length} records where ${places.length} of ${count} cells were counted`,
      );
    }
    rows.forEach((row, k) => cells.set(places[k]!, row));
  }
  return cells;
}
