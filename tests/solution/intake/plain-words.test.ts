/** What a person mistypes is named as what it is, once, at its place, or taken where it can mean one thing only. */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { diagnosticsToJson, formatDiagnostics } from '../../../src/base/diagnostics/format.js';
import { describe } from '../../../src/base/diagnostics/messages.js';
import { inspectJob } from '../../../src/solution/intake/load-job.js';
import { readSourceLines } from '../../../src/survey/readings/source-lines.js';
import { jobFolder } from '../../survey/job/made-up-job.js';

const HEAD = 'setup,rail,station,time,vertical\n';
const inspect = async (csv: string, change?: Parameters<typeof jobFolder>[1]) =>
  inspectJob(await jobFolder(csv, change));
const errorsOf = (found: Awaited<ReturnType<typeof inspect>>) =>
  found.diagnostics.filter(({ severity }) => severity === 'error');

/** As the terminal shows it, with the line of job.json. */
async function shown(change: (text: string) => string): Promise<string> {
  const folder = await jobFolder(`${HEAD}S1,A,1,,3.1\nS2,B,1,,1.0\n`);
  const path = join(folder, 'job.json');
  await writeFile(path, change(await readFile(path, 'utf8')));
  const { diagnostics } = await inspectJob(folder);
  const sources = await readSourceLines(folder, ['job.json'], []);
  return formatDiagnostics(diagnostics, { sources });
}

test('a typographic quotation mark is called that, and its line is shown with the mark under it', async () => {
  const text = await shown(() => '{\n  "format": “waysheet-job/1”\n}');
  expect(text).toContain('the quotation mark “ is a typographic one');
  expect(text).toMatch(/ {5}2 \| {3}"format": “waysheet-job\/1”\n +\| +\^/);
});

test('of several keys of one name on a line the one that is meant is marked', async () => {
  const text = await shown((job) =>
    job.replace(
      /"monuments": \[[^\]]*\]/,
      '"monuments": [{ "id": "M1", "along": 1, "across": 2 }, { "id": "M2", "along": "x", "across": 2 }]',
    ),
  );
  const [line, under] = text.split('\n').filter((l) => l.includes(' | ')) as [string, string];
  expect(line.slice(under.indexOf('^'), under.lastIndexOf('^') + 1)).toBe('"along": "x"');
});

test('ids in other capitals or with blanks are taken as what they are, and that is said', async () => {
  const found = await inspect(`${HEAD}s1,a,1,,3.1\nS 1,A,2,,3.2\nS2,B,1,,1.0\n`);
  expect(errorsOf(found)).toEqual([]);
  const taken = found.diagnostics.filter(({ code }) => code === 'ID_TAKEN_AS').map(({ data }) => data);
  expect(taken).toEqual([
    { kind: 'set-up', found: 's1', taken: 'S1' },
    { kind: 'rail', found: 'a', taken: 'A' },
    { kind: 'set-up', found: 'S 1', taken: 'S1' },
  ]);
  const plain = await inspect(`${HEAD}S1,A,1,,3.1\nS1,A,2,,3.2\nS2,B,1,,1.0\n`);
  expect(found.readings).toEqual(plain.readings);
});

test('a point written as one id is told apart', async () => {
  const found = await inspect(`${HEAD}S1,A1,,,3.1\nS1,A 2,,,3.2\nS2,B,1,,1.0\n`);
  expect(errorsOf(found).map(describe)).toEqual([
    'There is no rail "A1". It looks like rail A, station 1: write them into two columns, rail and station.',
    'There is no rail "A 2". It looks like rail A, station 2: write them into two columns, rail and station.',
  ]);
});

test('the other decimal mark: how to write the number', async () => {
  const found = await inspect(
    'setup;rail;station;vertical\nS1;A;1;3.1\nS1;A;2;4.25\nS1;A;3;4,5\nS2;B;1;1.5\n',
  );
  expect(errorsOf(found).map(describe).join()).toContain('write 4.5');
});

test('a day above 12 settles the order of day and month; days that show both orders do not', async () => {
  const rows = (...days: string[]) =>
    HEAD + days.map((day, k) => `S1,A,${k + 1},${day} 08:00,3.${k}\n`).join('') + 'S2,B,1,,1.0\n';
  const shownOrder = await inspect(rows('03/04/2026', '13/04/2026'));
  expect(errorsOf(shownOrder)).toEqual([]);
  expect(shownOrder.readings!.phases.get('as-left')![0]!.time).toBe('2026-04-03T08:00');
  expect(shownOrder.inputs[1]!.read).toContain('dates day-month');
  expect(errorsOf(await inspect(rows('03/04/2026', '04/05/2026')))).toHaveLength(2);
  expect(errorsOf(await inspect(rows('03/14/2026', '13/04/2026'))).length).toBeGreaterThan(0);
});

test('units in a person’s own words, in job.json and in cells, where they mean one thing', async () => {
  const found = await inspect(
    'setup,rail,station,vertical (mic)\nS1,A,1,3.1\nS1,A,2,0.001 in.\nS1,A,3,4 µm\nS1,A,4,4 μm\nS2,B,1,1.5\n',
    (job) => {
      job.units.reading = 'µm' as 'um';
      job.instruments[0]!.reading.unit = 'microns' as 'um';
    },
  );
  expect(errorsOf(found)).toEqual([]);
  expect(
    found.readings!.phases.get('as-left')!.map((r) => (r.kind === 'offset' ? Number(r.um.toFixed(6)) : null)),
  ).toEqual([3.1, 25.4, 4, 4, 1.5]);
});

test('many rows with one cause are one entry of --json too, with all its rows', async () => {
  const rows = Array.from({ length: 40 }, (_, k) => `S1,A,${(k % 20) + 1},,3.${k},x\n`).join('');
  const found = await inspect(`${HEAD.trim()},note\n${rows.replaceAll('S1,', 'S7,')}S2,B,1,,1.0,\n`);
  const [one, ...others] = diagnosticsToJson(errorsOf(found)).filter(
    (d) => d.code === 'READING_SETUP_UNKNOWN',
  );
  expect(others).toEqual([]);
  expect(one).toMatchObject({ row: 2, count: 40 });
  expect(one!.rows).toHaveLength(40);
});
