/** `check --fix`: what is asked, what is written, and that nothing else is touched. */
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { expect, test } from 'vitest';
import { fixJob, replaceJob } from '../../src/cli/fix-job.js';
import { inspectJob } from '../../src/solution/intake/load-job.js';
import { keyOfFinding, offersOf, tryFix } from '../../src/solution/intake/offers.js';
import { CSV, jobFolder } from '../survey/job/made-up-job.js';
import { changeRows, copyOf } from '../support/folders.js';

/** Answers each question as it comes; after the last one the line is closed. */
async function fix(folder: string, answers: readonly string[]) {
  const input = new PassThrough();
  const output = new PassThrough();
  let seen = '';
  let next = 0;
  output.on('data', (chunk: Buffer) => {
    seen += String(chunk);
    if (!/(?:\? \[y\/N\]|: ) ?$/.test(seen)) return;
    const answer = answers[next++];
    setImmediate(() => (answer === undefined ? input.end() : input.write(`${answer}\n`)));
  });
  const written = await fixJob(folder, { input, output }, output);
  return { written, seen, asked: next };
}

const jobText = (folder: string) => readFile(join(folder, 'job.json'), 'utf8');
const readingsOf = (folder: string) => readFile(join(folder, 'readings/as-left.csv'), 'utf8');

const FOREIGN = 'Set-up;Track;Stn No.;Vert.\nS1;A;1;3,1\nS1;A;2;4,5\nS1;A;3;4,1\nS2;A;1;1,0\n';

test('a mapping is shown as a change of job.json and made after a yes; the readings and the earlier file stay', async () => {
  const folder = await jobFolder(FOREIGN);
  const [before, readings] = [await jobText(folder), await readingsOf(folder)];
  const { written, seen } = await fix(folder, ['y']);
  expect(written).toBe(1);
  expect(seen).toContain('"station": "Stn No."');
  expect(seen).toMatch(/^ {2}\+.*"columns"/m);
  // The few rows of this test leave most stations unread, which is asked next.
  expect((await inspectJob(folder)).soFar).not.toBeNull();
  expect(await readFile(join(folder, 'job.json.1'), 'utf8')).toBe(before);
  expect(await readingsOf(folder)).toBe(readings);
  const entry = (JSON.parse(await jobText(folder)) as { readings: object[] }).readings[0];
  expect(entry).toMatchObject({ file: 'readings/as-left.csv', columns: { vertical: 'Vert.' } });
});

test.each(['n', '', 'what?'])('after %j nothing is written', async (answer) => {
  const folder = await jobFolder(FOREIGN);
  const before = await jobText(folder);
  expect((await fix(folder, [answer])).written).toBe(0);
  expect(await jobText(folder)).toBe(before);
  expect((await readdir(folder)).filter((name) => name.startsWith('job.json'))).toEqual(['job.json']);
});

test('an earlier job.json that was kept is never overwritten', async () => {
  const folder = await jobFolder(FOREIGN);
  await writeFile(join(folder, 'job.json.1'), 'precious');
  const before = await jobText(folder);
  expect(await replaceJob(folder, before, before.replace('T-1', 'T-2'))).toBe('job.json.2');
  expect(await readFile(join(folder, 'job.json.1'), 'utf8')).toBe('precious');
  expect(await readFile(join(folder, 'job.json.2'), 'utf8')).toBe(before);
});

test('a job.json that someone changed between question and answer is not overwritten', async () => {
  const folder = await jobFolder();
  const before = await jobText(folder);
  await writeFile(join(folder, 'job.json'), `${before} `);
  await expect(replaceJob(folder, before, 'x')).rejects.toThrow('changed by someone else');
  expect(await jobText(folder)).toBe(`${before} `);
  expect((await readdir(folder)).filter((name) => name.startsWith('job.json'))).toEqual(['job.json']);
});

/** A pass that was copied from another: it must be confirmed. */
async function copiedPass(): Promise<string> {
  const folder = await copyOf('TH-2031');
  await changeRows(folder, 'readings/as-left.csv', (header, rows) => {
    const at = (name: string) => header.indexOf(name);
    const keyOf = (row: string[], pass: string) =>
      [row[at('setup')], row[at('rail')], row[at('station')], pass].join();
    const first = new Map(rows.map((row) => [keyOf(row, row[at('pass')]!), row]));
    return rows.map((row) => {
      const one = row[at('rail')] === 'B' && row[at('pass')] === '2' ? first.get(keyOf(row, '1')) : undefined;
      if (one === undefined) return row;
      return row.map((cell, i) => (i === at('vertical') ? one[i]! : cell));
    });
  });
  return folder;
}

