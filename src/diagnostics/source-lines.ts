/** The lines of an input file, for pages that show where a problem stands. */

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
 * @param columns Of the problems on this line; '' or an unknown one marks nothing.
 * @returns null where the file has no such line.
 */
export function piecesOf(source: SourceLines, row: number, columns: readonly string[]): Piece[] | null {
  const line = source.lines[row - 1];
  if (line === undefined) return null;
  if (source.delimiter === null) return keyPieces(line, columns);
  const cells = cellsAt(source.lines, row, source.delimiter);
  const marked = new Set(columns.map((column) => source.columns.indexOf(column)).filter((i) => i >= 0));
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

/** In a JSON file the key, which is the last step of the path that a diagnostic gives as its column. */
function keyPieces(line: string, columns: readonly string[]): Piece[] {
  const key = columns.map((column) => /([^.[\]"]+)"?\]?$/.exec(column)?.[1] ?? '').find((k) => k !== '');
  const shown = line.length <= LONGEST ? line : `${line.slice(0, LONGEST - 1)}…`;
  const text = key === undefined ? '' : `"${key}"`;
  const at = text === '' ? -1 : shown.indexOf(text);
  if (at < 0) return [{ text: shown, marked: false }];
  const end = shown.indexOf(',', at + text.length);
  const stop = end < 0 ? shown.length : end;
  return [
    { text: shown.slice(0, at), marked: false },
    { text: shown.slice(at, stop), marked: true },
    { text: shown.slice(stop), marked: false },
  ];
}
