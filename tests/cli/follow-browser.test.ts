/** A crew types a survey row by row while the page of `follow` is open in the packed browser; loopback alone. */
import { spawn, type ChildProcess } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { readFile, rename, rm, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import puppeteer, { type Browser, type Page } from 'puppeteer-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../../src/pages/report/browser/launch-browser.js';
import { copyOf } from '../support/folders.js';
import { program } from '../support/program.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
let browser: Browser;
let folder: string;
let follow: ChildProcess;
let address: string;
let lines: string[];
let file: string;

beforeAll(async () => {
  // The packed browser reaches nothing; one more of it reaches the page of this test.
  const packed = await launchBrowser();
  closing = () => packed.close();
  const { spawnfile, spawnargs } = packed.browser.process()!;
  browser = await puppeteer.launch({
    executablePath: spawnfile,
    args: [
      ...spawnargs.filter((a) => /^--(?:no-sandbox|disable|font|lang)/.test(a)),
      '--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1',
    ],
  });
  folder = await copyOf('TH-0412');
  file = join(folder, 'readings/as-left.csv');
  lines = (await readFile(file, 'utf8')).trimEnd().split('\n');
  await typed(12);
  follow = spawn(process.execPath, [program(), 'follow', folder]);
  address = await new Promise((resolve) =>
    follow.stderr!.on('data', (text: Buffer) => {
      const found = /http:\S+\//.exec(text.toString());
      if (found) resolve(found[0]);
    }),
  );
});
let closing: () => Promise<void>;
afterAll(async () => {
  follow?.kill('SIGINT');
  await browser?.close();
  await closing?.();
});

/** The sheet with so many rows filled in; `change`: what a row is typed as. */
async function typed(rows: number, change: (row: string, i: number) => string = (row) => row) {
  const text = lines.map((line, i) => {
    if (i === 0) return line;
    if (i <= rows) return change(line, i);
    const cells = line.split(',');
    return cells.map((cell, k) => (k === 6 || k === 7 || k === 8 ? '' : cell)).join(',');
  });
  await writeFile(`${file}.new`, `${text.join('\n')}\n`);
  await rename(`${file}.new`, file);
}

const shows = (page: Page, text: RegExp) =>
  page.waitForFunction(`new RegExp(${JSON.stringify(text.source)}).test(document.body.textContent)`, {
    timeout: 60_000,
  });

const statusOf = (headers: Record<string, string>, method = 'GET', path = new URL(address).pathname) =>
  new Promise<number>((resolve, reject) => {
    const { hostname, port } = new URL(address);
    const asked = request({ hostname, port, path, method, headers }, (response) => {
      response.resume();
      resolve(response.statusCode!);
    });
    asked.on('error', reject);
    asked.end();
  });

test('a crew types a survey: kept until all is read, a blunder shows within one save, then let go; two tabs, no reload', async () => {
  const pages = [await browser.newPage(), await browser.newPage()] as const;
  const troubles: string[] = [];
  for (const page of pages) {
    page.on('console', (message) => troubles.push(message.text()));
    page.on('pageerror', (error) => troubles.push(String(error)));
    await page.setViewport({ width: 390, height: 844 });
    await page.goto(address);
    await shows(page, /Do not go yet/);
    await page.evaluate('window.marked = true');
  }
  const [page] = pages;
  await page.bringToFront();
  await shows(page, /From S1, pass 1 *\d+ rows/);
  // Half-written, then gone, then with a row that is typed 100 µm wrong.
  await writeFile(file, lines.slice(0, 20).join('\n').slice(0, -14));
  await shows(page, /Do not go yet/);
  await rm(file);
  await shows(page, /Not to be worked out yet/);
  await typed(36, (row, i) => (i === 14 ? row.replace(/,(-?[\d.]+),(-?[\d.]+),,/, ',999.9,$2,,') : row));
  await shows(page, /row 15|csv: 15/);
  await shows(page, /Do not go yet/);
  await typed(37);
  for (const one of pages) {
    await shows(one, /You may go\. Every tolerance is decided\./);
    expect(await one.evaluate('window.marked')).toBe(true);
  }
  expect(troubles).toEqual([]);
});

test.each([1280, 390])(
  'at %i px: always in sight, nothing that axe finds, no sideways scrolling',
  async (width) => {
    const page = await browser.newPage();
    await page.setBypassCSP(true);
    await page.setViewport({ width, height: 800 });
    await page.goto(address);
    await shows(page, /You may go/);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
    await page.evaluate('scrollTo(0, document.body.scrollHeight)');
    const top = await page.evaluate("document.querySelector('.leave').getBoundingClientRect().top");
    expect(top).toBe(0);
    // Read from three metres: letters 5 mm high at least, 19 px of 96 to the inch (common practice, no source).
    const height = await page.evaluate(
      "parseFloat(getComputedStyle(document.querySelector('.big')).fontSize)",
    );
    expect(height).toBeGreaterThanOrEqual(24);
    const found = await page.evaluate(
      `(() => { ${axe}; return axe.run().then(({ violations }) => violations.map((v) => v.id + ' ' + v.nodes.map((n) => n.html.slice(0, 120)).join(' | '))); })()`,
    );
    expect(found).toEqual([]);
  },
  60_000,
);

test('nothing is written over HTTP, and another page or host is refused', async () => {
  expect(await statusOf({})).toBe(200);
  for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) expect(await statusOf({}, method)).toBe(405);
  expect(await statusOf({ Host: 'elsewhere.example' })).toBe(403);
  expect(await statusOf({ Origin: 'http://elsewhere.example' })).toBe(403);
  expect(await statusOf({ 'Sec-Fetch-Site': 'cross-site' })).toBe(403);
  expect(await statusOf({}, 'GET', '/')).toBe(404);
  expect(await statusOf({}, 'GET', `${new URL(address).pathname.slice(0, -3)}xx/`)).toBe(404);
  expect(await statusOf({}, 'GET', `${new URL(address).pathname}job.json`)).toBe(404);
});

test('when the program ends, the open page says so', async () => {
  const page = await browser.newPage();
  await page.goto(address);
  await shows(page, /You may go/);
  follow.kill('SIGINT');
  await page.waitForFunction("!document.getElementById('lost').hidden", { timeout: 30_000 });
});
