/** register.html in a browser, from a disk: sorting, filtering, the keyboard, and ten thousand rows. */
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'puppeteer-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { registerHtml } from '../../src/archive/register/register-html.js';
import { registerRow } from '../../src/archive/register/register-row.js';
import { buildRegister, type RegisterRow } from '../../src/archive/register/register.js';
import { launchBrowser, type RunningBrowser } from '../../src/pages/report/browser/launch-browser.js';
import { judgedOf, sample, temporary } from '../support/folders.js';

const COUNT = 10_000;
let running: RunningBrowser;
let page: Page;
const troubles: string[] = [];
let bytes: number;

beforeAll(async () => {
  const base = registerRow(await judgedOf(sample('TH-0412')), {
    folder: 'x',
    key: 'key',
    hasPdf: true,
    place: 'TH-0412',
  });
  const rows = Array.from({ length: COUNT }, (_, i): RegisterRow => {
    const id = `J-${String(i).padStart(5, '0')}`;
    return {
      ...base,
      job: id,
      folder: id,
      title: i === 4_321 ? 'Needle in the archive' : base.title,
      customer: `Customer ${i % 4}`,
      machine: { name: `Press ${i >> 1}`, serial: null },
      surveyed: `20${String(10 + (i % 15)).padStart(2, '0')}-03-14`,
      // A fixed shuffle: 7919 and the count have no common divisor.
      worst: i % 10 === 9 ? null : { ...base.worst!, margin: ((i * 7_919) % COUNT) / COUNT - 0.3 },
      verdict: i % 3 === 0 ? 'does-not-conform' : 'conforms',
    };
  });
  const software = { name: 'waysheet', version: '0', method: 'm' } as const;
  const register = buildRegister(rows, software, null);
  const html = await registerHtml(register, {
    medium: 'page',
    pdf: false,
    read: () => Promise.resolve(null),
  });
  bytes = Buffer.byteLength(html);
  const file = join(await temporary(), 'register.html');
  await writeFile(file, html);
  running = await launchBrowser();
  page = await running.browser.newPage();
  page.on('pageerror', (error) => troubles.push(String(error)));
  page.on('console', (message) => troubles.push(message.text()));
  page.on('request', (request) => {
    if (!/^(?:file|data):/.test(request.url())) troubles.push(request.url());
  });
  const began = performance.now();
  await page.goto(pathToFileURL(file).href);
  console.log(
    `${COUNT} rows: ${(bytes / 1e6).toFixed(1)} MB, open in ${(performance.now() - began).toFixed(0)} ms`,
  );
});
afterAll(() => running?.close());

/** In the page; as text, for it is not of this program's world. */
const inPage = <T>(expression: string) => page.evaluate(expression) as Promise<T>;
const shown = () =>
  inPage<{ jobs: string[]; words: string }>(`({
    jobs: [...document.querySelectorAll('#reports tbody th')].map((cell) => cell.firstElementChild.textContent),
    words: document.getElementById('shown').textContent,
  })`);
const marginsShown = () =>
  inPage<string[]>(
    `[...document.querySelectorAll('#reports tbody tr')].map((row) => row.cells[7].dataset.order)`,
  );
/** Sets a control as a person would. */
const set = (id: string, value: string) =>
  inPage<void>(`{
    const control = document.getElementById('${id}');
    control.value = '${value}';
    control.dispatchEvent(new Event('input', { bubbles: true }));
  }`);

test('ten thousand rows are a page of some megabytes; a part is shown, more on demand', async () => {
  expect(bytes).toBeLessThan(1_200 * COUNT);
  const first = await shown();
  expect(first.jobs).toHaveLength(500);
  expect(first.words).toBe('10000 of 10000 jobs; the first 500 are shown');
  await page.click('#more');
  expect((await shown()).jobs).toHaveLength(2_000);
});

test('search, verdict, customer and dates narrow it together, and Clear undoes them', async () => {
  await page.focus('#search');
  await page.keyboard.type('NEEDLE archive');
  expect(await shown()).toEqual({ jobs: ['J-04321'], words: '1 of 10000 jobs' });
  await set('search', 'press');
  await set('verdict', 'does-not-conform');
  await set('customer', 'Customer 2');
  await set('from', '2015-01-01');
  await set('to', '2020-12-31');
  const { jobs } = await shown();
  const numbers = jobs.map((job) => Number(job.slice(2)));
  const expected = Array.from({ length: COUNT }, (_, i) => i).filter(
    (i) => i % 3 === 0 && i % 4 === 2 && i % 15 >= 5 && i % 15 <= 10,
  );
  expect(expected.length).toBeGreaterThan(300);
  expect(numbers).toEqual(expected);
  await page.click('button[type=reset]');
  await page.waitForFunction(`document.getElementById('shown').textContent.startsWith('10000 of')`);
});

test('a column is sorted by keyboard alone, both ways; what has no figure stays last', async () => {
  // From the last control the next stops are the columns' heads.
  await page.focus('button[type=reset]');
  for (let k = 0; k < 8; k++) await page.keyboard.press('Tab');
  expect(await inPage('document.activeElement.textContent')).toBe('Margin');
  await page.keyboard.press('Enter');
  expect((await shown()).jobs[0]).toBe('J-00000');
  const rising = (await marginsShown()).map(Number);
  expect(rising).toEqual([...rising].sort((a, b) => a - b));
  await page.keyboard.press('Enter');
  const falling = (await marginsShown()).map(Number);
  expect(falling).toEqual([...falling].sort((a, b) => b - a));
  expect(falling[0]).toBeGreaterThan(0.69);
  await set('search', 'J-0000');
  expect((await shown()).jobs).toHaveLength(10);
  expect((await shown()).jobs.at(-1)).toBe('J-00009');
  expect(await inPage(`document.querySelector('[aria-sort]').getAttribute('aria-sort')`)).toBe('descending');
});

test('nothing was fetched, blocked or thrown', () => expect(troubles).toEqual([]));
