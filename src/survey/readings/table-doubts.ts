/**
 * What a whole file shows about itself that no single row does: a second table in it, rows lost above the header, numbers
 * that a comma has cut in two, cells that were merged, rows that are there twice. Each can change a verdict without notice.
 */
import type { Findings, Place } from '../../base/diagnostics/diagnostic.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import { columnNamed, isReading, normalHeader, readHeaderCell } from '../job/columns.js';
import { textOf, type Column, type Header } from './layout.js';
import type { CsvRecord } from './records.js';
import { readUse } from '../../base/input/use.js';
import { tenTo } from '../../base/statistics/power.js';

/** If this number of rows in order is there again, a block was pasted; fewer may be real repeats. */
const FEWEST_PASTED = 5;
/** The same of rows that tell the time: nobody reads one point twice in the same minute. */
const FEWEST_TIMED = 2;
/** So many rows show how a column is filled. */
const FEWEST_ROWS = 6;

/** So many blank cells below a filled one, of one set-up and rail, are a cell that was merged. */
const FEWEST_MERGED = 3;

/** A blank cell of these columns means this, whatever is above it. */
const BLANK_MEANS: Readonly<Record<string, string>> = { target: 'T', pass: '1' };

const PLAIN_NUMBER = /^[+\-\u2212]?[\d.,\u00a0 ]*\d$/;
const WHOLE = /^[+\-\u2212]?\d+$/;
const DIGITS = /^\d+$/;

/** Whether a record names columns and holds no number: a header, whether or not it is the file's own. */
export function isHeaderLike(cells: readonly string[], isKnown: (cell: string) => boolean): boolean {
  const filled = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  return filled.filter(isKnown).length >= 2 && !filled.some((cell) => PLAIN_NUMBER.test(cell));
}

/** true: a record above the header could be a row below it. */
export function isRowLike(cells: readonly string[], header: readonly string[]): boolean {
  const numbers = cells.filter((cell) => PLAIN_NUMBER.test(cell.trim())).length;
  const filled = cells.filter((cell) => cell.trim() !== '').length;
  return cells.length >= header.length - 2 && numbers >= 2 && filled >= 4;
}

/** Whether a cell is a column of the kind, or one that the mapping names. */
export function knownCells({ kind, mapping }: FileEntry): (cell: string) => boolean {
  const rows = mapping?.rows ?? [];
  const mapped = rows.flatMap(({ columns }) => [...columns.values()].map(({ header }) => header));
  const headers = new Set([...mapped, ...(mapping?.ignore ?? [])].map(normalHeader));
  const isKnown = (cell: string) =>
    (headers.size > 0 && headers.has(normalHeader(cell))) ||
    (/[a-z]/i.test(cell) && columnNamed(kind, readHeaderCell(cell)) !== undefined);
  // Rows of readings say the same few words over and over.
  const seen = new Map<string, boolean>();
  return (cell) => {
    const known = seen.get(cell) ?? isKnown(cell);
    seen.set(cell, known);
    return known;
  };
}

interface Filled {
  readonly column: Column;
  readonly means: string;
  readonly isPass: boolean;
  /** Columns whose change begins another block of rows. */
  readonly block: readonly Column[];
  place: string;
  above: string;
  /** Points that were read with a blank cell, and how many of them again with one. */
  readonly points: Set<string>;
  again: number;
  /** The last filled cell, in whatever block. */
  last: string;
  /** Blank cells below one that says something else than a blank does; and how many of them in a row now, and at most. */
  blank: number;
  run: number;
  longest: number;
  first: { readonly row: number; readonly above: string } | null;
}

interface Split {
  readonly column: Column;
  readonly next: number;
  /** true: the next column should not hold digits alone. */
  readonly isText: boolean;
  /** With the place of each: its series, and its station there. */
  readonly tails: { readonly series: string; readonly station: number; readonly digits: string }[];
  whole: number;
  filled: number;
  first: { readonly row: number; readonly found: string } | null;
}

/** Columns that say which point of which pass a row reads. */
const SERIES = ['setup', 'rail', 'monument', 'target', 'pass'] as const;

/** Columns that say where a reading was taken, and in which run. */
const PLACES: ReadonlySet<string> = new Set([...SERIES, 'station', 'position']);

