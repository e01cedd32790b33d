/** Texts that are made to fit the room that a chart has for them, by the font's own widths. */
import { textWidth } from '../fonts/widths.js';

/** Control characters (not allowed in XML, or line breaks) become spaces; direction overrides are dropped. */
export const plainText = (text: string): string =>
  text
    .replace(/[\u202a-\u202e\u2066-\u2069]/g, '')
    .replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, ' ')
    .trim();

/** The text, cut at its end with an ellipsis where it is longer than the room. */
export function fitText(text: string, roomPx: number, sizePx: number, bold = false): string {
  if (textWidth(text, sizePx, bold) <= roomPx) return text;
  const characters = [...text];
  while (characters.length > 1 && textWidth(`${characters.join('')}…`, sizePx, bold) > roomPx)
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
    if (line === '' || textWidth(longer, sizePx) <= roomPx) {
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
