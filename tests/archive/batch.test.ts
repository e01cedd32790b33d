/** A batch as a person or a script runs it: all jobs, only what changed, and what is left when something goes wrong. */
import { existsSync, readdirSync } from 'node:fs';
import { appendFile, chmod, mkdir, readFile, rm, stat, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { changeJob, changeRows, temporary } from '../support/folders.js';
import {
  addJob,
  archiveOf,
  childrenOf,
  fingerprint,
  isLinux,
  nobodyWith,
  registerOf,
  shiftReading,
  start,
  until,
  waysheet,
} from './batch-support.js';

vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const batch = (jobs: string, out: string, ...more: string[]) =>
  waysheet('batch', jobs, '--out', out, '--no-pdf', ...more);

describe('usage', () => {
  test.each([
    [['batch'], /name one folder of jobs/],
    [['batch', 'a', 'b'], /name one folder of jobs/],
    [['batch', 'a', '--jobs', '0'], /--jobs takes a number/],
    [['batch', 'a', '--shard', '4/3'], /--shard takes i\/n/],
    [['batch', 'a', '--limit', 'x'], /--limit takes/],
    [['merge'], /name at least one output folder/],
    [['merge', 'a', 'b'], /--out says/],
  ])('wrong: %j: status 2', async (args, reason) => {
    const ran = await waysheet(...args);
    expect(ran.status).toBe(2);
    expect(ran.err).toMatch(reason);
  });

  test('no folder, and no job in a folder: refused', async () => {
    const empty = await temporary();
    expect(await batch(join(empty, 'none'), join(empty, 'out'))).toMatchObject({ status: 3 });
    expect((await batch(empty, join(empty, 'out'))).err).toMatch(/no job folder/);
  });
});

describe('good and broken jobs together', () => {
  test('the good ones are reported as alone, the broken ones named; links are not followed', async () => {
    const jobs = await archiveOf(3);
    const out = await temporary();
    const noJson = await addJob(jobs, 'broken/a', 'B-A');
    await writeFile(join(noJson, 'job.json'), '{ "id": "B-A", ');
    const noReadings = await addJob(jobs, 'broken/b', 'B-B');
    await rm(join(noReadings, 'readings/as-left.csv'));
    const wrongCell = await addJob(jobs, 'broken/c', 'B-C');
    await changeRows(wrongCell, 'readings/as-left.csv', (header, rows) => {
      rows[3]![header.indexOf('vertical')] = 'o.4';
      return rows;
    });
    await addJob(jobs, 'broken/twice 1', 'B-D');
    await addJob(jobs, 'broken/twice 2', 'B-D');
    await mkdir(join(jobs, 'broken/e/job.json'), { recursive: true });
    const bad = await addJob(jobs, 'broken/f', 'x');
    await changeJob(bad, (job) => (job.id = '../../elsewhere'));
    await addJob(jobs, 'broken/g', 'register.html');
    // Neither inside a job folder nor through a link is there another job.
    await addJob(jobs, 'site 0/job 0/inner', 'INNER');
    await symlink(join(jobs, 'site 0'), join(jobs, 'linked'));
    await mkdir(join(jobs, '.hidden'));
    await addJob(jobs, '.hidden/h', 'HIDDEN');

    const ran = await batch(jobs, out, '--json');
    expect(ran.status).toBe(3);
    expect(ran.err).not.toContain('broken/');
    const { counts } = JSON.parse(ran.out) as { counts: Record<string, number> };
    expect(counts).toMatchObject({ jobs: 11, reported: 3, refused: 8, failed: 0, notDone: 0 });
    expect(readdirSync(out).sort()).toEqual([
      'J-00',
      'J-01',
      'J-02',
      'register.csv',
      'register.html',
      'register.json',
    ]);
    const register = await registerOf(out);
    const refused = register.jobs.filter((r) => r.status === 'refused');
    const codes = Object.fromEntries(refused.map((r) => [r.folder, r.problems[0]!.code]));
    expect(codes).toEqual({
      'broken/a': 'JSON_INVALID',
      'broken/b': 'FILE_MISSING',
      'broken/c': 'CELL_NOT_A_NUMBER',
      'broken/e': 'FILE_UNREADABLE',
      'broken/f': 'VALUE_WRONG',
      'broken/g': 'JOB_ID_TAKEN',
      'broken/twice 1': 'JOB_ID_REPEATED',
      'broken/twice 2': 'JOB_ID_REPEATED',
    });
    expect(refused.find((r) => r.folder === 'broken/twice 1')!.problems[0]!.message).toContain(
      'broken/twice 2',
    );
    const html = await readFile(join(out, 'register.html'), 'utf8');
    expect(html).toContain('broken/c');
    expect(html).not.toContain('href="./B-');

    // The same as `report` makes of it.
    const alone = await temporary();
    await waysheet('report', join(jobs, 'site 1/job 1'), '--out', alone, '--no-pdf');
    expect(fingerprint(join(out, 'J-01'))).toEqual(fingerprint(join(alone, 'J-01')));

    const plain = await batch(jobs, out);
    expect(plain.out).toMatch(/11 jobs: 0 reported, 3 unchanged, 8 refused\. Verdicts: 3 conforms\./);
    expect(plain.err.split('\n').filter((line) => line.includes('refused'))).toHaveLength(8);
    expect(plain.err).not.toContain('\u001b');
  });

  test.skipIf(process.getuid === undefined)(
    'a folder and a file that may not be read are named; the others are reported',
    async ({ skip }) => {
      const jobs = await archiveOf(2);
      const out = await temporary();
      await mkdir(join(jobs, 'shut'));
      await chmod(join(jobs, 'shut'), 0);
      const readings = join(jobs, 'site 1/job 1/readings/as-left.csv');
      await chmod(readings, 0);
      // Nothing is shut to the administrator: then another user runs it.
      const user = process.getuid!() === 0 ? await nobodyWith([jobs, dirname(jobs), tmpdir()], out) : {};
      if (user === null) return skip('no other user can run the program here');
      const ran = await start(['batch', jobs, '--out', out, '--no-pdf'], {}, user).ended;
      await chmod(join(jobs, 'shut'), 0o700);
      await chmod(readings, 0o600);
      expect(ran.status).toBe(3);
      expect(ran.err).toMatch(/shut: refused: The folder cannot be read: it may not be read by this user/);
      expect(ran.err).toMatch(/job 1 \(J-01\): refused: .*"readings\/as-left\.csv" cannot be read/);
      expect(ran.out).toMatch(/3 jobs: 1 reported, 0 unchanged, 2 refused/);
    },
  );

  test('raw readings are never replaced by a report: the output folder laid over the jobs', async () => {
    const jobs = join(await temporary(), 'jobs');
    await addJob(jobs, 'J-01', 'J-01');
    const before = fingerprint(join(jobs, 'J-01'));
    const ran = await batch(jobs, jobs);
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(/a job folder has this name/);
    expect(fingerprint(join(jobs, 'J-01'))).toEqual(before);
  });
});

describe('only what changed', () => {
  test('unchanged jobs are left, changed and damaged ones made anew, verdicts that flip are told', async () => {
    const jobs = await archiveOf(4);
    const out = await temporary();
    const made = async (...more: string[]) => {
      const ran = await batch(jobs, out, '--json', ...more);
      expect(ran.status).toBe(0);
      const list = JSON.parse(ran.out) as { jobs: { job: string; made: boolean }[] };
      return list.jobs
        .filter((j) => j.made)
        .map((j) => j.job)
        .sort();
    };
    expect(await made()).toEqual(['J-00', 'J-01', 'J-02', 'J-03']);
    const first = fingerprint(out);
    const written = (await stat(join(out, 'J-00/results.json'))).mtimeMs;
    expect(await made()).toEqual([]);
    expect(fingerprint(out)).toEqual(first);
    expect((await stat(join(out, 'J-00/results.json'))).mtimeMs).toBe(written);

    // Damaged, cut off, gone; a file of somebody else's beside is let be.
    await appendFile(join(out, 'J-01/stations.csv'), 'x');
    await rm(join(out, 'J-02/charts'), { recursive: true });
    await rm(join(out, 'J-03/manifest.json'));
    expect(await made()).toEqual(['J-01', 'J-02', 'J-03']);
    expect(fingerprint(out)).toEqual(first);

    // A register that was tampered with is made from the reports, not from itself.
    const register = await readFile(join(out, 'register.json'), 'utf8');
    await writeFile(join(out, 'register.json'), register.replaceAll('"conforms"', '"undecided"'));
    expect(await made()).toEqual([]);
    expect(fingerprint(out)).toEqual(first);

    expect(await made('--anew')).toEqual(['J-00', 'J-01', 'J-02', 'J-03']);
    expect(fingerprint(out)).toEqual(first);

    shiftReading(join(jobs, 'site 1/job 1'), 60);
    const flipped = await batch(jobs, out);
    expect(flipped.out).toContain('J-01: does not conform; it was: conforms\n');
    expect(flipped.out).toMatch(/4 jobs: 1 reported, 3 unchanged/);
    const row = (await registerOf(out)).jobs[1]!;
    expect(row).toMatchObject({ job: 'J-01', status: 'reported', verdict: 'does-not-conform' });
    if (row.status === 'reported') {
      expect(row.worst!.margin).toBeLessThan(0);
      expect(row.worst!.margin).toBeCloseTo((row.worst!.limit - row.worst!.value!) / row.worst!.limit, 12);
    }

    // A job that turns bad keeps its earlier report, and the register does not link to it.
    await writeFile(join(jobs, 'site 0/job 0/job.json'), '{"id": "J-00"}');
    expect((await batch(jobs, out)).status).toBe(3);
    expect(existsSync(join(out, 'J-00/report.html'))).toBe(true);
    expect(await readFile(join(out, 'register.html'), 'utf8')).not.toContain('href="./J-00');
  });

  test('with a PDF is another report than without; what was printed before is not printed again', async () => {
    const jobs = await archiveOf(2);
    const out = await temporary();
    await batch(jobs, out);
    // Other tests print at the same time.
    const TMPDIR = await temporary();
    const printed = () => start(['batch', jobs, '--out', out], { TMPDIR }).ended;
    const ran = await printed();
    expect(ran.out).toMatch(/2 jobs: 2 reported, 0 unchanged/);
    const first = fingerprint(out);
    for (const path of ['J-00/report.pdf', 'J-01/report.pdf', 'register.pdf'])
      expect(existsSync(join(out, path)), path).toBe(true);
    expect((await printed()).out).toMatch(/2 jobs: 0 reported, 2 unchanged/);
    expect(fingerprint(out)).toEqual(first);
    expect(readdirSync(TMPDIR).filter((name) => name.startsWith('waysheet-browser-'))).toEqual([]);
  });
});

describe('interrupted', () => {
  test('killed at three moments, the archive ends as if nothing had happened, with any number of workers', async () => {
    const jobs = await archiveOf(6);
    const whole = await temporary();
    await batch(jobs, whole, '--jobs', '1');
    const out = await temporary();
    for (const after of [1, 2, 4]) {
      const run = start(['batch', jobs, '--out', out, '--no-pdf', '--jobs', '3']);
      const isReport = (name: string) => name.startsWith('J-');
      await until(() => readdirSync(out).filter(isReport).length >= after);
      run.process.kill('SIGKILL');
      expect((await run.ended).signal).toBe('SIGKILL');
      // Whatever has its final name is complete.
      for (const name of readdirSync(out).filter(isReport)) {
        const entries = fingerprint(join(out, name));
        const all = fingerprint(join(whole, name));
        expect(entries).toEqual(all);
      }
    }
    expect((await batch(jobs, out, '--jobs', '3')).status).toBe(0);
    expect(fingerprint(out)).toEqual(fingerprint(whole));
  });

  test.skipIf(!isLinux)('a worker that is killed is replaced, and its job tried again', async () => {
    const jobs = await archiveOf(4);
    const out = await temporary();
    const run = start(['batch', jobs, '--out', out, '--no-pdf', '--jobs', '1', '--json']);
    const [worker] = await until(() => {
      const children = childrenOf(run.process.pid!);
      return children.length > 0 && readdirSync(out).includes('J-00') && children;
    });
    process.kill(worker!, 'SIGKILL');
    const ended = await run.ended;
    expect(ended.status).toBe(0);
    expect((JSON.parse(ended.out) as { counts: object }).counts).toMatchObject({ jobs: 4, reported: 4 });
  });

  test.skipIf(!isLinux)(
    'Ctrl-C finishes what runs and leaves the rest to the next run; no process stays',
    async () => {
      const jobs = await archiveOf(9);
      const out = await temporary();
      const run = start(['batch', jobs, '--out', out, '--no-pdf', '--jobs', '1']);
      await until(() => readdirSync(out).includes('J-00'));
      const workers = childrenOf(run.process.pid!);
      run.process.kill('SIGINT');
      const ended = await run.ended;
      expect(ended.status).toBe(1);
      expect(ended.err).toMatch(/stopped: it was interrupted/);
      const { counts } = await registerOf(out);
      expect(counts.reported).toBeGreaterThan(0);
      expect(counts.notDone).toBe(9 - counts.reported);
      expect(counts.notDone).toBeGreaterThan(0);
      expect(workers.filter((pid) => existsSync(`/proc/${pid}`))).toEqual([]);
      expect((await batch(jobs, out)).out).toMatch(new RegExp(`9 jobs: ${9 - counts.reported} reported`));
    },
  );
});

describe('the output folder', () => {
  test('two batches at once: the second is refused, with who holds the folder', async () => {
    const jobs = await archiveOf(3);
    const out = await temporary();
    const first = start(['batch', jobs, '--out', out, '--no-pdf', '--jobs', '1']);
    await until(() => existsSync(join(out, '.waysheet-batch.lock')));
    const second = await batch(jobs, out);
    expect(second.status).toBe(1);
    expect(second.err).toContain(`process ${first.process.pid} on`);
    const part = await batch(jobs, out, '--shard', '1/2');
    expect(part.status).toBe(1);
    expect((await first.ended).status).toBe(0);
    expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  test('one that cannot be written to stops the batch at once, with the reason', async () => {
    const jobs = await archiveOf(1);
    const parent = await temporary();
    await writeFile(join(parent, 'file'), '');
    const ran = await batch(jobs, join(parent, 'file', 'out'));
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(/ENOTDIR|EEXIST/);
    expect(ran.err).not.toMatch(/\n\s+at /);
  });
});
