/** Rows of a sheet that are no readings: sums and signatures, which are usually below the readings. */

/** First words, in lower case and without accents. */
const SUMS = new Set(
  (
    'mean average avg max maximum min minimum total sum range spread std stdev sd ' +
    'mittel mittelwert durchschnitt summe gesamt moyenne somme media promedio suma somma totale'
  ).split(' '),
);
const SIGNS = new Set(
  (
    'checked signature signed surveyed measured approved prepared date operator inspector ' +
    'gepruft unterschrift gemessen datum verifie signature mesure date firma medido fecha verificato misurato data'
  ).split(' '),
);

const NUMBER = /^[+\-\u2212]?[\d.,\u00a0 ]*\d$/;

const plain = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/** The text by which a mapping names a row: the first text in it. */
export const labelOf = (cells: readonly string[]): string =>
  cells.find((cell) => cell.trim() !== '')?.trim() ?? '';

const firstWord = (label: string): string => /^\p{L}+/u.exec(plain(label))?.[0] ?? '';

/** Whether a row is a sum over the rows above, or a line to sign: words where readings have numbers and ids. */
export function isBelowReadings(cells: readonly string[]): boolean {
  const word = firstWord(labelOf(cells));
  const rest = cells.filter((cell) => cell.trim() !== '').slice(1);
  if (SUMS.has(word)) return rest.every((cell) => NUMBER.test(cell.trim()));
  return SIGNS.has(word) && rest.length <= 2;
}

/** Whether one of the mapping's labels names the row: in upper or lower case, with or without a colon after it. */
export function isNamed(cells: readonly string[], labels: readonly string[]): boolean {
  if (labels.length === 0) return false;
  const key = (text: string) =>
    plain(text)
      .replace(/[\s:.]+/gu, ' ')
      .trim();
  const own = key(labelOf(cells));
  return own !== '' && labels.some((label) => key(label) === own);
}
