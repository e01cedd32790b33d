/** One cause, one message: what is said alike of many rows is said once. */
import type { Diagnostic } from './diagnostic.js';

/** So many rows of one file that say the same have one cause, and are said once. */
const FEWEST_ALIKE = 3;

export interface Group {
  readonly first: Diagnostic;
  /** All rows that say the same, where they are said once; else none. */
  readonly rows: readonly number[];
}

/** Diagnostics that say the same of several rows of a file as one, in the order of their first. */
export function grouped(list: readonly Diagnostic[]): Group[] {
  const alike = new Map<string, Diagnostic[]>();
  const keyOf = (d: Diagnostic) => JSON.stringify([d.severity, d.code, d.at?.file, d.at?.column, d.data]);
  for (const d of list) {
    if (d.at?.row === undefined) continue;
    const group = alike.get(keyOf(d));
    if (group === undefined) alike.set(keyOf(d), [d]);
    else group.push(d);
  }
  return list.flatMap((d): Group[] => {
    const group = d.at?.row === undefined ? undefined : alike.get(keyOf(d));
    if (group === undefined || group.length < FEWEST_ALIKE) return [{ first: d, rows: [] }];
    return group[0] === d ? [{ first: d, rows: group.map(({ at }) => at!.row!) }] : [];
  });
}

/** "rows 3, 4 and 9", shortened where they are many. */
export function rowWords(rows: readonly number[]): string {
  if (rows.length === 0) return '';
  const [first, last] = [Math.min(...rows), Math.max(...rows)];
  return last - first + 1 === rows.length
    ? `; the same in rows ${first} to ${last}`
    : `; the same in ${rows.length} rows from ${first} to ${last}`;
}
