/** One cause, one message: the same finding in many rows is printed once. */
import { groupBy } from '../lists.js';
import { extent } from '../statistics/extent.js';
import { counted } from './counted.js';
import type { Diagnostic } from './diagnostic.js';

/** From this number of rows of one file, the same message is printed once for all of them. */
const MIN_ROWS_GROUPED = 3;

export interface Group {
  readonly first: Diagnostic;
  /** All rows with the same finding; empty if it is printed by itself. */
  readonly rows: readonly number[];
}

/** Groups diagnostics that say the same about several rows of a file, in the order of their first. */
export function grouped(list: readonly Diagnostic[]): Group[] {
  const keyOf = (d: Diagnostic) =>
    d.at?.row === undefined ? null : JSON.stringify([d.severity, d.code, d.at.file, d.at.column, d.data]);
  const alike = groupBy(list, keyOf);
  return list.flatMap((d): Group[] => {
    const group = alike.get(keyOf(d) ?? '');
    if (group === undefined || group.length < MIN_ROWS_GROUPED) return [{ first: d, rows: [] }];
    return group[0] === d ? [{ first: d, rows: group.map(({ at }) => at!.row!) }] : [];
  });
}

/** "; the same in rows 3 to 9", or how many rows if they are not consecutive. */
export function rowWords(rows: readonly number[]): string {
  if (rows.length === 0) return '';
  const [first, last] = extent(rows);
  return last - first + 1 === rows.length
    ? `; the same in rows ${first} to ${last}`
    : `; the same in ${rows.length} rows from ${first} to ${last}`;
}

/** Several findings of one kind in one file, of which the first is shown. */
export interface Kind {
  readonly first: Group;
  readonly members: readonly Group[];
  /** How many findings these are. */
  readonly count: number;
}

/** Groups by what they are and in which file; in the order of their first. */
export function kindsOf(groups: readonly Group[]): Kind[] {
  const kinds = groupBy(groups, ({ first }) =>
    // What was cut from the list belongs to what it was cut from.
    JSON.stringify([first.severity, kindOf(first), first.at?.file]),
  );
  return [...kinds.values()].map((members) => {
    const first = members.find(({ first: { code } }) => code !== 'MORE_LIKE_THIS') ?? members[0]!;
    return { first, members, count: members.reduce((sum, member) => sum + sizeOf(member), 0) };
  });
}

/** How many findings it is. */
export function sizeOf({ first, rows }: Group): number {
  if (first.code === 'MORE_LIKE_THIS') return (first.data as { count: number }).count;
  return Math.max(1, rows.length);
}

/** " and 3 more of this kind in rows 4 to 90"; nothing for one alone. */
export function moreWords({ first, members, count }: Kind): string {
  const more = count - sizeOf(first);
  if (more === 0) return rowWords(first.rows);
  const rows = members.flatMap((m) =>
    m === first ? [] : m.rows.length > 0 ? m.rows : (m.first.at?.row ?? []),
  );
  const [least, most] = extent(rows);
  const where = rows.length === 0 ? '' : least === most ? ` in row ${least}` : ` in rows ${least} to ${most}`;
  return `${rowWords(first.rows)}; ${counted(more, 'more', 'more')} of this kind${where}`;
}

/** The code; of a line that counts more findings of one kind, theirs. */
export const kindOf = ({ code, data }: Pick<Diagnostic, 'code' | 'data'>): string =>
  code === 'MORE_LIKE_THIS' ? (data as { like: string }).like : code;
