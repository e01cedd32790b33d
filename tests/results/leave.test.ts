/** May the crew go: when everything is decided or nothing at the machine can decide it, and not before. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { leaveHead, leaveLines } from '../../src/pages/report/leave-words.js';
import { leaveOf } from '../../src/results/leave.js';
import { inspectJob } from '../../src/solution/intake/load-job.js';
import { lookedAgain } from '../../src/survey/readings/looked-again.js';
import type { OffsetReading } from '../../src/survey/readings/readings.js';
import { runCheck } from '../../src/cli/check.js';
import { changeJob, changeRows, copyOf, sample } from '../support/folders.js';

async function leave(folder: string) {
  const inspection = await inspectJob(folder);
  const left = leaveOf(inspection);
  const job = inspection.soFar?.job ?? null;
  return { ...left, head: leaveHead(left), lines: leaveLines(left, job).flatMap(({ texts }) => texts) };
}

describe('it lets the crew go', () => {
  test.each(['TH-0412', 'TH-2031', 'TH-3318'])('everything is decided: %s', async (id) => {
    expect(await leave(sample(id))).toMatchObject({ mayGo: true, because: 'all-decided' });
  });

  test.each(['TH-1175', 'TH-4520'])('nothing at the machine decides what is open: %s', async (id) => {
    const left = await leave(sample(id));
    expect(left).toMatchObject({ mayGo: true, because: 'nothing-decides', repeat: null });
    expect(left.head).toBe(
      'You may go. One tolerance is not decided, and nothing that a crew can still read would decide it.',
    );
  });
});

/** The sample with its sheet changed. */
async function changed(id: string, change: (header: string[], rows: string[][]) => string[][]) {
  const folder = await copyOf(id);
  await changeRows(folder, 'readings/as-left.csv', change);
  return folder;
}

const blanked = (header: readonly string[], cells: readonly string[]) =>
  cells.map((cell, k) => (/^(vertical|horizontal|along)$/.test(header[k]!) ? '' : cell));

