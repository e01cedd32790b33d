/** Which files a job may read, and what is said about those that it may not. */
import { execFileSync } from 'node:child_process';
import { mkdir, symlink, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { normalPath, staysInside, toleranceRoot } from '../../../src/survey/job/job-paths.js';
import { readInputFile } from '../../../src/survey/job/input-file.js';
import { readJob } from '../../support/read-job.js';
import { loadFiles as loadJob } from '../../support/load-files.js';
import { CSV, folderOf, jobFolder, madeUpJob } from './made-up-job.js';

const codes = async (folder: string) =>
  (await loadJob(folder)).diagnostics.map((d) => `${d.code} ${d.at?.column ?? ''}`);

test('a sound folder: the job and the hash of what it was read from', async () => {
  const job = await readJob(await folderOf({ 'job.json': JSON.stringify(madeUpJob()) }));
  if (!job.ok) throw new Error(JSON.stringify(job.diagnostics));
  expect(job.value.inputs).toHaveLength(1);
  expect(job.value.inputs[0]).toMatchObject({ path: 'job.json', read: 'UTF-8' });
  expect(job.value.inputs[0]!.sha256).toMatch(/^[0-9a-f]{64}$/);
});

test('no folder, no job file, a folder in its place', async () => {
  expect(await codes('/nowhere/at/all')).toEqual(['FILE_MISSING ']);
  expect(await codes(await folderOf({}))).toEqual(['FILE_MISSING ']);
  expect(await codes(await folderOf({ 'job.json/x': '' }))).toEqual(['FILE_UNREADABLE ']);
});

test('job files in UTF-16 and with a byte-order mark are read', async () => {
  const text = JSON.stringify(madeUpJob());
  for (const bytes of [Buffer.from(`\ufeff${text}`), Buffer.from(`\ufeff${text}`, 'utf16le')]) {
    expect((await readJob(await folderOf({ 'job.json': bytes }))).ok).toBe(true);
  }
});

test.each([
  '/etc/passwd',
  '../other/readings.csv',
  'readings/../../x.csv',
  'C:\\x.csv',
  'readings\\as-left.csv',
  '.',
  'a\nb',
])('the readings path %j is refused', async (file) => {
  const folder = await jobFolder(CSV, (job) => (job.readings[0]!.file = file));
  expect(await codes(folder)).toEqual(['FILE_OUTSIDE_JOB readings[0].file']);
});

test('a missing readings file is reported where the job names it', async () => {
  const folder = await jobFolder(CSV, (job) => (job.readings[0]!.file = 'readings/as-felt.csv'));
  expect(await codes(folder)).toEqual(['FILE_MISSING readings[0].file']);
});

test('a symbolic link may point inside the job folder, and nowhere else', async () => {
  const folder = await jobFolder(CSV, (job) => (job.readings[0]!.file = 'readings/link.csv'));
  const elsewhere = await folderOf({ 'as-left.csv': CSV });
  await symlink(join(folder, 'readings/as-left.csv'), join(folder, 'readings/link.csv'));
  expect(await codes(folder)).toEqual([]);
  const out = await jobFolder(CSV, (job) => (job.readings[0]!.file = 'out/as-left.csv'));
  await symlink(elsewhere, join(out, 'out'));
  expect(await codes(out)).toEqual(['FILE_OUTSIDE_JOB readings[0].file']);
});

test.skipIf(process.platform === 'win32')('pipes and devices are not read', async () => {
  const folder = await jobFolder(CSV, (job) => (job.readings[0]!.file = 'readings/pipe'));
  execFileSync('mkfifo', [join(folder, 'readings/pipe')]);
  expect(await codes(folder)).toEqual(['FILE_UNREADABLE readings[0].file']);
});

test('a file over the limit is refused before it is read', async () => {
  const folder = await folderOf({ big: '' });
  await truncate(join(folder, 'big'), 3 * 2 ** 30); // sparse: takes no room
  const outcome = await readInputFile(folder, 'big', '', 2 ** 20, { file: 'job.json' });
  expect(outcome.diagnostics[0]).toMatchObject({
    code: 'FILE_TOO_LARGE',
    data: { bytes: 3 * 2 ** 30, limit: 2 ** 20 },
  });
});

test('shared tolerances: in the job folder, or in a folder "tolerances" above it', async () => {
  const set = JSON.stringify({ name: 'Bed rails', tolerances: [{ what: 'twist', limit: 10, unit: 'um/m' }] });
  const root = await folderOf({ 'tolerances/bed.json': set, 'secret/bed.json': set });
  const write = async (name: string, tolerances: string) => {
    await mkdir(join(root, 'year', name), { recursive: true });
    await writeFile(join(root, 'year', name, 'job.json'), JSON.stringify({ ...madeUpJob(), tolerances }));
    return readJob(join(root, 'year', name));
  };
  const shared = await write('a', '../../tolerances/bed.json');
  expect(shared.diagnostics).toEqual([]);
  expect(shared.ok && shared.value.job.toleranceSet.name).toBe('Bed rails');
  expect(shared.ok && shared.value.inputs.map((i) => i.path)).toEqual([
    'job.json',
    '../../tolerances/bed.json',
  ]);
  expect((await write('b', '../../secret/bed.json')).diagnostics[0]).toMatchObject({
    code: 'FILE_OUTSIDE_JOB',
  });
  await symlink(join(root, 'secret/bed.json'), join(root, 'tolerances/link.json'));
  expect((await write('c', '../../tolerances/link.json')).diagnostics[0]).toMatchObject({
    code: 'FILE_OUTSIDE_JOB',
  });
  expect((await write('d', '../../tolerances/gone.json')).diagnostics[0]).toMatchObject({
    code: 'FILE_MISSING',
    at: { file: 'job.json', column: 'tolerances' },
  });
});

test('a faulty shared set is reported in its own file', async () => {
  const folder = await folderOf({
    'job.json': JSON.stringify({ ...madeUpJob(), tolerances: 'tolerances/t.json' }),
    'tolerances/t.json': '{ "name": "x", "tolerances": [\n { "what": "twist", "limit": 1 } ] }',
  });
  expect((await readJob(folder)).diagnostics).toMatchObject([
    { code: 'KEY_MISSING', at: { file: 'tolerances/t.json', row: 2, column: 'tolerances[0].unit' } },
  ]);
});

test('paths', () => {
  expect(normalPath('./a//b/../c.csv')).toBe('a/c.csv');
  expect(staysInside('a/../b.csv')).toBe(true);
  expect(staysInside('a/../../b.csv')).toBe(false);
  expect(toleranceRoot('../tolerances/x.json')).toBe('../tolerances');
  expect(toleranceRoot('../../tolerances/mill/x.json')).toBe('../../tolerances');
  expect(toleranceRoot('../tolerances')).toBeNull();
  expect(toleranceRoot('../tolerances/../secret/x.json')).toBeNull();
  expect(toleranceRoot('../other/tolerances/x.json')).toBeNull();
  expect(toleranceRoot('/tolerances/x.json')).toBeNull();
});
