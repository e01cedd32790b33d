/** The command itself: usage, statuses, and faults that really happen: kill -9, a second watch, full and read-only disks. */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { cp, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { sample, temporary } from '../support/folders.js';
import { membersOf, zipOf } from '../support/zip.js';
import {
  addJob,
  archiveOf,
  childrenOf,
  fingerprint,
  isLinux,
  registerOf,
  smallDisk,
  start,
  until,
  waysheet,
} from './batch-support.js';
import { anInbox, namesIn, type Inbox } from './watch-support.js';

vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const QUICK = ['--poll', '0.05', '--settle', '0.2'];
const argsOf = ({ inbox, out }: Inbox, more: string[] = []) => [
  'watch',
  inbox,
  '--out',
  out,
  ...QUICK,
  '--no-pdf',
  ...more,
];

/** What the command has said so far. */
function listening(args: readonly string[]) {
  const run = start(args);
  let said = '';
  for (const stream of [run.process.stdout!, run.process.stderr!])
    stream.on('data', (text: string) => (said += text));
  return { ...run, said: () => said };
}

describe('usage', () => {
  test.each([
    [['watch'], 2, /name one folder that jobs are dropped into/],
    [['watch', 'a', '--poll', '0'], 2, /--poll takes a number of seconds from 0.05 to 3600, not '0'/],
    [['watch', 'a', '--settle', 'soon'], 2, /--settle takes/],
    [['watch', sample('TH-0412')], 2, /is a job folder; the inbox is the folder/],
    [['watch', 'no such folder'], 3, /cannot be watched: ENOENT/],
  ])('%j: status %i', async (args, status, reason) => {
    const ran = await waysheet(...args);
    expect(ran.status).toBe(status);
    expect(ran.err).toMatch(reason);
  });

  test('an output folder that is the inbox, holds it, or lies where drops are put away', async () => {
    const { inbox } = await anInbox();
    for (const out of [inbox, join(inbox, '..'), join(inbox, 'done'), join(inbox, 'Refused/x')]) {
      const ran = await waysheet(...argsOf({ inbox, out }, ['--once']));
      expect(ran.status).toBe(2);
    }
    // Within it under another name is well.
    await addJob(inbox, 'J-1', 'J-1');
    for (let k = 0; k < 2; k++)
      expect(await waysheet(...argsOf({ inbox, out: join(inbox, 'reports') }, ['--once']))).toMatchObject({
        status: 0,
      });
    expect(await namesIn(inbox)).toEqual(['done', 'reports']);
  });
});

test('one JSON line an event; with PDFs; status 3 of --once when something was refused', async () => {
  const { inbox, out } = await anInbox();
  await addJob(inbox, 'J-1', 'J-1');
  await writeFile(join(inbox, 'bad.zip'), zipOf([{ name: '/etc/x' }]));
  const ran = await waysheet('watch', inbox, '--out', out, ...QUICK, '--once', '--json');
  expect(ran.status).toBe(3);
  expect(ran.err).toBe('');
  const events = ran.out
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as { event: string; drop?: string });
  expect(events.map(({ event }) => event)).toEqual(['watching', 'refused', 'done', 'ended']);
  expect(events[1]).toMatchObject({
    drop: 'bad.zip',
    to: 'refused/bad.zip',
    page: 'refused/bad.zip.problems.html',
    jobs: [{ status: 'refused', job: null, problems: [{ code: 'ZIP_LEADS_OUT', file: 'bad.zip' }] }],
  });
  expect(events[2]).toMatchObject({
    drop: 'J-1',
    to: 'done/J-1',
    page: null,
    jobs: [{ status: 'reported', job: 'J-1', made: true, verdict: 'conforms', before: null }],
  });
  expect(existsSync(join(out, 'J-1/report.pdf'))).toBe(true);
  expect(existsSync(join(out, 'register.pdf'))).toBe(true);
});

test('two watches on one inbox or one output folder, and a batch beside one: refused, with who holds it', async () => {
  const places = await anInbox();
  const other = await anInbox();
  const first = listening(argsOf(places));
  await until(() => first.said().includes('Watching'));
  for (const args of [
    argsOf(places),
    argsOf({ ...other, inbox: places.inbox }),
    argsOf({ ...places, inbox: other.inbox }),
    ['batch', sample('.'), '--out', places.out],
  ]) {
    const ran = await waysheet(...args);
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(new RegExp(`in use by another watch: process ${first.process.pid} on`));
  }
  // Which hold nothing, and have harmed nothing.
  await cp(sample('TH-0412'), join(places.inbox, 'J'), { recursive: true });
  await until(() => existsSync(join(places.inbox, 'done/J')));
  first.process.kill('SIGINT');
  expect((await first.ended).status).toBe(0);
  expect(await waysheet(...argsOf(other, ['--once']))).toMatchObject({ status: 0 });
});

