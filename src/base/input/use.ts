/** What a `use` cell says: true (also when blank), false to leave the row out; null: no word for either. */
export function readUse(cell: string): boolean | null {
  const word = cell.trim().toLowerCase();
  if (word === '' || word === 'yes' || word === 'true' || word === '1') return true;
  return word === 'no' || word === 'false' || word === '0' ? false : null;
}