/** Takes the rows of one file in their order, and says at the end what they show. */
export class TableDoubts {
  private rows = 0;
  private readonly isKnown: (cell: string) => boolean;
  private readonly filled: Filled[];
  private readonly splits: Split[];
  /** By what a row says, without its note: its place in the order, and its line. */
  private readonly seen = new Map<string, { readonly order: number; readonly row: number }>();
  private run: { row: number; first: number; length: number; next: number; timed: boolean } | null = null;
  private readonly pasted: { row: number; first: number; count: number }[] = [];
  private readonly series: readonly Column[];
  private readonly station: Column | undefined;
  private readonly use: Column | undefined;
  private readonly time: Column | undefined;
  private readonly note: Column | undefined;
  private readonly readings: readonly Column[];

  constructor(
    private readonly header: Header,
    private readonly entry: FileEntry,
    private readonly findings: Findings,
  ) {
    this.isKnown = knownCells(entry);
    const [layout] = header.layouts;
    const columns = [...(layout?.columns ?? [])];
    const block = (own: string) =>
      ['setup', 'rail', 'pass'].flatMap((name) => (name === own ? [] : (layout?.columns.get(name) ?? [])));
    this.series = SERIES.flatMap((name) => layout?.columns.get(name) ?? []);
    this.station = layout?.columns.get('station');
    this.use = layout?.columns.get('use');
    this.time = layout?.columns.get('time');
    this.note = layout?.columns.get('note');
    this.readings = header.layouts.flatMap(({ columns: own }) =>
      [...own].flatMap(([name, column]) => (isReading(name) ? [column] : [])),
    );
    this.filled = columns.flatMap(([name, column]) => {
      const means = BLANK_MEANS[name];
      return means === undefined
        ? []
        : [
            {
              column,
              means,
              isPass: name === 'pass',
              block: block(name),
              place: '',
              above: '',
              points: new Set(),
              again: 0,
              last: '',
              blank: 0,
              run: 0,
              longest: 0,
              first: null,
            },
          ];
    });
    this.splits =
      header.delimiter !== ','
        ? []
        : header.layouts.flatMap(({ columns: own }) =>
            [...own]
              .filter(([name, column]) => isReading(name) && !this.isOfPlaces(column.index + 1))
              .map(([, column]) => ({
                column,
                next: column.index + 1,
                isText: this.isText(column.index + 1),
                tails: [],
                whole: 0,
                filled: 0,
                first: null,
              })),
          );
  }

  private isText(index: number): boolean {
    const names = this.namesAt(index);
    return names.includes('note') || names.includes('use');
  }

  /** Whole numbers are right there; decimals that were cut off into it would name places that do not exist. */
  private isOfPlaces(index: number): boolean {
    return this.namesAt(index).some((name) => PLACES.has(name));
  }

  private namesAt(index: number): string[] {
    return this.header.layouts.flatMap(({ columns }) =>
      [...columns].filter(([, column]) => column.index === index).map(([name]) => name),
    );
  }

  /** @returns Whether the record is a row: a second header is none, and has been reported. */
  add(record: CsvRecord): boolean {
    const { cells, line } = record;
    if (isHeaderLike(cells, this.isKnown)) {
      const found = cells
        .filter((cell) => cell.trim() !== '')
        .join(', ')
        .slice(0, 120);
      this.findings.error('CSV_SECOND_HEADER', { found, header: this.header.line }, this.at(line));
      return false;
    }
    this.rows++;
    for (const one of this.filled) this.addFilled(one, cells, line);
    for (const one of this.splits) this.addSplit(one, cells, line);
    this.addRepeat(cells, line);
    return true;
  }

  private at(row: number, column?: string): Place {
    return { file: this.entry.file, row, ...(column !== undefined && { column }) };
  }

  private seriesOf(cells: readonly string[]): string {
    return this.series.map((column) => textOf(cells, column)).join('\u0000');
  }

  private stationOf(cells: readonly string[]): string {
    return this.station === undefined ? '' : textOf(cells, this.station);
  }

  private addFilled(one: Filled, cells: readonly string[], row: number): void {
    const place = one.block.map((column) => textOf(cells, column)).join('\u0000');
    if (place !== one.place) one.above = '';
    one.place = place;
    const text = textOf(cells, one.column);
    if (text !== '') {
      one.above = text;
      one.last = text;
      one.run = 0;
      return;
    }
    // A pass whose cell was merged over several rails reads its points again, and no cell of theirs says so.
    const point = `${this.seriesOf(cells)}\u0000${this.stationOf(cells)}`;
    if (!one.points.has(point)) one.points.add(point);
    else if (one.isPass && one.last !== '' && one.last !== one.means) {
      one.again++;
      one.first ??= { row, above: one.last };
    }
    if (one.above === '' || one.above === one.means) return;
    one.blank++;
    one.longest = Math.max(one.longest, ++one.run);
    one.first ??= { row, above: one.above };
  }

