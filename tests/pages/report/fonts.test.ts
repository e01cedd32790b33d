import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser, type RunningBrowser } from '../../../src/pages/report/browser/launch-browser.js';
import { fontFaceCss, fontFamily, svgFontStyle } from '../../../src/pages/fonts/fonts.js';
import { missingGlyphs, textWidth } from '../../../src/pages/fonts/widths.js';

/** The font files within some CSS. */
const filesIn = (css: string) =>
  [...css.matchAll(/base64,([^)]+)\)/g)].map(([, data]) => Buffer.from(data!, 'base64'));

test('a page carries both weights, and they are small', () => {
  const files = filesIn(fontFaceCss());
  expect(files).toHaveLength(2);
  for (const file of files) {
    expect(file.toString('latin1', 0, 4)).toBe('wOF2');
    expect(file.length).toBeLessThan(120_000);
  }
  expect(fontFaceCss()).toContain(`font-family:"${fontFamily}";font-weight:700`);
  expect(fontFaceCss()).not.toMatch(/https?:/);
});

test('a chart carries less than 25 kB a weight, and the bold one on request', () => {
  const text = 'Deviation from the line (µm), rail “Säule” −12.5 ≤ 40 → σ₀';
  expect(filesIn(svgFontStyle(text))).toHaveLength(1);
  expect(filesIn(svgFontStyle(text, { bold: true }))).toHaveLength(2);
  for (const file of filesIn(svgFontStyle(text, { bold: true }))) expect(file.length).toBeLessThan(25_000);
});

test('a chart with letters outside the small set carries the whole font', () => {
  expect(filesIn(svgFontStyle('Рельс A'))).toEqual([filesIn(fontFaceCss())[0]]);
  // What no font of ours has cannot be helped by a larger one, but the rest of its text may be.
  expect(filesIn(svgFontStyle('株'))[0]!.length).toBe(filesIn(fontFaceCss())[0]!.length);
});

test('the style can stand in an SVG as it is', () => {
  expect(svgFontStyle('x', { bold: true })).toMatch(/^<style>[^<&]*<\/style>$/);
});

test('every character that a report needs can be drawn', () => {
  const latin = 'ÀÉÎõü ČŘŽ ğış łńő șț ẞ Þð';
  const other = 'Ελληνικά Кириллица їґ';
  const signs = '−×±·÷°′″µμσσ₀ΔΣ≤≥≈≠√∞²³⁻⁶₁…–—“”„’‰½→←↑↓↔▲△▼▽●○■□◆◇✓✗№€';
  const spaces = '\u00a0\u2007\u2008\u2009\u202f\u2011';
  expect(missingGlyphs(latin + other + signs + spaces)).toEqual([]);
});

test('missing characters are named once each; invisible ones are not missing', () => {
  expect(missingGlyphs('株式株 A\u00adB\u200b😀\n')).toEqual(['株', '式', '😀']);
  expect(missingGlyphs('Cafe\u0301')).toEqual([]);
});

test('all figures are equally wide, and so are the signs', () => {
  for (const bold of [false, true]) {
    const width = (text: string) => textWidth(text, 10, bold);
    expect(new Set([...'0123456789\u2007'].map(width)).size).toBe(1);
    expect(new Set([...'+−±'].map(width)).size).toBe(1);
    expect(width('.')).toBe(width('\u2008'));
  }
});

test('widths grow with the size and add up', () => {
  expect(textWidth('', 12)).toBe(0);
  expect(textWidth('Rail A', 24)).toBeCloseTo(2 * textWidth('Rail A', 12), 10);
  expect(textWidth('Rail A', 12)).toBeCloseTo(textWidth('Rail', 12) + textWidth(' A', 12), 10);
  expect(textWidth('株', 10)).toBeGreaterThan(0);
});

test('the licence lies beside the fonts', () => {
  const licence = readFileSync(new URL('../../../templates/fonts/OFL.txt', import.meta.url), 'utf8');
  expect(licence).toContain('SIL OPEN FONT LICENSE Version 1.1');
});

/** Against an outside measure: how wide the browser itself sets the same text in the same font. */
let running: RunningBrowser;
beforeAll(async () => {
  running = await launchBrowser();
});
afterAll(() => running.close());

test('the table agrees with what the browser sets, in the page font and in the chart font', async () => {
  const lines = [
    '0123456789 −12.5 +3 ±0.4',
    'Straightness, vertical (µm)',
    'AVATAR To Wa. fi',
    'Größe σ₀ ≤ 40 → n/N',
    '1\u202f234\u2009µm',
  ];
  const wide = ['Ελληνικά Кириллица', 'Žluťoučký ✓ √2 ≈ 1.41'];
  for (const [css, texts] of [
    [fontFaceCss(), [...lines, ...wide]],
    [svgFontStyle(lines.join(''), { bold: true }).slice(7, -8), lines],
  ] as const) {
    for (const weight of [400, 700]) {
      const style = `font:${weight} 100px "${fontFamily}";font-kerning:none;white-space:pre`;
      const html = `<!doctype html><style>${css}span{${style}}</style>${texts.map((text) => `<div><span>${text}</span></div>`).join('')}`;
      const page = await running.browser.newPage();
      await page.setContent(html);
      await page.evaluate('Promise.all([...document.fonts].map((face) => face.load()))');
      const measured = (await page.evaluate(
        "[...document.querySelectorAll('span')].map((s) => s.getBoundingClientRect().width)",
      )) as number[];
      await page.close();
      texts.forEach((text, i) => {
        // The browser places glyphs on a grid of 1/64 px.
        expect(Math.abs(measured[i]! - textWidth(text, 100, weight === 700)), text).toBeLessThan(
          text.length / 64,
        );
      });
    }
  }
});
