/** `batch --against`: the earlier reports are only read and verified; what became of each job is told. */
import { existsSync } from 'node:fs';
import { appendFile, mkdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { changesSchema, type Changes } from '../../src/archive/changes/changes-schema.js';
import { assertApart, findOldReports } from '../../src/archive/changes/old-reports.js';
import { changeJob, temporary } from '../support/folders.js';
import { addJob, archiveOf, fingerprint, shiftReading, waysheet } from './batch-support.js';

vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

const changesOf = async (out: string): Promise<Changes> =>
  changesSchema.parse(JSON.parse(await readFile(join(out, 'changes.json'), 'utf8')));

describe('folders', () => {
  test('the earlier reports are apart from the new ones, whatever the paths look like', async () => {
    const parent = await temporary();
    const old = join(parent, 'old');
    await mkdir(old);
    await symlink(old, join(parent, 'link'));
    for (const out of [old, join(parent, 'link'), join(old, 'new/er'), parent, join(parent, 'x/../old')])
      await expect(assertApart(out, old), out).rejects.toThrow(/choose another --out/);
    await assertApart(join(parent, 'older'), old);
    await assertApart(join(parent, 'new'), old);
  });

  test('usage: a folder without reports, the output folder itself, a part of an archive', async () => {
    const empty = await temporary();
    await expect(findOldReports(empty)).rejects.toThrow(/holds no reports/);
    await expect(findOldReports(join(empty, 'none'))).rejects.toThrow(/cannot be read/);
    const jobs = join(await temporary(), 'jobs');
    await mkdir(jobs);
    const ran = await waysheet('batch', jobs, '--out', empty, '--against', empty);
    expect(ran.status).toBe(2);
    expect(ran.err).toMatch(/only read: choose another --out/);
    const part = await waysheet('batch', jobs, '--out', empty, '--against', jobs, '--shard', '1/2');
    expect(part.status).toBe(2);
    expect(part.err).toMatch(/run without --shard/);
  });
});

test('an archive after a year: flipped, moved, new, gone, refused, damaged; then again, unchanged', async () => {
  const jobs = await archiveOf(5);
  const parent = await temporary();
  const old = join(parent, 'issued 2025');
  const out = join(parent, 'new');
  await waysheet('batch', jobs, '--out', old, '--no-pdf');

  shiftReading(join(jobs, 'site 0/job 0'), 60);
  await changeJob(join(jobs, 'site 1/job 1'), (job) => (job.customer = 'Other Yard (invented)'));
  await writeFile(join(jobs, 'site 0/job 2/job.json'), '{"id": "J-02"}');
  await rm(join(jobs, 'site 1/job 3'), { recursive: true });
  await addJob(jobs, 'added', 'J-09');
  await appendFile(join(old, 'J-04/results.json'), ' ');
  await appendFile(join(old, 'J-00/stations.csv'), 'x');
  const before = fingerprint(old);

  const ran = await waysheet('batch', jobs, '--out', out, '--against', old);
  expect(ran.status).toBe(3); // J-02 is refused
  expect(ran.out).toContain('J-00: does not conform; in issued 2025: conforms (readings)\n');
  expect(ran.out).toMatch(/Against issued 2025: 2 jobs compared, 1 job verdict flipped/);
  expect(fingerprint(old)).toEqual(before);
  const changes = await changesOf(out);
  expect(changes.jobs.map(({ job, status, causes }) => [job, status, causes])).toEqual([
    ['J-00', 'changed', ['readings']],
    ['J-01', 'redrawn', ['job-file', 'printing']],
    ['J-02', 'not-reported', []],
    ['J-03', 'vanished', []],
    ['J-04', 'not-compared', []],
    ['J-09', 'appeared', []],
  ]);
  const byJob = new Map(changes.jobs.map((change) => [change.job, change]));
  expect(byJob.get('J-00')!.damage).toEqual([expect.stringContaining('stations.csv is not the file')]);
  expect(byJob.get('J-02')!.note).toMatch(/^refused: job\.json/);
  expect(byJob.get('J-04')!.damage).toEqual([expect.stringContaining('results.json is not the file')]);
  // A manifest alone is nobody's word for a verdict.
  expect(byJob.get('J-04')!.verdict.before).toBeNull();
  const pdf = await readFile(join(out, 'changes.pdf'), 'latin1');
  expect(pdf).toContain('/MarkInfo');
  expect(await readFile(join(out, 'changes.html'), 'utf8')).toContain('J-03');

  // Nothing is made again; the list comes out the same.
  const first = fingerprint(out);
  const again = await waysheet('batch', jobs, '--out', out, '--against', old, '--json');
  expect(again.status).toBe(3);
  const { made, changes: told } = JSON.parse(again.out) as { made: number; changes: Pick<Changes, 'counts'> };
  expect(made).toBe(0);
  expect(told.counts).toEqual(changes.counts);
  expect(fingerprint(out)).toEqual(first);
});

test('what if: by another set, against the issued reports, which may lie in parts under one register', async () => {
  const jobs = await archiveOf(2);
  const parent = await temporary();
  const [one, two, all, out] = ['p1', 'p2', 'all', 'what if'].map((name) => join(parent, name)) as [
    string,
    string,
    string,
    string,
  ];
  await waysheet('batch', jobs, '--out', one, '--no-pdf', '--shard', '1/2');
  await waysheet('batch', jobs, '--out', two, '--no-pdf', '--shard', '2/2');
  expect((await waysheet('merge', one, two, '--out', all, '--no-pdf')).status).toBe(0);
  const set = join(parent, 'set.json');
  const tolerances = [{ what: 'straightness-vertical', limit: 0.001, unit: 'um' }];
  await writeFile(set, JSON.stringify({ name: 'Hard', tolerances }));
  const ran = await waysheet(
    'batch', jobs, '--out', out, '--no-pdf', '--tolerances', set, '--against', all,
  ); // prettier-ignore
  expect(ran.status).toBe(0);
  const changes = await changesOf(out);
  expect(changes).toMatchObject({ whatIf: 'Hard', counts: { compared: 2, flipped: 2, appeared: 0 } });
  for (const job of changes.jobs) {
    expect(job.causes).toEqual(['tolerances']);
    expect(job.figures.count).toBe(0);
  }
  expect(existsSync(join(out, 'changes.pdf'))).toBe(false);
});
