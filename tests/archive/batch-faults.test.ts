/** Faults that really happen: browsers and programs killed while they print, a disk that fills up. Linux. */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { sample, temporary } from '../support/folders.js';
import {
  archiveOf,
  childrenOf,
  fingerprint,
  isLinux,
  processesNaming,
  smallDisk,
  start,
  until,
  waysheet,
} from './batch-support.js';

/** Browsers of this program: their profile folders carry the number of the process that started them. */
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const browsersOf = (worker: number) =>
  processesNaming(`--user-data-dir=${join(tmpdir(), `waysheet-browser-${worker}-`)}`);

const foldersOf = (worker: number) =>
  readdirSync(tmpdir()).filter((name) => name.startsWith(`waysheet-browser-${worker}-`));

describe.skipIf(!isLinux)('while it prints', () => {
  let jobs: string;
  let whole: Record<string, string>;
  beforeAll(async () => {
    jobs = await archiveOf(5);
    const out = await temporary();
    expect((await waysheet('batch', jobs, '--out', out)).status).toBe(0);
    whole = fingerprint(out);
  });

  /** A run of one worker that has printed something and is at it. */
  async function printing(): Promise<{
    out: string;
    run: ReturnType<typeof start>;
    worker: number;
    browser: number;
  }> {
    const out = await temporary();
    const run = start(['batch', jobs, '--out', out, '--jobs', '1']);
    await until(() => existsSync(join(out, 'J-00')), 60_000);
    const worker = childrenOf(run.process.pid!)[0]!;
    const browser = browsersOf(worker)[0]!;
    return { out, run, worker, browser };
  }

  test('a browser killed is replaced: every report is the same as without', async () => {
    const { out, run, browser, worker } = await printing();
    process.kill(browser, 'SIGKILL');
    expect((await run.ended).status).toBe(0);
    expect(fingerprint(out)).toEqual(whole);
    expect(browsersOf(worker)).toEqual([]);
  });

  test('a browser that stands still is ended with its worker at the time limit', async () => {
    const out = await temporary();
    const run = start(['batch', jobs, '--out', out, '--jobs', '1', '--limit', '25']);
    await until(() => existsSync(join(out, 'J-00')), 60_000);
    const worker = childrenOf(run.process.pid!)[0]!;
    for (const pid of browsersOf(worker)) process.kill(pid, 'SIGSTOP');
    expect((await run.ended).status).toBe(0);
    expect(fingerprint(out)).toEqual(whole);
    expect(browsersOf(worker)).toEqual([]);
    expect(foldersOf(worker)).toEqual([]);
  });

  test('a worker killed leaves no browser and no folder of it; its job is tried again', async () => {
    const { out, run, worker } = await printing();
    process.kill(worker, 'SIGKILL');
    expect((await run.ended).status).toBe(0);
    expect(fingerprint(out)).toEqual(whole);
    expect(browsersOf(worker)).toEqual([]);
    expect(foldersOf(worker)).toEqual([]);
  });

  test('the program killed: workers and browsers end by themselves, and the next run finishes', async () => {
    const { out, run, worker } = await printing();
    run.process.kill('SIGKILL');
    await run.ended;
    await until(() => !existsSync(`/proc/${worker}`) && browsersOf(worker).length === 0);
    expect((await waysheet('batch', jobs, '--out', out)).status).toBe(0);
    expect(fingerprint(out)).toEqual(whole);
  });

  test('Ctrl-C twice: an end at once, and no process stays', async () => {
    const { run, worker } = await printing();
    run.process.kill('SIGINT');
    run.process.kill('SIGTERM');
    const { status } = await run.ended;
    expect(status).toBe(1);
    expect(existsSync(`/proc/${worker}`)).toBe(false);
    expect(browsersOf(worker)).toEqual([]);
    expect(foldersOf(worker)).toEqual([]);
  });
});

describe.skipIf(!isLinux)('a disk', () => {
  let disk: string | null;
  beforeAll(async () => {
    disk = await smallDisk(3);
  });
  afterAll(() => {
    if (disk !== null) execFileSync('umount', [disk]);
  });

  test('that may only be read, or whose place a file has, is said in words by report, batch and watch', async ({
    skip,
  }) => {
    if (disk === null) return skip();
    const jobs = await archiveOf(1);
    const file = join(await temporary(), 'out');
    await writeFile(file, 'x');
    const commands = [
      ['report', sample('TH-2031'), '--no-pdf'],
      ['batch', jobs, '--no-pdf'],
      ['watch', jobs],
    ];
    execFileSync('mount', ['-o', 'remount,ro', disk]);
    try {
      for (const [name, ...rest] of commands) {
        const ofDisk = await waysheet(name!, ...rest, '--out', join(disk, 'new', 'out'));
        expect(ofDisk).toMatchObject({
          status: 1,
          err: expect.stringContaining('the disk may only be read'),
        });
        const ofFile = await waysheet(name!, ...rest, '--out', file);
        expect(ofFile).toMatchObject({
          status: 1,
          err: expect.stringContaining('there is a file where a folder is needed'),
        });
      }
    } finally {
      execFileSync('mount', ['-o', 'remount,rw', disk]);
    }
    expect(readFileSync(file, 'utf8')).toBe('x');
  });

  test('that fills up stops the batch with the reason; whole reports stay, and the next run goes on', async ({
    skip,
  }) => {
    if (disk === null) return skip();
    const jobs = await archiveOf(5);
    const out = join(disk, 'out');
    const full = await waysheet('batch', jobs, '--out', out, '--no-pdf', '--jobs', '1');
    expect(full.status).toBe(1);
    expect(full.err).toMatch(/ENOSPC/);
    expect(full.err).not.toMatch(/\n\s+at /);
    const reports = readdirSync(out).filter((name) => name.startsWith('J-'));
    expect(reports.length).toBeGreaterThan(0);
    expect(reports.length).toBeLessThan(5);
    const room = await temporary();
    await waysheet('batch', jobs, '--out', room, '--no-pdf');
    for (const id of reports) expect(fingerprint(join(out, id))).toEqual(fingerprint(join(room, id)));
    expect(readdirSync(out).filter((name) => name.endsWith('.new'))).toEqual([]);
    // More room: it goes on from where it was.
    execFileSync('mount', ['-o', 'remount,size=30m', disk]);
    const again = await waysheet('batch', jobs, '--out', out, '--no-pdf');
    expect(again.out).toContain(`${5 - reports.length} reported, ${reports.length} unchanged`);
    expect(fingerprint(out)).toEqual(fingerprint(room));
  });

  test('that may only be read is said so at once', async ({ skip }) => {
    if (disk === null) return skip();
    await rm(join(disk, 'out'), { recursive: true, force: true });
    execFileSync('mount', ['-o', 'remount,ro', disk]);
    const ran = await waysheet('batch', await archiveOf(1), '--out', join(disk, 'out'), '--no-pdf');
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(/EROFS|cannot be made/);
  });
});
