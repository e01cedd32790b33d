/**
 * Room that texts take, estimated while a chart is laid out. Drawing measures them with the font's own metrics;
 * here a table of the bundled font's ASCII widths is enough, with a wide guess for everything else.
 */

/** Advance width in em, by character. */
const WIDTHS: readonly (readonly [number, string])[] = [
  [0.28, "ijl ,.I!:·';`"],
  [0.36, 't|()/[]\\fr'],
  [0.47, '{}-_"^*?'],
  [0.55, 'skxzavyJLc'],
  [0.61, 'eFhnuµobdgpqEZ#'],
  [0.66, '$&PRSBT+0123456789±−<=>~×K'],
  [0.72, 'XYADCVHU'],
  [0.76, 'GNOQ'],
  [0.89, 'wmM'],
  [0.99, 'W@%'],
];
const widthOf = new Map<string, number>();
for (const [em, characters] of WIDTHS) for (const character of characters) widthOf.set(character, em);

/** East Asian text and pictographs take a full em or more. */
const isWide = (character: string): boolean => character.codePointAt(0)! >= 0x1100;

/** Estimated width of a line of text, px. */
export function estimateTextPx(text: string, sizePx: number, bold = false): number {
  let em = 0;
  for (const character of text) em += widthOf.get(character) ?? (isWide(character) ? 1.1 : 0.72);
  return em * sizePx * (bold ? 1.05 : 1);
}

/** Control characters (not allowed in XML, or line breaks) become spaces; direction overrides are dropped. */
export const plainText = (text: string): string =>
  text
    .replace(/[\u202a-\u202e\u2066-\u2069]/g, '')
    .replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, ' ')
    .trim();

/** The text, cut at its end with an ellipsis where it is longer than the room. */
export function fitText(text: string, roomPx: number, sizePx: number, bold = false): string {
  if (estimateTextPx(text, sizePx, bold) <= roomPx) return text;
  const characters = [...text];
  while (characters.length > 1 && estimateTextPx(`${characters.join('')}…`, sizePx, bold) > roomPx)
    characters.pop();
  return `${characters.join('').trimEnd()}…`;
}

/** Breaks words into lines no wider than the room; what is left over after `mostLines` is cut with an ellipsis. */
export function wrapText(text: string, roomPx: number, sizePx: number, mostLines = 2): string[] {
  const lines: string[] = [];
  let line = '';
  const words = text.split(' ');
  for (const [i, word] of words.entries()) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line === '' || estimateTextPx(longer, sizePx) <= roomPx) {
      line = longer;
      continue;
    }
    if (lines.length === mostLines - 1)
      return [...lines, fitText([line, ...words.slice(i)].join(' '), roomPx, sizePx)];
    lines.push(line.replace(/ ·$/, ''));
    line = word;
  }
  return [...lines, fitText(line, roomPx, sizePx)];
}
