/** Plain words of pages in a language that nobody speaks: what is left there came from no catalogue. */

/** What is read of a page, and what a screen reader says of it. */
export const textOfPage = (page: string): string =>
  page
    .replace(/<style>[^]*?<\/style>|<script>[^]*?<\/script>/g, ' ')
    .replace(/(?:alt|aria-label|data-title)="([^"]*)"/g, '>$1<')
    .replace(/<[^>]*>|[0-9a-f]{64}/g, '\n')
    .replace(/&#x([0-9A-F]+);/gi, (_, hex: string) => String.fromCodePoint(parseInt(hex, 16)))
    .replace(/&[a-z]+;/g, ' ');

export const wordsIn = (text: string): string[] =>
  text.match(/(?<![\p{L}\d_])[A-Za-z]{3,}(?![\p{L}_])/gu) ?? [];

/** Files, units, terms, names of standards, and the planes of reasons, which messages choose by or print as they are. */
const EVERYWHERE = new Set(
  'vertical horizontal waysheet json csv stations results audit trace UTF thou arcsec mrad ppm JCGM ISO STRt SHA hPa use seat air plus'.split(
    ' ',
  ),
);

/** @param own What the job says itself: names, notes, files. */
export function plainWords(text: string, own: string): string[] {
  const names = wordsIn(own);
  // A name that is too long for its place is cut.
  const isOwn = (word: string): boolean => names.some((one) => one.startsWith(word));
  return [...new Set(wordsIn(text).filter((word) => !isOwn(word) && !EVERYWHERE.has(word)))];
}
