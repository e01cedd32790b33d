/**
 * The meaning of a `use` cell: true (also if it is blank); false: the row is left out; null: not clear. An x is not clear: it
 * may mark what is used, or what is crossed out.
 */
export function readUse(cell: string): boolean | null {
  const word = cell.trim().toLowerCase();
  if (['', 'yes', 'y', 'true', '1'].includes(word)) return true;
  return ['no', 'n', 'false', '0'].includes(word) ? false : null;
}
