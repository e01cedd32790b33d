/** The decimal mark of a file: one decision for all its cells. */
import type { ReadingsFile } from '../job/job.js';
import { markEvidence, type Mark, type NumberStyle } from './number.js';

/** Counts the decimal marks of the number cells of a file. */
export class MarkCensus {
  point = 0;
  comma = 0;
  /** Cells that prove that the mark separates thousands, as in `1,234.5`. */
  groupedByComma = 0;
  groupedByPoint = 0;

  add(cell: string): void {
    // The two plain forms of nearly all cells, without parsing.
    if (/^-?\d*$/.test(cell)) return;
    if (/^-?(?:0|\d*)\.(?:\d{1,2}|\d{4,})$/.test(cell)) {
      this.point++;
      return;
    }
    const evidence = markEvidence(cell.trim());
    if (evidence === null || evidence === 'either') return;
    if (evidence.decimal === '.') {
      this.point++;
      if (evidence.grouped) this.groupedByComma++;
    } else {
      this.comma++;
      if (evidence.grouped) this.groupedByPoint++;
    }
  }
}

/**
 * What the job states counts, and then a lone `1,234` is no riddle either; else what most cells show (cells of the other kind then are no numbers, and are
 * refused one by one); else, in a comma-separated file, the point: its own delimiter rules the comma out.
 * In any other file without a cell that shows it, the mark stays open, and `1,234` and `1.234` are refused.
 */
export function decimalStyle(
  census: MarkCensus,
  delimiter: string,
  stated: ReadingsFile['decimal'],
): NumberStyle {
  const decimal = stated === null ? shownMark(census, delimiter) : stated === 'point' ? '.' : ',';
  const shown = decimal === '.' ? census.groupedByComma > 0 : census.groupedByPoint > 0;
  return { decimal, grouped: shown || stated !== null };
}

function shownMark({ point, comma }: MarkCensus, delimiter: string): Mark | null {
  if (point > comma) return '.';
  if (comma > point) return ',';
  if (delimiter === ',') return '.';
  return point > 0 ? ',' : null;
}
