/** The lines of a register that grows job by job. Pure. */
import type { RegisterRow } from '../register/register.js';

export interface Rows {
  /** A later line takes the place of earlier ones about the same. */
  enter(rows: readonly RegisterRow[]): void;
  /** Takes out the lines that are not so any more. */
  keep(isSo: (row: RegisterRow) => boolean): void;
  all(): readonly RegisterRow[];
}

/** @param foldCase Whether ids that differ in their capitals are one. */
export function startRows(first: readonly RegisterRow[], foldCase: boolean): Rows {
  const idOf = ({ job }: RegisterRow): string | null =>
    job === null ? null : foldCase ? job.normalize('NFC').toLowerCase() : job.normalize('NFC');
  let rows: readonly RegisterRow[] = first;
  return {
    enter(entered) {
      const isReplaced = (row: RegisterRow) =>
        entered.some(
          (later) =>
            later.folder === row.folder ||
            // A job that is refused leaves its earlier report standing; one that is reported settles its refusals.
            (idOf(row) !== null &&
              idOf(later) === idOf(row) &&
              (later.status === 'reported' || row.status !== 'reported')),
        );
      rows = [...rows.filter((row) => !isReplaced(row)), ...entered];
    },
    keep(isSo) {
      rows = rows.filter(isSo);
    },
    all: () => rows,
  };
}
