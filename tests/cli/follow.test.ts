/** The page that follows a survey: it is written anew as files are saved, also while one of them is half-written. */
import { program } from '../support/program.js';
import { spawn } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { waysheet } from '../support/command.js';
import { copyOf, levelledShot, makeJob } from '../support/folders.js';

test('what is saved shows, an unreadable file too, and Ctrl-C ends it', async () => {
  const job = await copyOf('TH-0412');
  const page = join(job, 'follow.html');
  const file = join(job, 'readings/as-left.csv');
  const child = spawn(process.execPath, [program(), 'follow', job, '--json'], {
    stdio: 'pipe',
  });
  let said = '';
  child.stdout.on('data', (text: Buffer) => (said += text.toString()));
  const ended = new Promise<number | null>((resolve) => child.on('exit', resolve));
  const lines = () =>
    said
      .split('\n')
      .filter(Boolean)
      .map((line) => JSON.parse(line) as { verdict: string | null });
  const until = async (n: number) => {
    for (let k = 0; k < 300 && lines().length < n; k++) await sleep(100);
    expect(lines().length).toBeGreaterThanOrEqual(n);
  };
  try {
    await until(1);
    expect(lines()[0]).toMatchObject({ job: 'TH-0412', mayGo: true, verdict: 'conforms', errors: 0 });
    const first = await readFile(page, 'utf8');
    expect(first).toMatch(/You may go\. Every tolerance is decided\./);
    expect(first).not.toMatch(/http-equiv="refresh"/);
    expect(first).toMatch(/As left, so far: ✓ conforms/);
    expect(first).toMatch(/It is no report/);
    const text = await readFile(file, 'utf8');
    await writeFile(file, text.slice(0, text.length / 2));
    await until(2);
    await writeFile(file, text.replace(/(S1,A,3,[^\n]*,)[-\d.]+,([-\d.]+)/, '$1abc,$2'));
    await until(3);
    expect(lines().at(-1)!.verdict).toBeNull();
    expect(await readFile(page, 'utf8')).toMatch(/Not to be worked out yet: one problem/);
    await writeFile(file, text);
    await until(4);
    expect(lines().at(-1)!.verdict).toBe('conforms');
  } finally {
    child.kill('SIGINT');
  }
  expect(await ended).toBe(0);
});

test('one look: a file that is not filled in has its name, and what a move has still to go shows', async () => {
  const rows = (values: readonly (number | '')[]) =>
    ['setup,rail,station,vertical', ...values.map((v, i) => `S1,A,${i + 1},${v}`), ''].join('\n');
  const folder = await makeJob(
    {
      ...levelledShot('as-found', 1, 0.5),
      rails: [{ id: 'A', across: 0, datum: true, stations: { first: 0, spacing: 500, count: 5 } }],
      readings: ['as-found', 'as-left'].map((phase) => ({ file: `${phase}.csv`, phase })),
      tolerances: [{ what: 'straightness-vertical', rail: 'A', limit: 40, unit: 'um' }],
      adjusters: [1, 2, 3, 4, 5].map((k) => ({
        ...{ id: `J${k}`, rail: 'A', along: 500 * (k - 1) },
        moves: { vertical: { up: 2, down: 2, unit: 'mm' } },
      })),
    },
    { 'as-found.csv': rows([0, 5, 120, 10, 0]), 'as-left.csv': rows(['', '', '', '', '']) },
  );
  const page = async () => {
    expect(await waysheet('follow', folder, '--once')).toMatchObject({ status: 0 });
    return readFile(join(folder, 'follow.html'), 'utf8');
  };
  const blank = await page();
  expect(blank).toMatch(/as-left\.csv \(job\.json: \d+\)/);
  expect(blank).not.toContain('readings[1]');
  await writeFile(join(folder, 'as-left.csv'), rows(['', '', 60, '', '']));
  expect(await page()).toMatch(/J3, read at A:3, height[^]*µm to lower/);
});