describe.skipIf(!isLinux)('ended from outside', () => {
  test('Ctrl-C: what runs is finished and put away, the register is whole, no process stays: status 0', async () => {
    const places = await anInbox();
    const run = listening(argsOf(places));
    await addJob(places.inbox, 'J-1', 'J-1');
    const worker = await until(() => childrenOf(run.process.pid!)[0]);
    run.process.kill('SIGINT');
    expect((await run.ended).status).toBe(0);
    expect(existsSync(`/proc/${worker}`)).toBe(false);
    const isDone = existsSync(join(places.inbox, 'done/J-1'));
    expect(existsSync(join(places.inbox, 'J-1'))).toBe(!isDone);
    if (isDone) expect((await registerOf(places.out)).counts.reported).toBe(1);
    expect(readdirSync(places.inbox).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  test('kill -9 again and again: nothing lost, nothing twice, and all ends as if nothing had happened', async () => {
    const archive = await archiveOf(6);
    const drops = async (inbox: string) => {
      for (let k = 0; k < 6; k++) {
        const job = join(archive, `site ${k % 2}/job ${k}`);
        if (k % 3 === 2) await writeFile(join(inbox, `drop ${k}.zip`), zipOf(membersOf(job, `job ${k}/`)));
        else await cp(job, join(inbox, `drop ${k}`), { recursive: true });
      }
      await writeFile(join(inbox, 'bad.zip'), zipOf([{ name: '../x' }]));
    };
    const calm = await anInbox();
    await drops(calm.inbox);
    expect((await waysheet(...argsOf(calm, ['--once']))).status).toBe(3);

    const places = await anInbox();
    await drops(places.inbox);
    const put = () =>
      ['done', 'refused'].flatMap((name) =>
        existsSync(join(places.inbox, name)) ? readdirSync(join(places.inbox, name)) : [],
      ).length;
    for (let kill = 0; kill < 5; kill++) {
      const already = put();
      const run = start(argsOf(places));
      // Mid-work, and each time a little later in it: after the workers began, after something was put away.
      await until(() => childrenOf(run.process.pid!).length > 0 || put() > already, 60_000);
      await new Promise((resolve) => setTimeout(resolve, kill * 180));
      run.process.kill('SIGKILL');
      await run.ended;
    }
    expect((await waysheet(...argsOf(places, ['--once']))).status).toBeOneOf([0, 3]);
    expect(fingerprint(places.out)).toEqual(fingerprint(calm.out));
    expect(fingerprint(places.inbox)).toEqual(fingerprint(calm.inbox));
    expect(readdirSync(places.out).filter((name) => /\.(?:new|old)$/.test(name))).toEqual([]);
  });
});

describe.skipIf(!isLinux)('a disk', () => {
  test('for reports that is full: the drop stays, the reason is told once, and it goes on when there is room', async ({
    skip,
  }) => {
    const disk = await smallDisk(1);
    if (disk === null) return skip();
    try {
      const places = { ...(await anInbox()), out: join(disk, 'out') };
      await mkdir(places.out);
      const filler = join(disk, 'filler');
      await writeFile(filler, Buffer.alloc(700 * 1024));
      await addJob(places.inbox, 'J-1', 'J-1');
      await writeFile(join(places.inbox, 'J-2.zip'), zipOf(membersOf(sample('TH-0412'), '')));
      const run = listening(argsOf(places));
      await until(() => /J-1: stays where it is: .*ENOSPC.*\. It is tried again/.test(run.said()), 60_000);
      expect(existsSync(join(places.inbox, 'J-1/job.json'))).toBe(true);
      await rm(filler);
      execFileSync('mount', ['-o', 'remount,size=30m', disk]);
      await until(() => existsSync(join(places.inbox, 'done/J-1')), 60_000);
      await until(() => existsSync(join(places.inbox, 'done/J-2.zip')), 60_000);
      run.process.kill('SIGINT');
      const { status, err } = await run.ended;
      expect(status).toBe(0);
      expect(err.match(/J-1: stays/g)).toHaveLength(1);
      expect((await registerOf(places.out)).counts.reported).toBe(2);
    } finally {
      execFileSync('umount', ['-l', disk]);
    }
  });

  test('of the inbox that may only be read: reported all the same, the drop stays and is moved later; told', async ({
    skip,
  }) => {
    const disk = await smallDisk(5);
    if (disk === null) return skip();
    try {
      const places = { ...(await anInbox()), inbox: disk };
      const run = listening(argsOf(places));
      await until(() => run.said().includes('Watching'));
      await addJob(disk, 'J-1', 'J-1');
      execFileSync('mount', ['-o', 'remount,ro', disk]);
      await until(() => /J-1: stays where it is: .*EROFS/.test(run.said()), 60_000);
      expect(existsSync(join(places.out, 'J-1/report.html'))).toBe(true);
      execFileSync('mount', ['-o', 'remount,rw', disk]);
      await until(() => existsSync(join(disk, 'done/J-1')), 60_000);
      run.process.kill('SIGTERM');
      const { status, out } = await run.ended;
      expect(status).toBe(0);
      // Made in the first attempt, told when it was put away.
      expect(out).toMatch(/^J-1: conforms\. .*report\.html\. Moved to done\/J-1\.$/m);
      // One that begins there can do nothing, and says so.
      execFileSync('mount', ['-o', 'remount,ro', disk]);
      const ran = await waysheet(...argsOf(places, ['--once']));
      expect(ran.status).toBe(1);
      expect(ran.err).toMatch(/EROFS/);
      expect(await readFile(join(disk, 'done/J-1/job.json'), 'utf8')).toContain('J-1');
    } finally {
      execFileSync('umount', ['-l', disk]);
    }
  });
});

test('not a word of progress where there is no terminal', async () => {
  const places = { ...(await anInbox()), inbox: join(await temporary()) };
  const ran = await waysheet(...argsOf(places, ['--once']));
  expect(ran).toMatchObject({ status: 0, out: '' });
  expect(ran.err.trim().split('\n')).toHaveLength(1);
});
