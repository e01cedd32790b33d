/** Large and hostile files: bounded time and memory, clear refusals over the stated limits. */
import { expect, test } from 'vitest';
import { frameOf, parseJob } from '../../support/read-job.js';
import { resolveJob } from '../../../src/survey/job/resolve-job.js';
import { CappedFindings } from '../../../src/base/diagnostics/cap.js';
import { parseReadings } from '../../../src/survey/readings/parse-readings.js';
import type { Sink } from '../../../src/survey/readings/sink.js';
import { HEADER, madeUpJob } from '../job/made-up-job.js';

const job = resolveJob(madeUpJob());
if (!job.ok) throw new Error(JSON.stringify(job.diagnostics));
const frame = frameOf(job.value);

function read(text: string, rowsLeft?: number) {
  const findings = new CappedFindings();
  const sink: Sink = { readings: [], excluded: [], checks: [], setupsSeen: new Set() };
  const table = parseReadings(Buffer.from(text), frame.files[0]!, frame, sink, findings, rowsLeft);
  return { table, sink, codes: findings.list.map((d) => `${d.at?.row} ${d.code}`) };
}
const row = (i: number) => `S1,A,${1 + (i % 21)},,T1,1,2026-03-14T08:12,${(i % 600) / 10},${i / 100},,,`;

test('200 000 rows in seconds, not minutes', () => {
  const text = [HEADER, ...Array.from({ length: 200_000 }, (_, i) => row(i))].join('\n');
  const start = performance.now();
  const { sink, codes } = read(text);
  // About 0.8 s on one core of 2020; the bound only has to tell it from quadratic time on a busy machine.
  expect(performance.now() - start).toBeLessThan(15_000);
  expect(codes).toEqual([]);
  expect(sink.readings).toHaveLength(400_000);
});

test('more rows than the job may have', () => {
  const { table, codes } = read([HEADER, row(1), row(2), row(3)].join('\n'), 2);
  expect(table).toBeNull();
  expect(codes).toEqual(['4 CSV_TOO_MANY_ROWS']);
});

test('a single line of 100 MB', () => {
  const { codes } = read(`${HEADER}\n${row(1)}\n${'x,'.repeat(50_000_000)}\n`);
  expect(codes).toEqual(['3 CSV_LINE_TOO_LONG']);
});

test('a file that is one line of 100 MB', () => {
  expect(read('x'.repeat(100_000_000)).codes).toEqual(['1 CSV_COLUMN_MISSING']);
});

test('a quote that swallows a large file', () => {
  const text = [HEADER, row(1), '"', ...Array.from({ length: 100_000 }, (_, i) => row(i))].join('\n');
  expect(read(text).codes).toEqual(['3 CSV_QUOTE_OPEN']);
});

test('quotes in every cell of many rows', () => {
  const quoted = (i: number) =>
    row(i)
      .split(',')
      .map((cell) => `"${cell}"`)
      .join(',');
  const { codes, sink } = read([HEADER, ...Array.from({ length: 20_000 }, (_, i) => quoted(i))].join('\n'));
  expect(codes).toEqual([]);
  expect(sink.readings).toHaveLength(40_000);
});

test('a file with a mistake in every one of many rows: reading stops, and the list stays short', () => {
  const wrong = (i: number) => `S${i},Z${i},x,,T1,1,08:00,a,b,c,d,`;
  const { codes } = read([HEADER, ...Array.from({ length: 200_000 }, (_, i) => wrong(i))].join('\n'));
  expect(codes.length).toBeLessThan(1000);
  expect(codes.at(-1)).toMatch(/CSV_TOO_MANY_PROBLEMS$/);
});

test('a quote astray in every one of many rows', () => {
  const { codes } = read([HEADER, ...Array.from({ length: 200_000 }, () => 'S1,A,1,"x"y')].join('\n'));
  expect(codes).toHaveLength(100);
});

test('a job file that is one enormous list', () => {
  const outcome = parseJob(`{"rails": [${'"",'.repeat(5_000_000)}""]}`);
  expect(outcome.diagnostics).toMatchObject([{ code: 'JSON_INVALID' }]);
  const smaller = parseJob(`{"rails": [${'{},'.repeat(200_000)}{}]}`);
  expect(smaller.diagnostics.length).toBeGreaterThan(0);
});
