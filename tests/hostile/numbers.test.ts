/**
 * Numbers that no survey has: refused at their place. Each of these once ended in an exception, or in results with
 * NaN or infinity in them; found by fuzz-folders.test.ts.
 */
import { beforeAll, expect, test } from 'vitest';
import { writeWhole } from '../../src/archive/write-whole.js';
import { answer } from '../../src/cli/new/answer.js';
import { makeFolder } from '../../src/cli/new/make-folder.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { fillIn } from '../cli/new/fill.js';
import { changeJob, changeRows, judgedOf, temporary } from '../support/folders.js';
import { readFolder, writeFolder, type Folder } from './mutate.js';

let good: Folder;
let folder: string;
/** Of the reading that is changed, in its file. */
let line: number;

beforeAll(async () => {
  const given = { length: '1000', count: '3', passes: '1', setups: 'two', spans: '1' };
  const answered = await answer({ given, folderName: 'T-1', ask: null });
  if (!answered.ok) throw new Error(answered.wrong.join('\n'));
  folder = await writeWhole(await temporary(), 'T-1', await makeFolder(answered.plan, 'waysheet', null));
  await fillIn(folder);
  good = readFolder(folder);
});

const set = (path: string, value: unknown): Promise<void> =>
  changeJob(folder, (job: Record<string, unknown>) => {
    const keys = path.split('.');
    const parent = keys
      .slice(0, -1)
      .reduce<Record<string, unknown>>((o, k) => o[k] as Record<string, unknown>, job);
    parent[keys.at(-1)!] = value;
  });

test.each([
  ['rails.1.across', 1.7e308],
  ['rails.0.stations.spacing', 1e300],
  ['monuments.0.along', 1e150],
  ['monuments.1.across', -1e300],
  ['setups.0.along', 1e300],
  ['setups.1.across', 1.7e308],
  ['instruments.0.reading.u', 1e300],
  ['instruments.0.reading.u', 1e-300],
  ['instruments.0.reading.perMetre', 1.7e308],
  ['instruments.0.level.u', 1e-300],
  ['instruments.0.level.u', 1.7e308],
  ['instruments.0.range.limit', 1.7e308],
  ['instruments.1.reading.u', 1e-300],
  ['instruments.1.reading.u', 1e-12],
])('%s = %d', async (path, value) => {
  await writeFolder(folder, good);
  await set(path, value);
  const loaded = await loadJob(folder);
  expect(loaded.ok).toBe(false);
  const key = path.replace(/\.(\d+)/g, '[$1]');
  expect(loaded.diagnostics.map((d) => `${d.code} ${d.at?.column}`)).toContain(`VALUE_WRONG ${key}`);
});

/** In a row of station 2, without a stated range that would refuse it. */
async function read(cell: string): Promise<void> {
  await writeFolder(folder, good);
  await changeJob(folder, (job: { instruments: { range?: unknown }[] }) => delete job.instruments[0]!.range);
  await changeRows(folder, 'readings/as-left.csv', (header, rows) => {
    const at = rows.findIndex((cells) => cells[header.indexOf('station')] === '2');
    line = at + 2;
    return rows.map((cells, i) => cells.map((old, k) => (i === at && header[k] === 'vertical' ? cell : old)));
  });
}

test.each(['1e10', '-1e15', '1e300', '99999999999', '9'.repeat(50)])('a reading of %s', async (cell) => {
  await read(cell);
  const loaded = await loadJob(folder);
  expect(loaded.ok).toBe(false);
  const errors = loaded.diagnostics.filter(({ severity }) => severity === 'error');
  expect(errors.map((d) => `${d.code} ${d.at?.row} ${d.at?.column}`)).toEqual([
    expect.stringMatching(new RegExp(`^CELL_(WRONG|NOT_A_NUMBER) ${line} vertical$`)),
  ]);
});

test('a slip of eight digits is a very bad rail, not a crash', async () => {
  await read('1e8');
  const results = await judgedOf(folder);
  const bad = results.phases['as-left']!.characteristics.find(
    ({ what }) => what === 'straightness-vertical',
  )!;
  expect(bad.value).toBeGreaterThan(1e7);
  expect(bad.interval![0]).toBeLessThan(bad.value! + 1);
  expect(bad.interval![1]).toBeGreaterThan(bad.value! - 1);
});

test('unlikely, but numbers all the same', async () => {
  await writeFolder(folder, good);
  await set('instruments.1.reading.u', 1e-7); // mm: a tenth of a nanometre
  await set('setups.0.along', -1e6);
  // From a kilometre away nothing is as sure as these readings look.
  await set('confirmed', [{ what: 'UNIT_IMPLAUSIBLE', by: 'a test', because: 'far away on purpose' }]);
  const results = await judgedOf(folder);
  expect(results.phases['as-left']!.characteristics.every(({ value }) => Number.isFinite(value))).toBe(true);
});
