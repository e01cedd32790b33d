/** A count on the command line, from 1 to `most`. @returns null: it is none. */
export function wholeNumber(text: string | undefined, otherwise: number, most: number): number | null {
  if (text === undefined) return otherwise;
  const n = /^\d{1,9}$/.test(text) ? Number(text) : 0;
  return n >= 1 && n <= most ? n : null;
}
