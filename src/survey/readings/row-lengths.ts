/**
 * Rows that have not as many cells as the header. A cell too many or too few usually means that the cells
 * are under the wrong names, so such a row is taken only where it plainly is a spreadsheet's habit.
 */
import { isReading } from '../job/columns.js';
import type { Header } from './layout.js';
import type { CsvRecord } from './records.js';

/**
 * What is odd about a row's length; null: nothing.
 * - `cut`: the file's last row, without a line end, has too few cells: the file may break off there.
 * - `trimmed`: too few cells, the last one holds something: blank cells at the end may have been dropped.
 * - `padded`: too many cells, all of the extra ones blank.
 * - `wrong`: anything else.
 */
export function lengthProblem(
  record: CsvRecord,
  header: Header,
): 'cut' | 'trimmed' | 'padded' | 'wrong' | null {
  const { cells, ended } = record;
  const columns = header.cells.length;
  if (cells.length === columns) return null;
  if (cells.length < columns) {
    if (!ended) return 'cut';
    return cells[cells.length - 1]!.trim() === '' ? 'wrong' : 'trimmed';
  }
  const blank = cells.slice(columns).every((cell) => cell.trim() === '');
  return blank && !hasSplitDecimal(record, header) ? 'padded' : 'wrong';
}

/**
 * true: `3,1` may be in the row as the two cells `3` and `1`. In a comma-separated file these are digits directly
 * after a whole number in a reading's column. Such a row is one cell too long for each decimal comma.
 */
function hasSplitDecimal({ cells }: CsvRecord, header: Header): boolean {
  if (header.delimiter !== ',') return false;
  return header.layouts.some(({ columns }) =>
    [...columns].some(
      ([name, { index }]) =>
        isReading(name) &&
        /^\s*[+\-\u2212]?\d+\s*$/.test(cells[index] ?? '') &&
        /^\s*\d+\s*$/.test(cells[index + 1] ?? ''),
    ),
  );
}

/** Collects the rows of odd length of one file and tells which of them the file as a whole explains. */
export class RowLengths {
  readonly odd: { readonly line: number; readonly cells: number }[] = [];
  private readonly problems = new Map<number, 'cut' | 'trimmed' | 'padded' | 'wrong'>();
  private readonly paddedLengths = new Set<number>();
  private rows = 0;
  private padded = 0;
  private trimmed = 0;
  private endsBlank = 0;

  constructor(private readonly header: Header) {}

  add(record: CsvRecord): void {
    const { cells } = record;
    this.rows++;
    if (cells.length >= this.header.cells.length && cells[cells.length - 1]!.trim() === '') this.endsBlank++;
    const problem = lengthProblem(record, this.header);
    if (problem === null) return;
    this.odd.push({ line: record.line, cells: cells.length });
    this.problems.set(record.line, problem);
    if (problem === 'trimmed') this.trimmed++;
    if (problem === 'padded') {
      this.padded++;
      this.paddedLengths.add(cells.length);
    }
  }

  /**
   * A single row of another length among its like has lost or gained a cell somewhere, and what follows is
   * under the wrong names. So short rows are taken where the file drops blank cells at row ends throughout:
   * none of its rows ends in a blank cell, and more than one is short. Long rows are taken where all rows, more
   * than one, have the same number of blank cells too many.
   */
  accepts(line: number): boolean {
    switch (this.problems.get(line)) {
      case undefined:
        return true;
      case 'trimmed':
        return this.endsBlank === 0 && this.trimmed > 1;
      case 'padded':
        return this.padded === this.rows && this.rows > 1 && this.paddedLengths.size === 1;
      case 'cut':
      case 'wrong':
        return false;
    }
  }
}
