/**
 * The bundled font, "Waysheet Sans": in pages, in charts, and its widths for laying charts out.
 *
 * Every report carries its own copy, so that it has the same glyphs, the same line breaks and the same
 * chart sizes on every machine. All figures, `+`, `−` and `±` in it have one width each, so columns of numbers stand
 * under each other without further CSS. Made by templates/fonts/build-fonts.py; see the README there.
 */
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const fontFamily = 'Waysheet Sans';

/**
 * The page fonts as plain files. A browser that has this folder among its own takes "Waysheet Sans" from there, and
 * then prints a page without the fonts in it (withoutFonts) exactly as the one with them.
 */
export const installedFonts = (): string => join(folder, 'installed');

/** The same from src/report/ and from dist/report/. */
const folder = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'templates', 'fonts');

type FontFile = `WaysheetSans${'' | 'Chart'}-${'Regular' | 'Bold'}.woff2`;

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
 * Widths as the font has them. Chromium rounds those of an installed font to the pixels of a screen otherwise,
 * also in print, and never those of a font that the page brings along.
 */
const PRECISE = 'text-rendering:geometricPrecision';

/** CSS for a page: both weights, as data: URLs. 84 kB of text. */
export function fontFaceCss(): string {
  return `${fontFaces('full', ['Regular', 'Bold'])}html{${PRECISE}}`;
}

/**
 * A `<style>` element to stand first in an SVG: a picture in `<img>` cannot use the fonts of its page.
 * A small subset (13 kB of text a weight) where it holds every character, else the full font.
 *
 * @param usedText All text of the chart; its order and repetitions do not matter.
 * @param bold Also the bold weight.
 * @param chart Its key, a plain token. It stands in the font's address, for pictures that name the same address may
 *   share one font or may not: Chromium's memory decides, and with it the bytes of a PDF.
 */
export function svgFontStyle(
  usedText: string,
  { bold = false, chart }: { bold?: boolean; chart?: string } = {},
): string {
  const { chartCharacters } = widths();
  const isSmall = codePoints(usedText).every((code) => chartCharacters.has(code));
  const faces = fontFaces(isSmall ? 'chart' : 'full', bold ? ['Regular', 'Bold'] : ['Regular']);
  const own = chart === undefined ? '' : `;chart=${chart}`;
  // The small font has no kerning, and the widths that a chart is laid out by know of none.
  return `<style>${faces.replaceAll(FONT_TYPE, `${FONT_TYPE}${own}`)}text{font-kerning:none;${PRECISE}}</style>`;
}

/** A page or picture without the fonts that fontFaceCss() or svgFontStyle() put at the head of its first style. */
export const withoutFonts = (text: string): string =>
  text.replace(/<style>\s*(?:@font-face\{[^{}]*\})+/, '<style>');

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

function codePoints(text: string): number[] {
  const codes: number[] = [];
  for (const character of composed(text)) {
    const code = character.codePointAt(0)!;
    if (!INVISIBLE.has(code)) codes.push(code);
  }
  return codes;
}

const FONT_TYPE = 'data:font/woff2';

const faces = new Map<string, string>();

function fontFaces(set: 'full' | 'chart', styles: readonly ('Regular' | 'Bold')[]): string {
  const key = `${set} ${styles.join(' ')}`;
  let css = faces.get(key);
  if (css === undefined) {
    css = styles
      .map((style) => fontFace(`WaysheetSans${set === 'chart' ? 'Chart' : ''}-${style}.woff2`))
      .join('');
    faces.set(key, css);
  }
  return css;
}

function fontFace(file: FontFile): string {
  const weight = file.includes('Bold') ? 700 : 400;
  const data = readFileSync(join(folder, file)).toString('base64');
  return `@font-face{font-family:"${fontFamily}";font-weight:${weight};src:url(${FONT_TYPE};base64,${data}) format("woff2")}`;
}

let loaded: Widths | undefined;

function widths(): Widths {
  return (loaded ??= readWidths());
}

function readWidths(): Widths {
  const table = JSON.parse(readFileSync(join(folder, 'widths.json'), 'utf8')) as WidthTable;
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
