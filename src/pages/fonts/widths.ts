/** How wide the bundled font's text is, and which characters it lacks: known without drawing anything. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fontFolder } from './font-folder.js';

/** Shape of widths.json. Widths are in font units, in the order of the characters; kerning is left out. */
interface WidthTable {
  readonly unitsPerEm: number;
  readonly characters: readonly (readonly [first: number, last: number])[];
  readonly chartCharacters: readonly (readonly [first: number, last: number])[];
  readonly regular: readonly number[];
  readonly bold: readonly number[];
}

interface Widths {
  readonly regular: ReadonlyMap<number, number>;
  readonly bold: ReadonlyMap<number, number>;
  readonly chartCharacters: ReadonlySet<number>;
}

/** Characters that take no room and draw nothing: soft hyphen, joiners, word joiner, variation selectors. */
const INVISIBLE = new Set([0xad, 0x200b, 0x200c, 0x200d, 0x2060, 0xfe0e, 0xfe0f, 0xfeff, 0x09, 0x0a, 0x0d]);

/** What a browser draws for a character that the font lacks, in em: its box is about this wide. */
const MISSING_EM = 0.66;

/**
 * Width of one line of text, from the font's own advance widths.
 *
 * @param sizePx Font size; the result is in the same unit.
 */
export function textWidth(text: string, sizePx: number, bold = false): number {
  const table = bold ? widths().bold : widths().regular;
  let em = 0;
  for (const code of codePoints(text)) em += table.get(code) ?? MISSING_EM;
  return em * sizePx;
}

/** The characters that the font cannot draw, each once, in order of appearance. */
export function missingGlyphs(text: string): string[] {
  const table = widths().regular;
  const missing = new Set<number>();
  const whole = composed(text);
  // By index: a report has some hundred thousand characters.
  for (let i = 0; i < whole.length; i++) {
    const code = whole.codePointAt(i)!;
    if (code > 0xffff) i++;
    if (!table.has(code) && !INVISIBLE.has(code)) missing.add(code);
  }
  return Array.from(missing, (code) => String.fromCodePoint(code));
}

/** As a browser composes: a letter and its combining accent are one glyph where the font has it. */
const composed = (text: string): string => text.normalize('NFC');

/** Of what takes room; composed as a browser does it. */
export function codePoints(text: string): number[] {
  const codes: number[] = [];
  for (const character of composed(text)) {
    const code = character.codePointAt(0)!;
    if (!INVISIBLE.has(code)) codes.push(code);
  }
  return codes;
}

let loaded: Widths | undefined;

/** Read once. @throws {Error} widths.json is not there. */
export function widths(): Widths {
  return (loaded ??= readWidths());
}

function readWidths(): Widths {
  const table = JSON.parse(readFileSync(join(fontFolder, 'widths.json'), 'utf8')) as WidthTable;
  const codes = expand(table.characters);
  const inEm = (units: readonly number[]): Map<number, number> =>
    new Map(codes.map((code, i) => [code, units[i]! / table.unitsPerEm]));
  return {
    regular: inEm(table.regular),
    bold: inEm(table.bold),
    chartCharacters: new Set(expand(table.chartCharacters)),
  };
}

function expand(ranges: WidthTable['characters']): number[] {
  return ranges.flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, i) => first + i));
}
