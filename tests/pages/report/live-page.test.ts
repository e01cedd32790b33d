/** report.html in the packed browser, from a file: it answers to keys, finger and pointer, fetches nothing and breaks no rule of axe. */
import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'puppeteer-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launchBrowser, type RunningBrowser } from '../../../src/pages/report/browser/launch-browser.js';
import { look } from '../../../src/cli/follow-look.js';
import { inOtherUnits } from '../../../src/pages/report/both-units.js';
import { followPage } from '../../../src/pages/report/follow-page.js';
import { deviationsByReference } from '../../../src/pages/report/live-page.js';
import { drawCharts, writePage } from '../../../src/pipeline.js';
import type { Results } from '../../../src/results/results-schema.js';
import { judgedOf, sample, temporary } from '../../support/folders.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
let running: RunningBrowser;
let results: Results;
const pages: Record<string, string> = {};
const troubles: string[] = [];

beforeAll(async () => {
  const place = await temporary();
  results = await judgedOf(sample('TH-2031'));
  const charts = await drawCharts(results);
  const texts = {
    report: (await writePage(results, charts)).live,
    inches: (await writePage(inOtherUnits(results), charts)).live,
    follow: followPage(await look(sample('TH-2031'), '')),
  };
  for (const [name, text] of Object.entries(texts)) {
    pages[name] = pathToFileURL(join(place, `${name}.html`)).href;
    await writeFile(join(place, `${name}.html`), text);
  }
  running = await launchBrowser();
});
afterAll(() => running?.close());

async function open(name: string, width: number): Promise<Page> {
  const page = await running.browser.newPage();
  page.on('pageerror', (error) => troubles.push(String(error)));
  page.on('console', (message) => troubles.push(message.text()));
  page.on('request', (request) => {
    if (!/^(?:file|data):/.test(request.url())) troubles.push(request.url());
  });
  await page.setViewport({ width, height: 900, isMobile: width < 500, hasTouch: width < 500 });
  await page.goto(pages[name]!);
  return page;
}

describe.each(['report', 'follow'])('%s', (name) => {
  test.each([1280, 390])(
    'at %i px: no sideways scrolling, nothing that axe finds, nothing fetched',
    async (width) => {
      const page = await open(name, width);
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
      const violations = await page.evaluate(
        `(() => { ${axe}; return axe.run().then(({ violations }) => violations.map((v) => v.id + ' ' + v.nodes.map((n) => n.html.slice(0, 120)).join(' | '))); })()`,
      );
      expect(violations).toEqual([]);
      expect(troubles).toEqual([]);
      await page.close();
    },
    120_000,
  );
});

test('at 390 px: the verdict and the worst row are on the first screen; verdicts, values and limits of Table 1 are never pushed aside', async () => {
  const page = await open('report', 390);
  const bottomOf = (css: string) =>
    page.evaluate(`document.querySelector('${css}').getBoundingClientRect().bottom`);
  expect(await bottomOf('#verdict')).toBeLessThan(500);
  expect(await bottomOf('.bars-table tbody tr')).toBeLessThan(900);
  const cut = await page.evaluate(
    `[...document.querySelectorAll('.judged td, .judged th, .others td, .bars-table td')].filter((cell) => cell.getBoundingClientRect().right > innerWidth || cell.scrollWidth > cell.clientWidth + 1 && !cell.matches('.bar')).map((cell) => cell.textContent)`,
  );
  expect(cut).toEqual([]);
  await page.close();
});

const told = (page: Page) =>
  page.evaluate(
    `document.querySelector('.told').hidden ? null : document.querySelector('.told').innerText`,
  ) as Promise<string | null>;

test('arrow keys tell of each station: its places in both phases and the rows that they come from; Escape ends', async () => {
  const page = await open('report', 1280);
  await page.focus('.drawn');
  await page.keyboard.press('End');
  const text = await told(page);
  const key = /^([A-Z]:\d+): /.exec(text!)![1]!;
  const [rail, station] = key.split(':');
  expect(text).toMatch(/as left: height/);
  const rows = Object.values(results.phases)
    .at(-1)!
    .residuals.filter((r) => r.rail === rail && r.station === Number(station) && r.row !== null);
  expect(rows.length).toBeGreaterThan(0);
  for (const { row } of rows) expect(text).toMatch(new RegExp(`rows?[ \\d,]*\\b${row}\\b`));
  // In every figure the same station.
  const lit = (await page.evaluate(
    `[...document.querySelectorAll('.lit')].map((m) => m.dataset.says)`,
  )) as string[];
  expect(lit.length).toBeGreaterThan(2);
  for (const says of lit) expect(says.startsWith(`${key}: `)).toBe(true);
  await page.keyboard.press('Escape');
  expect(await told(page)).toBeNull();
  await page.close();
});

