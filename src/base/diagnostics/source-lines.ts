/** The lines of an input file, for pages that show where a problem is. */
import type { Place } from './diagnostic.js';

export interface SourceLines {
  /** From line 1. */
  readonly lines: readonly string[];
  /** The delimiter between cells; null: a file without cells, such as job.json. */
  readonly delimiter: string | null;
  /** Line of the header; 0: there is none. */
  readonly headerRow: number;
  /** Names of the columns as diagnostics give them, from left to right. */
  readonly columns: readonly string[];
}

/** What to mark on a line, as the place of a diagnostic names it. */
export type Mark = Pick<Place, 'column' | 'character'>;

/** A piece of a line; `marked`: the problem is here. */
export interface Piece {
  readonly text: string;
  readonly marked: boolean;
}

/** Most lines of one record that are shown. */
const MAX_LINES = 5;
/** Characters. Longer lines are cut to the cells around the marks. */
const MAX_LINE_CHARACTERS = 220;
const MAX_CELL_CHARACTERS = 80;
/** Cells that are kept on each side of a mark. */
const CELLS_AROUND = 5;

/**
 * The line as it is in the file, in pieces.
 *
 * @param marks Places of the problems on this line. A mark without a column, or with an unknown one, marks nothing.
 * @returns null: the file has no such line.
 */
export function piecesOf(source: SourceLines, row: number, marks: readonly Mark[]): Piece[] | null {
  const line = source.lines[row - 1];
  if (line === undefined) return null;
  if (source.delimiter === null) return keyPieces(line, marks);
  const cells = cellsAt(source.lines, row, source.delimiter);
  const marked = new Set(
    marks.map(({ column }) => source.columns.indexOf(column ?? '')).filter((i) => i >= 0),
  );
  // A cell that the row does not have is marked after its end.
  const last = Math.min(Math.max(cells.length - 1, ...marked), source.columns.length - 1);
  const all = Array.from({ length: Math.max(cells.length, last + 1) }, (_, i) => cells[i] ?? '');
  const length = all.reduce((sum, cell) => sum + cell.length + 1, 0);
  const kept = (i: number) =>
    length <= MAX_LINE_CHARACTERS ||
    [...marked].some((m) => Math.abs(i - m) <= CELLS_AROUND) ||
    (marked.size === 0 && i < 2 * CELLS_AROUND);
  const pieces: Piece[] = [];
  for (const [i, cell] of all.entries()) {
    const before = i > 0 && kept(i - 1);
    if (!kept(i)) {
      if (i === 0 || before) pieces.push({ text: `${i === 0 ? '' : source.delimiter} … `, marked: false });
      continue;
    }
    if (before) pieces.push({ text: source.delimiter, marked: false });
    pieces.push({ text: cut(cell), marked: marked.has(i) });
  }
  return pieces;
}

const cut = (cell: string): string =>
  cell.length <= MAX_CELL_CHARACTERS ? cell : `${cell.slice(0, MAX_CELL_CHARACTERS - 1)}…`;

/** The cells of a record as they are in the file, with quotes. A record with line ends in quoted cells has several lines. */
function cellsAt(lines: readonly string[], row: number, delimiter: string): string[] {
  let text = lines[row - 1]!;
  let split = splitRecord(text, delimiter);
  for (let k = row; k < Math.min(lines.length, row + MAX_LINES - 1) && split.isOpen; k++) {
    text += `\n${lines[k]!}`;
    split = splitRecord(text, delimiter);
  }
  return split.cells;
}

function splitRecord(text: string, delimiter: string): { cells: string[]; isOpen: boolean } {
  const cells: string[] = [];
  let cell = '';
  let isOpen = false;
  for (const c of text.slice(0, 100_000)) {
    // A quote that is not the first character of its cell is a character of the text, such as the sign for inches.
    if (c === '"') isOpen = !isOpen && (cell === '' || cell.startsWith('"'));
    if (c === delimiter && !isOpen) {
      cells.push(cell);
      cell = '';
    } else cell += c;
  }
  return { cells: [...cells, cell], isOpen };
}

/** In a JSON file: the keys with their values. The key is the last step of the path that a diagnostic has as its column. */
function keyPieces(line: string, marks: readonly Mark[]): Piece[] {
  const shown = line.length <= MAX_LINE_CHARACTERS ? line : `${line.slice(0, MAX_LINE_CHARACTERS - 1)}…`;
  const stretches = marks.flatMap((mark) => stretchOf(shown, mark) ?? []).sort((a, b) => a.from - b.from);
  const pieces: Piece[] = [];
  let at = 0;
  for (const { from, to } of stretches) {
    if (from < at) continue;
    if (from > at) pieces.push({ text: shown.slice(at, from), marked: false });
    pieces.push({ text: shown.slice(from, to), marked: true });
    at = to;
  }
  return at < shown.length || pieces.length === 0
    ? [...pieces, { text: shown.slice(at), marked: false }]
    : pieces;
}

/** @returns null: the mark is not on the line. */
function stretchOf(line: string, { column = '', character }: Mark): { from: number; to: number } | null {
  // The place of a mistake in the JSON itself is only a character number.
  const place = /^character (\d+)$/.exec(column)?.[1];
  if (place !== undefined) {
    const from = Math.min(Number(place) - 1, line.length);
    return { from, to: Math.max(from + 1, endOfValue(line, from)) };
  }
  const key = /([^.[\]"]+)"?\]?$/.exec(column)?.[1] ?? '';
  const from = key === '' ? -1 : line.indexOf(`"${key}"`, (character ?? 1) - 1);
  return from < 0 ? null : { from, to: endOfValue(line, from) };
}

/** Index of the comma or bracket that ends the value that begins at `from`. */
function endOfValue(line: string, from: number): number {
  let depth = 0;
  let isText = false;
  for (let i = from; i < line.length; i++) {
    const c = line[i]!;
    if (isText) {
      if (c === '\\') i++;
      else if (c === '"') isText = false;
    } else if (c === '"') isText = true;
    else if (c === '{' || c === '[') depth++;
    else if (c === '}' || c === ']') {
      if (depth-- === 0) return i;
    } else if (c === ',' && depth === 0) return i;
  }
  return line.trimEnd().length;
}
