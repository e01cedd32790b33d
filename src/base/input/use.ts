/** What a `use` cell says: true (also when blank), false to leave the row out; null: neither. An x is neither: it may mark
 * what is used, or what is crossed out. */
export function readUse(cell: string): boolean | null {
  const word = cell.trim().toLowerCase();
  if (['', 'yes', 'y', 'true', '1'].includes(word)) return true;
  return ['no', 'n', 'false', '0'].includes(word) ? false : null;
}