test('a finger on a station tells of it', async () => {
  const page = await open('report', 390);
  const at = (await page.evaluate(`(() => {
    const mark = [...document.querySelectorAll('.drawn .narrow [data-says]')][0];
    mark.scrollIntoView({ block: 'center' });
    const { left, top } = mark.getBoundingClientRect();
    return [left + 2, top + 2, mark.dataset.says];
  })()`)) as [number, number, string];
  await page.touchscreen.tap(at[0], at[1]);
  expect(await told(page)).toContain(at[2]);
  await page.close();
});

test('phases are shown and hidden, stations sorted and filtered', async () => {
  const page = await open('report', 1280);
  const shown = (phase: string) =>
    page.evaluate(
      `[...document.querySelectorAll('.drawn .wide .${phase}')].filter((g) => g.getClientRects().length > 0).length`,
    );
  expect(await shown('as-found')).toBeGreaterThan(0);
  await page.click('.phases button');
  expect(await shown('as-found')).toBe(0);
  expect(await shown('as-left')).toBeGreaterThan(0);
  const column = () =>
    page.evaluate(
      `[...document.querySelector('table.stations').tBodies[0].rows]
        .filter((r) => !r.hidden && r.cells.length > 1).map((r) => r.cells[0].textContent.trim())`,
    ) as Promise<string[]>;
  const before = await column();
  await page.click('table.stations .sort');
  await page.click('table.stations .sort');
  const rails = results.survey.rails.map(({ stations }) => stations.length);
  const parts = [before.slice(0, rails[0]), before.slice(rails[0])];
  expect(await column()).toEqual(parts.flatMap((part) => part.reverse()));
  await page.type('.filter input', before[3]!);
  const left = await column();
  expect(left.length).toBeGreaterThan(0);
  expect(left.length).toBeLessThan(before.length);
  await page.close();
});

test('the unit switch shows what the report in that unit prints, each figure rounded there, and switches back', async () => {
  const shown = (page: Page) =>
    page.evaluate(
      `[...document.querySelectorAll('.verdict, .bars-table, .summary, table.stations')].map((one) => one.innerText)`,
    ) as Promise<string[]>;
  const inInches = await open('inches', 1280);
  const wanted = await shown(inInches);
  await inInches.close();
  const page = await open('report', 1280);
  const before = await shown(page);
  await page.click('.switch.unit button:last-of-type');
  expect(await shown(page)).toEqual(wanted);
  expect(wanted).not.toEqual(before);
  await page.focus('.drawn');
  await page.keyboard.press('End');
  expect(await told(page)).toMatch(/height [+−][\d.]+\s±\s[\d.]+\sthou/);
  await page.click('.switch.unit button:first-of-type');
  expect(await shown(page)).toEqual(before);
  await page.close();
});

test('the reference switch tells a station from its end-point line too: the ends are on it, and the verdicts stay', async () => {
  const page = await open('report', 1280);
  const before = await page.$eval('.verdict', (one) => one.textContent);
  const [first, , ends] = await page.$$('.switch.reference button');
  await page.focus('.drawn');
  await page.keyboard.press('Home');
  expect(await told(page)).not.toContain('(end points)');
  await ends!.click();
  await page.focus('.drawn');
  await page.keyboard.press('Home');
  expect(await told(page)).toMatch(/from its own line, vertical 0(?:\.0+)?\sµm.*\(end points\)/);
  expect(await page.$eval('.switch.reference [role=status]', (one) => one.textContent)).toMatch(
    /do not change\. The verdict uses: Straightness, /,
  );
  expect(await page.$eval('.verdict', (one) => one.textContent)).toBe(before);
  await first!.click();
  expect(await page.$eval('.switch.reference [role=status]', (one) => one.textContent)).toBe('');
  await page.close();
});

test.each(['minimum-zone', 'end-points'] as const)(
  'the range of the deviations from the %s line is the straightness about it',
  (reference) => {
    for (const phase of Object.values(results.phases)) {
      const told = deviationsByReference(results, phase.stations);
      const judged = phase.characteristics.filter(
        (c) => c.what.startsWith('straightness-') && c.reference === reference && c.value !== null,
      );
      expect(judged.length).toBeGreaterThan(0);
      for (const { what, rail, value } of judged) {
        const plane = what.replace('straightness-', 'own-');
        const own = [...told].flatMap(([key, d]) =>
          key.startsWith(`${reference} ${rail}:`) && key.endsWith(` ${plane}`) ? [d] : [],
        );
        expect(Math.max(...own) - Math.min(...own)).toBeCloseTo(value!, 9);
      }
    }
  },
);

test('without the script all is there: every picture, its alternative text, every station', async () => {
  const page = await running.browser.newPage();
  await page.setJavaScriptEnabled(false);
  await page.goto(pages['report']!);
  const html = await page.content();
  expect(html.match(/<svg class="wide" role="img" aria-label="/g)!.length).toBeGreaterThan(5);
  await page.close();
});
