/** The lines of an input file, for pages that show where a problem stands. */
import type { Place } from './diagnostic.js';

export interface SourceLines {
  /** From line 1. */
  readonly lines: readonly string[];
  /** What sets cells off; null: a file without cells, such as job.json. */
  readonly delimiter: string | null;
  /** Line of the header; 0 without one. */
  readonly headerRow: number;
  /** Names of the columns as diagnostics give them, by their place. */
  readonly columns: readonly string[];
}

/** What is to be marked on a line, as a diagnostic's place names it. */
export type Mark = Pick<Place, 'column' | 'character'>;

/** A piece of a line; `marked` where the problem is. */
export interface Piece {
  readonly text: string;
  readonly marked: boolean;
}

/** A record of more lines is shown as far as these. */
const MOST_LINES = 5;
/** Longer lines are cut to what stands round the marks. */
const LONGEST = 220;
const LONGEST_CELL = 80;
/** Cells kept on either side of a mark. */
const AROUND = 5;

/**
 * The line as it stands, in pieces.
 *
 * @param marks Of the problems on this line; without a column, or with an unknown one, they mark nothing.
 * @returns null where the file has no such line.
 */
export function piecesOf(source: SourceLines, row: number, marks: readonly Mark[]): Piece[] | null {
  const line = source.lines[row - 1];
  if (line === undefined) return null;
  if (source.delimiter === null) return keyPieces(line, marks);
  const cells = cellsAt(source.lines, row, source.delimiter);
  const marked = new Set(
    marks.map(({ column }) => source.columns.indexOf(column ?? '')).filter((i) => i >= 0),
  );
  // A cell that the row lacks is marked behind its end.
  const last = Math.min(Math.max(cells.length - 1, ...marked), source.columns.length - 1);
  const all = Array.from({ length: Math.max(cells.length, last + 1) }, (_, i) => cells[i] ?? '');
  const length = all.reduce((sum, cell) => sum + cell.length + 1, 0);
  const kept = (i: number) =>
    length <= LONGEST ||
    [...marked].some((m) => Math.abs(i - m) <= AROUND) ||
    (marked.size === 0 && i < 2 * AROUND);
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
  cell.length <= LONGEST_CELL ? cell : `${cell.slice(0, LONGEST_CELL - 1)}…`;

/** The cells of a record as they stand, quotes and all. One whose quoted cells hold line ends goes on below. */
function cellsAt(lines: readonly string[], row: number, delimiter: string): string[] {
  let text = lines[row - 1]!;
  let split = splitRecord(text, delimiter);
  for (let k = row; k < Math.min(lines.length, row + MOST_LINES - 1) && split.isOpen; k++) {
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
    // A quote that does not begin its cell is a mark of its own, such as that of inches.
    if (c === '"') isOpen = !isOpen && (cell === '' || cell.startsWith('"'));
    if (c === delimiter && !isOpen) {
      cells.push(cell);
      cell = '';
    } else cell += c;
  }
  return { cells: [...cells, cell], isOpen };
}

/** In a JSON file the keys with their values, each key the last step of the path that a diagnostic gives as its column. */
function keyPieces(line: string, marks: readonly Mark[]): Piece[] {
  const shown = line.length <= LONGEST ? line : `${line.slice(0, LONGEST - 1)}…`;
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

/** null: it is not on the line. */
function stretchOf(line: string, { column = '', character }: Mark): { from: number; to: number } | null {
  // A mistake of JSON itself is given by its place alone.
  const place = /^character (\d+)$/.exec(column)?.[1];
  if (place !== undefined) {
    const from = Math.min(Number(place) - 1, line.length);
    return { from, to: Math.max(from + 1, endOfValue(line, from)) };
  }
  const key = /([^.[\]"]+)"?\]?$/.exec(column)?.[1] ?? '';
  const from = key === '' ? -1 : line.indexOf(`"${key}"`, (character ?? 1) - 1);
  return from < 0 ? null : { from, to: endOfValue(line, from) };
}

/** Up to the comma or the bracket that ends what begins at `from`. */
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
