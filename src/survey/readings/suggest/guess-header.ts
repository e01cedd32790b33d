/** The header of a file that has none of our names, with samples of the cells below it. */
import { Findings } from '../../../base/diagnostics/diagnostic.js';
import type { FileEntry } from '../../job/resolve-readings-files.js';
import { findHeader } from '../find-header.js';
import { recordsOf, type CsvRecord } from '../records.js';
import { isBelowReadings, labelOf } from '../rows-below.js';

export interface GuessedHeader {
  readonly line: number;
  readonly cells: readonly string[];
  /** The line above it, blank cells filled from the left, because merged cells may name groups there; empty: none. */
  readonly above: readonly string[];
  readonly delimiter: string;
  /** First text of rows without readings, each once. */
  readonly below: readonly string[];
  /** For each column, the cells below it, without blanks. */
  readonly samples: readonly (readonly string[])[];
}

const MOST_TITLES = 50;
const MOST_SAMPLES = 200;
const TOP = 200_000;
const START = { offset: 0, line: 1 };

/**
 * @param countPlaced How many cells of a record look like columns of readings.
 * @returns null: no line has at least two such cells.
 */
export function guessHeader(
  text: string,
  entry: FileEntry,
  countPlaced: (cells: readonly string[]) => number,
): GuessedHeader | null {
  const known = findHeader(text, entry, new Findings());
  const top = text.slice(0, TOP);
  const records = (delimiter: string) => firstRecords(top, delimiter);
  if (known !== null) return take(records(known.delimiter), known.delimiter, known.line);
  let best: { delimiter: string; line: number; placed: number } | null = null;
  for (const delimiter of [',', ';', '\t']) {
    for (const { cells, line } of records(delimiter).slice(0, MOST_TITLES)) {
      const named = cells.filter((cell) => /\p{L}/u.test(cell));
      if (named.length > 500 || ((named.length < 2 || isRow(cells)) && !isStationLine(cells))) continue;
      const placed = countPlaced(cells);
      if (placed >= 2 && placed > (best?.placed ?? 0)) best = { delimiter, line, placed };
    }
  }
  return best === null ? null : take(records(best.delimiter), best.delimiter, best.line);
}

const NUMBER = /^[+\-\u2212]?[\d.,]*\d$/;

/** A row of readings, whatever words are in it: numbers with a sign or decimals, or more numbers than words. */
function isRow(cells: readonly string[]): boolean {
  const filled = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  const numbers = filled.filter((cell) => NUMBER.test(cell));
  return numbers.some((cell) => /^[+\-\u2212]|[.,]/.test(cell)) || numbers.length > filled.length / 2;
}

/** A header whose columns are the stations: a name, then whole numbers that rise by one step. */
function isStationLine(cells: readonly string[]): boolean {
  const numbers = cells.flatMap((cell) =>
    /^\D*\d+(?:\s*\p{L}{1,2})?$/u.test(cell.trim()) ? [Number(/\d+/.exec(cell)![0])] : [],
  );
  const step = (numbers[1] ?? 0) - (numbers[0] ?? 0);
  return (
    numbers.length >= 3 &&
    numbers.length >= cells.length - 6 &&
    step > 0 &&
    numbers.every((value, k) => k === 0 || value - numbers[k - 1]! === step) &&
    /\p{L}/u.test(cells[0] ?? '')
  );
}

function firstRecords(top: string, delimiter: string): CsvRecord[] {
  const list: CsvRecord[] = [];
  for (const record of recordsOf(top, delimiter, START, () => undefined)) {
    list.push(record);
    if (list.length >= MOST_TITLES + MOST_SAMPLES) break;
  }
  return list;
}

function take(records: readonly CsvRecord[], delimiter: string, line: number): GuessedHeader | null {
  const at = records.findIndex((record) => record.line === line);
  if (at < 0) return null;
  const cells = records[at]!.cells.map((cell) => cell.trim());
  const filled = records.slice(at + 1).filter((record) => record.cells.some((cell) => cell.trim() !== ''));
  const rows = filled.filter((record) => !isBelowReadings(record.cells));
  const below = filled
    .filter((record) => isBelowReadings(record.cells))
    .map((record) => labelOf(record.cells));
  return {
    line,
    cells,
    above: at === 0 ? [] : filledFromLeft(records[at - 1]!.cells, cells.length),
    delimiter,
    below: [...new Set(below)],
    samples: cells.map((_, i) =>
      rows.map((row) => (row.cells[i] ?? '').trim()).filter((cell) => cell !== ''),
    ),
  };
}

function filledFromLeft(cells: readonly string[], length: number): string[] {
  let last = '';
  return Array.from({ length }, (_, i) => {
    const cell = (cells[i] ?? '').trim();
    if (cell !== '') last = cell;
    return cells.length < 2 ? '' : last;
  });
}
