/** The rows of a register that grows job by job. Pure. */
import type { RegisterRow } from '../register/register.js';

export interface Rows {
  /** A later row replaces earlier ones of the same job or folder. */
  enter(rows: readonly RegisterRow[]): void;
  /** Removes the rows that are not valid any more. */
  keep(isValid: (row: RegisterRow) => boolean): void;
  all(): readonly RegisterRow[];
}

/** @param foldCase true: ids that differ only in capitals are the same. */
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
            // A refused job does not replace its earlier report; a reported job replaces its earlier refusals.
            (idOf(row) !== null &&
              idOf(later) === idOf(row) &&
              (later.status === 'reported' || row.status !== 'reported')),
        );
      rows = [...rows.filter((row) => !isReplaced(row)), ...entered];
    },
    keep(isValid) {
      rows = rows.filter(isValid);
    },
    all: () => rows,
  };
}