test('what is right as it is, is confirmed by a name and a reason that were typed, and then passes', async () => {
  const folder = await copiedPass();
  const asked = (await inspectJob(folder)).diagnostics.filter(({ severity }) => severity === 'confirm');
  expect(asked.map(({ code }) => code)).toContain('PASSES_IDENTICAL');
  const answers = ['y', 'J. Mill', 'read off a chart', 'y'];
  const { written, seen } = await fix(folder, answers);
  expect(seen).toContain('Who confirms it');
  expect(written).toBe(1);
  const { confirmed } = JSON.parse(await jobText(folder)) as { confirmed: object[] };
  expect(confirmed).toEqual([
    { what: 'PASSES_IDENTICAL', in: 'readings/as-left.csv', by: 'J. Mill', because: 'read off a chart' },
  ]);
  const left = (await inspectJob(folder)).diagnostics.filter(({ code }) => code === 'PASSES_IDENTICAL');
  expect(left.every(({ severity }) => severity === 'warning')).toBe(true);
});

test('a confirmation without a reason is none', async () => {
  const folder = await copiedPass();
  const { written, seen } = await fix(folder, ['y', 'J. Mill', '']);
  expect(written).toBe(0);
  expect(seen).toContain('a name and a reason are needed');
});

test('a change that would raise another refusal is not offered', async () => {
  const folder = await jobFolder(`${CSV}S1,A,22,,,,,1.0,,,,\n`);
  const text = await jobText(folder);
  const before = await inspectJob(folder, null);
  const bad = { kind: 'job', text: '', edits: [{ path: ['units', 'reading'], value: 'parsec' }] } as const;
  const kind = keyOfFinding(before.diagnostics[0]!);
  expect(await tryFix({ folder, text, before }, bad, kind)).toBeNull();
  // One that ends nothing is none.
  const harmless = { kind: 'job', text: '', edits: [{ path: ['title'], value: 'another' }] } as const;
  expect(await tryFix({ folder, text, before }, harmless, kind)).toBeNull();
  expect(await jobText(folder)).toBe(text);
});

/** What is wrong with job.json or its files, and the changes that are offered: each was tried, and the job can then be reported. */
const fixable: readonly (readonly [string, (text: string) => string, readonly string[]])[] = [
  [
    'a misspelt key',
    (t) => t.replace('"levelled"', '"leveled"'),
    ['The key "leveled" is called "levelled".'],
  ],
  [
    'a day as an office writes it',
    (t) => t.replace('"2026-03-14"', '"14.03.2026"'),
    ['"14.03.2026" means "2026-03-14".'],
  ],
  ['a decimal comma', (t) => t.replace('"u": 1.5', '"u": "1,5"'), ['"1,5" means 1.5.']],
  ['a side with a capital', (t) => t.replace('"vertical": "up"', '"vertical": "Up"'), ['"Up" means "up".']],
  [
    'a path with \\',
    (t) => t.replace('readings/as-left', 'readings\\\\as-left'),
    ['"readings\\\\as-left.csv" means "readings/as-left.csv".'],
  ],
  [
    'a file under another name',
    (t) => t.replace('as-left.csv', 'asleft.csv'),
    ['The file is called readings/as-left.csv.'],
  ],
  [
    'a file that nobody named',
    (t) => t.replace(/,\s*\{\s*"file": "readings\/as-left.csv"[^}]*\}/, ''),
    ['readings/as-left.csv is read, as readings of the phase as-left.'],
  ],
  ['a unit that may be two', (t) => t.replace('"unit": "um"', '"unit": "umm"'), []],
  ['a key that is like no other', (t) => t.replace('"levelled"', '"zzz"'), []],
];

test.each(fixable)('%s: what is offered was tried, and works', async (_, change, texts) => {
  const folder = await copyOf('TH-2031');
  const text = change(await jobText(folder));
  expect(text).not.toBe(await jobText(folder));
  await writeFile(join(folder, 'job.json'), text);
  const before = await inspectJob(folder);
  const offered: string[] = [];
  for (const { fixes, findings } of await offersOf(folder, before, text))
    for (const one of fixes) {
      const changed = await tryFix({ folder, text, before }, one, keyOfFinding(findings[0]!));
      if (changed === null) continue;
      offered.push(one.text);
      expect((await inspectJob(folder, null, { jobText: changed })).loaded).not.toBeNull();
    }
  expect(offered).toEqual(texts);
});

test('three misspelt keys are asked about one by one', async () => {
  const folder = await copyOf('TH-2031');
  const text = await jobText(folder);
  const keys = { levelled: 'leveled', across: 'acros', surveyed: 'surveyd' };
  const wrong = Object.entries(keys).reduce((t, [key, typed]) => t.replace(`"${key}"`, `"${typed}"`), text);
  await writeFile(join(folder, 'job.json'), wrong);
  expect((await fix(folder, ['y', 'y', 'y'])).written).toBe(3);
  expect(await jobText(folder)).toBe(text);
});

test('what the file does not tell is said, and no change is proposed before it is known', async () => {
  const folder = await jobFolder('Stn No.,A P1,A P2\n1,3.1,3.2\n2,3.3,3.4\n');
  const { written, seen } = await fix(folder, []);
  expect(written).toBe(0);
  expect(seen).toContain('axis: one of vertical, horizontal, along');
  const text = await jobText(folder);
  expect((await offersOf(folder, await inspectJob(folder), text))[0]!.fixes).toEqual([]);
});