describe('it keeps the crew', () => {
  test('one planned row is blank', async () => {
    const folder = await changed('TH-0412', (header, rows) =>
      rows.map((cells, i) => (i === rows.length - 1 ? blanked(header, cells) : cells)),
    );
    const left = await leave(folder);
    expect(left).toMatchObject({ mayGo: false, because: 'to-read' });
    expect(left.blank).toHaveLength(1);
  });

  test('planned rows are blank, though each tolerance is decided; a row with use = no is no such row', async () => {
    const folder = await changed('TH-0412', (header, rows) =>
      rows.map((cells, i) => (i >= 27 ? blanked(header, cells) : cells)),
    );
    const left = await leave(folder);
    expect(left).toMatchObject({ mayGo: false, because: 'to-read' });
    expect(left.tolerances.every(({ isDecided }) => isDecided)).toBe(true);
    expect(left.lines.join('\n')).toMatch(
      /10 planned rows hold no reading: readings\/as-left\.csv, rows 29 to 38/,
    );
    await changeRows(folder, 'readings/as-left.csv', (header, rows) =>
      rows.map((cells, i) =>
        i >= 27
          ? cells.map((c, k) => (header[k] === 'use' ? 'no' : header[k] === 'note' ? 'no time' : c))
          : cells,
      ),
    );
    expect(await leave(folder)).toMatchObject({ blank: [], mayGo: true });
  });

  test('the second set-up is not begun: what was read from the first one has its figures', async () => {
    const folder = await copyOf('TH-2031');
    await changeJob(folder, (job) => (job.readings = job.readings.slice(0, 1)));
    await changeRows(folder, 'readings/as-found.csv', (header, rows) =>
      rows.map((cells) => (cells[0] === 'S2' ? blanked(header, cells) : cells)),
    );
    const left = await leave(folder);
    expect(left).toMatchObject({ mayGo: false, because: 'to-read', repeat: null });
    const unread = left.problems.filter(({ code }) => code === 'SETUP_UNREAD');
    expect(unread).toMatchObject([{ severity: 'confirm', data: { setup: 'S2', rows: 62 } }]);
    const valued = left.tolerances.filter(({ made }) => made.value !== null);
    expect(new Set(valued.map(({ made }) => made.rail))).toEqual(new Set(['A']));
    // What would help after them is not known yet.
    const open = valued.filter(({ isDecided }) => !isDecided);
    expect(open.map(({ by }) => by?.kind)).toEqual(open.map(() => 'planned'));
    expect(open.length).toBeGreaterThan(0);
  });

  test('stations were not read', async () => {
    const folder = await changed('TH-0412', (header, rows) =>
      rows.filter((cells) => Number(cells[header.indexOf('station')]) < 8),
    );
    const left = await leave(folder);
    expect(left).toMatchObject({ mayGo: false, because: 'to-read' });
    expect(left.lines.join('\n')).toMatch(/read 7 of 9 stations of B: not stations 8 and 9/);
  });

  test('a planted blunder of 90 µm: its row is named, and leaving it out lets the crew go', async () => {
    const folder = await changed('TH-0412', (header, rows) =>
      rows.map((cells, i) =>
        i === 11 ? cells.map((c, k) => (header[k] === 'vertical' ? String(Number(c) + 90) : c)) : cells,
      ),
    );
    const left = await leave(folder);
    expect(left.mayGo).toBe(false);
    expect(`${left.head}\n${left.lines.join('\n')}`).toMatch(/row 13\b/);
    await changeRows(folder, 'readings/as-left.csv', (header, rows) =>
      rows.map((cells, i) =>
        i === 11
          ? cells.map((c, k) => (header[k] === 'use' ? 'no' : header[k] === 'note' ? 'typed wrong' : c))
          : cells,
      ),
    );
    expect(await leave(folder)).toMatchObject({ mayGo: true });
  });

  test('a value needs a reading that was not taken: it is named', async () => {
    const folder = await changed('TH-2031', (header, rows) =>
      rows.filter((cells) => cells[header.indexOf('monument')] === ''),
    );
    const left = await leave(folder);
    expect(left).toMatchObject({ mayGo: false, because: 'to-decide' });
    expect(left.lines.join('\n')).toMatch(
      /Parallelism, horizontal, rail B to rail A: no value\. .*read monuments M1 and M2 .* from both S1 and S2/,
    );
  });

  test('more passes would decide: read as often as it says, it is decided', async () => {
    const folder = await copyOf('TH-1175');
    // Parallelism of 1.540 thou with U = 0.19 thou: a limit somewhat further off.
    await changeJob(folder, (job) => {
      for (const t of job.tolerances) if (t.what === 'parallelism-horizontal') t.limit = 0.0017;
    });
    const left = await leave(folder);
    expect(left).toMatchObject({ mayGo: false, because: 'to-decide' });
    const { by } = left.tolerances.find(({ isDecided }) => !isDecided)!;
    if (by?.kind !== 'passes') throw new Error(JSON.stringify(by));
    await changeRows(folder, 'readings/as-left.csv', (header, rows) =>
      Array.from({ length: by.times }, (_, k) =>
        rows.map((cells) =>
          cells.map((c, i) => (header[i] === 'pass' ? `${c}${'abcd'[k]!}` : header[i] === 'time' ? '' : c)),
        ),
      ).flat(),
    );
    const text = await readFile(join(folder, 'readings/as-left.csv'), 'utf8');
    expect(text.trimEnd().split('\n')).toHaveLength(1 + 44 * by.times);
    const then = leaveOf({ ...(await inspectJob(folder)) });
    // Copied rows are asked about; the figures so far are judged all the same.
    for (const { isDecided } of then.tolerances) expect(isDecided).toBe(true);
  });
});

test('check --leave ends with 0 or 3, and says the same as JSON', async () => {
  const folder = await changed('TH-0412', (_, rows) => rows.slice(0, 9));
  let out = '';
  const stdout = { write: (text: string) => (out += text) };
  const run = (json: boolean, ...folders: string[]) =>
    runCheck(folders, { json, leave: true, page: undefined, stdout, stderr: stdout });
  expect(await run(false, sample('TH-0412'))).toBe(0);
  expect(out).toMatch(/You may go\. Every tolerance is decided\./);
  out = '';
  expect(await run(true, sample('TH-0412'), folder)).toBe(3);
  const said = JSON.parse(out) as { leave: { mayGo: boolean; tolerances: { decided: boolean }[] } }[];
  expect(said.map(({ leave }) => leave.mayGo)).toEqual([true, false]);
  expect(said[0]!.leave.tolerances.every(({ decided }) => decided)).toBe(true);
});

const look = (station: number, axis: OffsetReading['axis'], row: number): OffsetReading => ({
  kind: 'offset',
  source: { file: 'r.csv', row },
  pass: '1',
  time: null,
  note: '',
  setup: 'S1',
  point: { kind: 'station', rail: 'A', station },
  target: 'T',
  axis,
  um: 0,
});

test.each([
  ['a point of before, after the last new one', [1, 2, 3, 1], true],
  ['there and back', [1, 2, 3, 3, 2, 1], true],
  ['the last new point twice', [1, 2, 3, 3], false],
  ['each point twice as it is reached', [1, 1, 2, 2, 3, 3], false],
  ['one pass', [1, 2, 3], false],
] as const)('looked again: %s', (_, stations, expected) => {
  const heights = stations.map((n, i) => look(n, 'vertical', i + 2));
  expect(lookedAgain(heights)).toEqual([{ setup: 'S1', level: expected, zero: null }]);
});
