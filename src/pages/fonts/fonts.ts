/**
 * The bundled font, "Waysheet Sans", in pages and in charts.
 *
 * Every report carries its own copy, so that it has the same glyphs, the same line breaks and the same
 * chart sizes on every machine. All figures, `+`, `−` and `±` in it have one width each, so columns of numbers are
 * under each other without further CSS. Made by templates/fonts/build-fonts.py; see the README there.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fontFolder } from './font-folder.js';
import { codePoints, widths } from './widths.js';

// What charts ask of a font is in one module.
export { textWidth } from './widths.js';

export const fontFamily = 'Waysheet Sans';

/**
 * The page fonts as plain files. A browser that has this folder among its own takes "Waysheet Sans" from there, and
 * then prints a page without the fonts in it (withoutFonts) exactly as the one with them.
 */
export const installedFonts = (): string => join(fontFolder, 'installed');

type FontFile = `WaysheetSans${'' | 'Chart'}-${'Regular' | 'Bold'}.woff2`;

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
 * A `<style>` element that comes first in an SVG: a picture in `<img>` cannot use the fonts of its page.
 * A small subset (13 kB of text a weight) where it holds every character, else the full font.
 *
 * @param usedText All text of the chart; its order and repetitions do not matter.
 * @param bold Also the bold weight.
 * @param chart Its key, a plain token. It is in the font's address, for pictures that name the same address may
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
  const data = readFileSync(join(fontFolder, file)).toString('base64');
  return `@font-face{font-family:"${fontFamily}";font-weight:${weight};src:url(${FONT_TYPE};base64,${data}) format("woff2")}`;
}