  private addSplit(one: Split, cells: readonly string[], row: number): void {
    const head = (cells[one.column.index] ?? '').trim();
    const tail = (cells[one.next] ?? '').trim();
    if (head === '') return;
    one.filled++;
    if (!WHOLE.test(head) || !DIGITS.test(tail)) return;
    one.whole++;
    one.tails.push({
      series: this.seriesOf(cells),
      station: Number(this.stationOf(cells)),
      digits: tail,
    });
    one.first ??= { row, found: `${head},${tail}` };
  }

  /** A planned row that is not read yet repeats nothing. */
  private addRepeat(cells: readonly string[], row: number): void {
    if (this.readings.every((column) => textOf(cells, column) === '')) return this.endRun();
    const own = cells.map((cell, i) => (i === this.note?.index ? '' : cell.trim())).join('\u0000');
    const order = this.rows;
    const before = this.seen.get(own);
    if (before === undefined) this.seen.set(own, { order, row });
    const isLeftOut = this.use !== undefined && readUse(textOf(cells, this.use)) === false;
    if (before !== undefined && this.run !== null && before.order === this.run.next) {
      this.run.length++;
      this.run.next++;
      return;
    }
    this.endRun();
    if (before === undefined || isLeftOut) return;
    const timed = this.time !== undefined && /\d\d:\d\d/.test(textOf(cells, this.time));
    this.run = { row, first: before.row, length: 1, next: before.order + 1, timed };
  }

  private endRun(): void {
    if (this.run === null) return;
    const { row, first, length, timed } = this.run;
    this.run = null;
    if (length >= (timed ? FEWEST_TIMED : FEWEST_PASTED)) this.pasted.push({ row, first, count: length });
    else this.findings.warn('ROW_DOUBLED', { first }, this.at(row));
  }

  /** Reports: ROWS_REPEATED, CSV_DECIMALS_SPLIT, CSV_CELLS_BLANK. */
  finish(): void {
    this.endRun();
    if (this.pasted.length > 0) {
      const count = this.pasted.reduce((sum, p) => sum + p.count, 0);
      const { row, first } = this.pasted[0]!;
      this.findings.ask('ROWS_REPEATED', { count, first }, this.at(row));
    }
    for (const one of this.splits) this.reportSplit(one);
    for (const { column, blank, again, longest, first } of this.filled) {
      if (first === null || Math.max(again, longest) < FEWEST_MERGED) continue;
      const data = {
        column: column.text,
        blank: Math.max(blank, again),
        rows: this.rows,
        first: first.above,
      };
      this.findings.ask('CSV_CELLS_BLANK', data, this.at(first.row, column.text));
    }
  }

  private reportSplit({ column, isText, tails, whole, filled, first }: Split): void {
    if (first === null || whole < FEWEST_ROWS || whole < 0.8 * filled) return;
    const data = { found: first.found, column: column.text, count: whole };
    const place = this.at(first.row, column.text);
    if (isText) this.findings.error('CSV_DECIMALS_SPLIT', data, place);
    else if (areTails(inOrder(tails))) this.findings.ask('CSV_DECIMALS_SPLIT', data, place);
  }
}

/** Rows may be in any order: along each series the stations follow each other. */
const inOrder = (tails: Split['tails']): string[] =>
  [...tails]
    .sort((a, b) => (a.series < b.series ? -1 : a.series > b.series ? 1 : a.station - b.station))
    .map(({ digits }) => digits);

/**
 * Whether whole numbers look like the decimals of others: none negative, and from row to row as unlike as chance makes
 * digits, where readings along a rail follow each other. A leading zero alone shows it.
 */
function areTails(tails: readonly string[]): boolean {
  if (tails.some((tail) => tail.length > 1 && tail.startsWith('0'))) return true;
  const digits = Math.max(...tails.map((tail) => tail.length));
  const values = tails.map(Number);
  const steps = values.slice(1).map((v, i) => v - values[i]!);
  const rms = Math.sqrt(steps.reduce((sum, step) => sum + step * step, 0) / Math.max(1, steps.length));
  return rms > 0.25 * tenTo(digits);
}
