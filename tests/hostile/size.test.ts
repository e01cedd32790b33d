/**
 * Files far beyond any survey, through the whole of loading, in a process of their own: refused in words, and the
 * most memory that the process ever held is bounded. Limits of single stages: tests/survey/readings/limits.test.ts.
 */
import { execFile } from 'node:child_process';
import { open, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { copyOf, root } from '../support/folders.js';

interface Loaded {
  readonly codes: string[];
  readonly maxRssMiB: number;
  readonly seconds: number;
}

/** dist/ is what `npm test` builds first. */
const script = (folder: string): string => `
const start = performance.now();
const { loadJob } = await import(${JSON.stringify(new URL('dist/solution/intake/load-job.js', `file://${root}`).href)});
const { diagnostics } = await loadJob(${JSON.stringify(folder)});
const codes = [...new Set(diagnostics.filter((d) => d.severity === 'error').map((d) => d.code))];
const seconds = (performance.now() - start) / 1000;
// The most that this program held: resourceUsage().maxRSS would count the process that started it too.
const { readFileSync } = await import('node:fs');
const held = /VmHWM:\\s*(\\d+) kB/.exec(readFileSync('/proc/self/status', 'utf8'));
console.log(JSON.stringify({ codes, maxRssMiB: Number(held[1]) / 1024, seconds }));`;

const load = (folder: string): Promise<Loaded> =>
  new Promise((resolve, reject) => {
    execFile(process.execPath, ['--input-type=module', '-e', script(folder)], (error, out, err) => {
      if (error === null) resolve(JSON.parse(out) as Loaded);
      else reject(new Error(err, { cause: error }));
    });
  });

/** Writes `head`, then `part` as often as given. */
async function writeMany(path: string, head: string, part: string, times: number): Promise<void> {
  const file = await open(path, 'w');
  try {
    await file.write(head);
    const block = Buffer.from(part.repeat(10_000));
    for (let written = 0; written < times; written += 10_000) await file.write(block);
  } finally {
    await file.close();
  }
}

const READINGS = 'readings/as-left.csv';

test('2 GB and 5 GB: refused before anything is read', async () => {
  for (const bytes of [2 ** 31, 5 * 2 ** 30]) {
    const folder = await copyOf('TH-0412');
    await truncate(join(folder, READINGS), bytes);
    const { codes, maxRssMiB } = await load(folder);
    expect(codes).toEqual(['FILE_TOO_LARGE']);
    expect(maxRssMiB).toBeLessThan(200);
  }
});

test('a job file of 2 GB', async () => {
  const folder = await copyOf('TH-0412');
  await truncate(join(folder, 'job.json'), 2 ** 31);
  const { codes, maxRssMiB } = await load(folder);
  expect(codes).toEqual(['FILE_TOO_LARGE']);
  expect(maxRssMiB).toBeLessThan(200);
});

test('ten million rows: the first million is counted and no row is kept', async () => {
  const folder = await copyOf('TH-0412');
  await writeMany(join(folder, READINGS), 'setup,rail,station,vertical\n', 'S1,A,1,1\n', 10_000_000);
  const { codes, maxRssMiB, seconds } = await load(folder);
  expect(codes).toEqual(['CSV_TOO_MANY_ROWS']);
  expect(maxRssMiB).toBeLessThan(700);
  expect(seconds).toBeLessThan(30);
});

test('one line of 100 MB', async () => {
  const folder = await copyOf('TH-0412');
  await writeMany(
    join(folder, READINGS),
    'setup,rail,station,vertical\nS1,A,1,1\n',
    '1,23456789',
    10_000_000,
  );
  const { codes, maxRssMiB } = await load(folder);
  expect(codes).toContain('CSV_LINE_TOO_LONG');
  expect(maxRssMiB).toBeLessThan(700);
});

test.each([
  ['brackets', '[[[[[[[[[['],
  ['objects', '{"a":{"a":'],
  ['quotes', '""""""""""'],
  ['backslashes', '\\\\\\\\\\\\\\\\\\\\'],
  ['commas', ',,,,,,,,,,'],
])('a job file of 10 MB of %s', async (_, part) => {
  const folder = await copyOf('TH-0412');
  await writeMany(join(folder, 'job.json'), '{"id":', part, 1_000_000);
  const { codes, maxRssMiB, seconds } = await load(folder);
  expect(codes).toEqual(['JSON_INVALID']);
  expect(maxRssMiB).toBeLessThan(700);
  expect(seconds).toBeLessThan(20);
});

test('ten thousand readings files', async () => {
  const folder = await copyOf('TH-0412');
  const entry = '{"file":"readings/as-left.csv","phase":"as-left"}';
  const text = `{"format":"waysheet-job/1","id":"x","readings":[${Array<string>(10_000).fill(entry).join(',')}]}`;
  await writeFile(join(folder, 'job.json'), text);
  const { codes, seconds } = await load(folder);
  expect(codes).toContain('VALUE_WRONG');
  expect(seconds).toBeLessThan(20);
});
