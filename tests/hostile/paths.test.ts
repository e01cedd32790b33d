/** A job reads only what stands in its folder, whatever path it names and however the path is dressed up. */
import { mkdir, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { changeJob, copyOf, temporary } from '../support/folders.js';

const codes = async (folder: string): Promise<string[]> => {
  const loaded = await loadJob(folder);
  return loaded.ok ? ['read'] : loaded.diagnostics.map(({ code }) => code);
};

/** Each leads to a file that is there, if it were followed. */
const outside = [
  '../secret.csv',
  './../secret.csv',
  'readings/../../secret.csv',
  'readings/./../../secret.csv',
  'readings//../../secret.csv',
  '..//secret.csv',
  '..\\secret.csv',
  'readings\\..\\..\\secret.csv',
  '/etc/hostname',
  '//etc/hostname',
  '/proc/self/environ',
  'C:\\secret.csv',
  'C:secret.csv',
  'c:/secret.csv',
  '\\\\server\\share\\secret.csv',
  'readings/../..',
  '.',
  './',
  '..',
  'readings/as-left.csv\u0000.png',
  'readings/as-left.csv\n',
  'tolerances/../../secret.csv',
];

test.each(outside)('readings: %j', async (path) => {
  const folder = await copyOf('TH-2031');
  await writeFile(join(folder, '../secret.csv'), 'secret');
  await changeJob(folder, (job: { readings: { file: string }[] }) => (job.readings[1]!.file = path));
  const found = await codes(folder);
  expect(found).toContain('FILE_OUTSIDE_JOB');
});

test.each([
  ...outside,
  '../tolerances/../secret.json',
  '../other/tolerances/set.json',
  '../tolerances',
  'tolerances/..',
])('tolerances: %j', async (path) => {
  const folder = await copyOf('TH-2031');
  await writeFile(join(folder, '../secret.csv'), '{}');
  await changeJob(folder, (job: { tolerances: string }) => (job.tolerances = path));
  expect(await codes(folder)).toEqual(expect.arrayContaining([expect.stringMatching(/^FILE_/)]));
});

test('an address is no file', async () => {
  const folder = await copyOf('TH-2031');
  for (const path of [
    'file:///etc/hostname',
    'http://127.0.0.1/x.csv',
    'readings/as-left.csv?x',
    '~/x.csv',
    '$HOME/x.csv',
  ]) {
    await changeJob(folder, (job: { readings: { file: string }[] }) => (job.readings[1]!.file = path));
    expect(
      (await codes(folder)).filter((code) => code.startsWith('FILE_')),
      path,
    ).toHaveLength(1);
  }
});

test.each([
  ['the readings file', 'readings/as-left.csv'],
  ['the readings folder', 'readings'],
  ['the tolerance file', 'tolerances/bed-rails.json'],
  ['the tolerance folder', 'tolerances'],
  ['job.json', 'job.json'],
])('a link that leads out in place of %s', async (_, path) => {
  const folder = await copyOf('TH-2031');
  const elsewhere = join(await temporary(), 'moved');
  await rename(join(folder, path), elsewhere);
  await symlink(elsewhere, join(folder, path));
  expect(await codes(folder)).toContain('FILE_OUTSIDE_JOB');
});

test('a chain of links, and a link to a folder above', async () => {
  const folder = await copyOf('TH-2031');
  const elsewhere = join(await temporary(), 'x.csv');
  await rename(join(folder, 'readings/as-left.csv'), elsewhere);
  await symlink(elsewhere, join(folder, 'readings/one.csv'));
  await symlink('one.csv', join(folder, 'readings/as-left.csv'));
  expect(await codes(folder)).toContain('FILE_OUTSIDE_JOB');
  await rm(join(folder, 'readings/as-left.csv'));
  await symlink('../..', join(folder, 'readings/up'));
  await mkdir(join(folder, '../readings'));
  await rename(elsewhere, join(folder, '../readings/as-left.csv'));
  await changeJob(folder, (job: { readings: { file: string }[] }) => {
    job.readings[1]!.file = 'readings/up/readings/as-left.csv';
  });
  expect(await codes(folder)).toContain('FILE_OUTSIDE_JOB');
});

test('links in a circle, a link to nothing, a device behind a link', async () => {
  for (const [target, wanted] of [
    ['as-left.csv', 'FILE_UNREADABLE'],
    ['nothing.csv', 'FILE_MISSING'],
    ['/dev/zero', 'FILE_OUTSIDE_JOB'],
  ] as const) {
    const folder = await copyOf('TH-2031');
    await rm(join(folder, 'readings/as-left.csv'));
    await symlink(target, join(folder, 'readings/as-left.csv'));
    expect(await codes(folder)).toContain(wanted);
  }
});
