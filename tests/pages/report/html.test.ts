/** The page itself: well formed, self-contained, safe with hostile texts, on both papers. */
import { describe, expect, test } from 'vitest';
import { cssString } from '../../../src/pages/report/css-string.js';
import { renderPage } from '../../../src/pages/report/html.js';
import type { Results } from '../../../src/results/results-schema.js';
import {
  fixtureCharts,
  hostileResults,
  inchResults,
  sparseResults,
  undecidedResults,
  usualResults,
} from './view-model-fixtures.js';

const FONTS =
  "@font-face { font-family: 'Waysheet Sans'; src: url(data:font/woff2;base64,AAAA) format('woff2'); }";
const render = (results: Results) => renderPage(results, fixtureCharts(results), FONTS).html;

const documents: [string, Results][] = [
  ['usual', usualResults()],
  ['sparse', sparseResults()],
  ['inch', inchResults()],
  ['hostile', hostileResults()],
  ['undecided', undecidedResults()],
];

const voidElements = new Set(['meta', 'img', 'br', 'hr', 'link', 'input', 'wbr', 'col']);

/** Tags that are closed by another or not at all. */
function misnested(html: string): string[] {
  const open: string[] = [];
  const wrong: string[] = [];
  const body = html.replace(/<style>[\s\S]*?<\/style>/g, '').replace(/<!doctype html>/i, '');
  for (const [, slash, name, closed] of body.matchAll(
    /<(\/?)([a-z][a-zA-Z0-9]*)(?:\s+[a-zA-Z0-9:-]+(?:="[^"<>]*")?)*\s*(\/?)>/g,
  )) {
    if (voidElements.has(name!) || closed === '/') continue;
    if (!slash) open.push(name!);
    else if (open.pop() !== name) wrong.push(`</${name}>`);
  }
  return [...wrong, ...open.map((name) => `<${name}>`)];
}

describe.each(documents)('%s', (_, results) => {
  const html = render(results);

  test('is well formed, and every < belongs to a tag', () => {
    expect(misnested(html)).toEqual([]);
    const outside = html
      .replace(/<style>[\s\S]*?<\/style>/g, '')
      .replace(/<!doctype html>/i, '')
      .replace(/<\/?[a-z][a-zA-Z0-9]*(?:\s+[a-zA-Z0-9:-]+(?:="[^"<>]*")?)*\s*\/?>/g, '');
    expect(outside).not.toMatch(/[<>]/);
  });

  test('fetches nothing and runs nothing', () => {
    expect(html).toContain(
      `content="default-src 'none'; img-src data:; style-src 'unsafe-inline'; font-src data:"`,
    );
    expect(html).not.toMatch(/<(script|iframe|object|link|foreignObject)\b/i);
    expect(html).not.toMatch(/(src|href)="(?!data:|#)/);
    expect(html).not.toMatch(/url\((?!data:)/);
    expect(html).not.toMatch(/\son[a-z]+=/);
  });

  test('has a language, a title, one first heading, and headings without a gap', () => {
    expect(html).toMatch(/^<!doctype html>\n<html lang="en">/);
    expect(html).toMatch(/<title>Rail alignment (acceptance|measurement) report .+<\/title>/);
    const levels = [...html.matchAll(/<h(\d)/g)].map(([, level]) => Number(level));
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    levels.forEach((level, i) => expect(level - (levels[i - 1] ?? 0)).toBeLessThanOrEqual(1));
  });

  test('every table has a caption and scoped heads, every chart an alternative text', () => {
    // Figure 1 is a table with a caption of its own below it.
    const tables = html.match(/<table(?! class="bars-table)/g)!.length;
    expect(html.match(/<caption>[^<]+<\/caption>/g)).toHaveLength(tables);
    for (const [head] of html.matchAll(/<th\b[^>]*>/g))
      expect(head).toMatch(/scope="(col|row|colgroup|rowgroup)"/);
    for (const [image] of html.matchAll(/<img[^>]*>/g)) expect(image).toMatch(/alt="[^"]+"/);
    expect(html).not.toContain('<th scope="col"></th>');
  });

  test('ends with its end, and is made the same way twice', () => {
    expect(html).toMatch(/End of report /);
    expect(render(results)).toBe(html);
  });
});

test('hostile texts stay texts', () => {
  const html = render(hostileResults());
  expect(html).toContain('&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;&amp;amp;');
  expect(html).toContain('{{constructor}} {{{x}}}');
  expect(html.match(/<\/style>/g)).toHaveLength(1);
  expect(html.match(/<b>/)).toBeNull();
});

test('a report number can end neither a string nor the style sheet', () => {
  expect(cssString('GM-2031')).toBe('"GM-2031"');
  expect(cssString('a"b\\c\n</style>')).toBe('"a\\22 b\\5c c\\a \\3c \\2f style\\3e "');
  expect(cssString('Prüf 7')).toBe('"Prüf 7"');
});

test('both papers, with report number, page n of N and software in the margins', () => {
  const a4 = render(usualResults());
  const letter = render(inchResults());
  expect(a4).toContain('@page { size: A4;');
  expect(letter).toContain('@page { size: letter;');
  expect(a4).toContain('content: "Acceptance report GM-2031');
  expect(a4).toContain('content: "Page " counter(page) " of " counter(pages)');
  expect(a4).toContain('content: "waysheet 0.1.0');
});

test('charts are placed as pictures, in their sections', () => {
  const results = usualResults();
  const html = render(results);
  expect(html.match(/<img src="data:image\/svg\+xml;base64,/g)).toHaveLength(fixtureCharts(results).length);
  expect(html.indexOf('alt="Plan view of the survey: a picture"')).toBeGreaterThan(
    html.indexOf('How the survey was made'),
  );
});

test('without charts there is no empty section', () => {
  const html = renderPage(usualResults(), [], FONTS).html;
  expect(html).not.toMatch(/<h2[^>]*>\d+ Figures/);
  expect(html).toMatch(/<h2[^>]*>\d What to move/);
});
