/** What the front door stops, and how a person lets it through; each by a job folder of its own. */
import { expect, test } from 'vitest';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { inspectJob, loadJob } from '../../../src/solution/intake/load-job.js';
import { makeJob, judgedOf, sample } from '../../support/folders.js';

const HEADER = 'setup,rail,station,target,pass,time,vertical,horizontal,note';
/** Heights of a rail with a little noise, that no two passes share. */
const noise = (k: number, pass: number) => 0.45 * (((k * 7 + pass * 5) % 11) - 5);
const height = (k: number, pass = 1) => 20 * Math.sin(k / 2) + noise(k, pass);
const offset = (k: number, pass: number) => 10 * Math.sin(k / 2 + 1.5) + noise(k + 4, 2 * pass);
const row = (k: number, pass = 1, { target = 'T1', rail = 'A' } = {}) =>
  `S1,${rail},${k},${target},${pass},,${height(k, pass).toFixed(1)},${offset(k, pass).toFixed(1)},`;
const rows = (from: number, to: number, pass = 1) =>
  Array.from({ length: to - from + 1 }, (_, i) => row(from + i, pass));

const setup = (more: object) => ({
  ...{ id: 'S1', instrument: 'L1', along: -600, across: 300, levelled: true },
  ...more,
});
const job = (more: object = {}) => ({
  rails: [{ id: 'A', datum: true, across: 0, stations: { first: 0, spacing: 500, count: 12 } }],
  instruments: [{ id: 'L1', reading: { u: 1.5, unit: 'um' }, level: { u: 1, unit: 'arcsec' } }],
  setups: [setup({ plus: { vertical: 'up', horizontal: 'left' } })],
  readings: [{ file: 'readings/a.csv', phase: 'as-left' }],
  ...more,
});
const codesOf = async (lines: readonly string[], more: object = {}) => {
  const { loaded, diagnostics } = await inspectJob(
    await makeJob(job(more), { 'readings/a.csv': lines.join('\n') + '\n' }),
  );
  return { ok: loaded !== null, codes: diagnostics.map((d) => `${d.severity} ${d.code}`), diagnostics };
};

test('an honest file is let through', async () => {
  expect(await codesOf([HEADER, ...rows(1, 12), ...rows(1, 12, 2)])).toMatchObject({ ok: true, codes: [] });
});

test('a side that job.json does not state is told of the axes that were read; a sign check says it', async () => {
  const lines = [HEADER, ...rows(1, 12), ...rows(1, 12, 2)];
  const setups = [setup({ plus: { vertical: 'down' } })];
  const { ok, diagnostics } = await codesOf(lines, { setups });
  expect(ok).toBe(true);
  expect(diagnostics).toMatchObject([
    { code: 'SIGN_ASSUMED', data: { setups: 'S1', plus: '"plus": { "horizontal": "left" }' } },
  ]);
  const moved = `S1,A,1,T1,1,,,${(offset(1, 1) + 1000).toFixed(1)},,left 1 mm`;
  const checked = [`${HEADER},check`, ...lines.slice(1).map((line) => `${line},`)];
  expect((await codesOf([...checked, moved], { setups })).codes).toEqual([]);
});

test('two tables one after another: neither is swallowed', async () => {
  const above = await codesOf([
    HEADER.replace(',note', ''),
    ...rows(1, 4).map((r) => r.slice(0, -1)),
    '',
    HEADER,
    ...rows(5, 12),
  ]);
  expect(above.codes).toEqual(['error CSV_ROWS_ABOVE_HEADER']);
  const below = await codesOf([HEADER, ...rows(1, 8), '', HEADER, ...rows(9, 12)]);
  expect(below.codes).toEqual(['error CSV_SECOND_HEADER']);
  expect(below.diagnostics[0]!.at).toMatchObject({ row: 11 });
});

test('decimal commas that cut numbers in two: refused where the rest stands in a note, asked about where it may be a reading', async () => {
  const split = (k: number) => `S1,A,${k},T1,1,,0,${String(249 + 13 * k).padStart(4, '0')}`;
  const note = await codesOf([
    HEADER.replace(',horizontal', ''),
    ...Array.from({ length: 12 }, (_, i) => split(i + 1)),
  ]);
  expect(note.codes).toContain('error CSV_DECIMALS_SPLIT');
  const digits = [8, 1, 9, 3, 0, 7, 2, 9, 1, 6, 4, 8];
  const pair = (k: number) => `S1,A,${k},T1,1,,${20 + k},${digits[k - 1]},`;
  const reading = await codesOf([HEADER, ...Array.from({ length: 12 }, (_, i) => pair(i + 1))]);
  expect(reading.codes).toContain('confirm CSV_DECIMALS_SPLIT');
});

test('merged cells of a target', async () => {
  const merged = rows(1, 12).map((r, i) => (i % 6 === 0 ? r : r.replace(',T1,', ',,')));
  const found = await codesOf([HEADER, ...merged]);
  expect(found.codes).toContain('confirm CSV_CELLS_BLANK');
});

test('a block pasted twice is asked about, a single row that stands there twice is told', async () => {
  const block = await codesOf([HEADER, ...rows(1, 12), ...rows(1, 12)]);
  expect(block.codes).toContain('confirm ROWS_REPEATED');
  expect(block.ok).toBe(false);
  const single = await codesOf([HEADER, ...rows(1, 12), row(5)]);
  expect(single.ok).toBe(true);
  expect(single.codes.filter((code) => !code.endsWith('READINGS_UNCHECKED'))).toEqual([
    'warning ROW_DOUBLED',
  ]);
});

test('ids that differ in capitals or blanks', async () => {
  const found = await codesOf([HEADER, ...rows(1, 12).map((r, i) => (i > 5 ? r.replace('T1', 't1') : r))]);
  expect(found.codes).toContain('confirm IDS_ALIKE');
});

test('slopes beyond anything that a rail has', async () => {
  const slopes = ['from_rail,from_station,to_rail,to_station,axis,slope'];
  for (let k = 1; k < 12; k++) slopes.push(`A,${k},A,${k + 1},vertical,${(10 + k) * 1000}`);
  const found = await codesOf(slopes, {
    instruments: [{ id: 'E1', reading: { u: 3, unit: 'um/m' } }],
    setups: [],
    readings: [{ file: 'readings/a.csv', phase: 'as-left', kind: 'slope', instrument: 'E1', unit: 'um/m' }],
  });
  expect(found.codes).toContain('confirm SLOPE_IMPLAUSIBLE');
});

test('the same file under two phases', async () => {
  const text = [HEADER, ...rows(1, 12)].join('\n') + '\n';
  const folder = await makeJob(
    job({
      readings: [
        { file: 'readings/a.csv', phase: 'as-found' },
        { file: 'readings/b.csv', phase: 'as-left' },
      ],
    }),
    { 'readings/a.csv': text, 'readings/b.csv': text },
  );
  const { diagnostics } = await inspectJob(folder);
  expect(diagnostics.map((d) => d.code)).toContain('FILES_IDENTICAL');
});

const pasted = [HEADER, ...rows(1, 12), ...rows(1, 12)].join('\n') + '\n';
const word = {
  what: 'ROWS_REPEATED',
  in: 'readings/a.csv',
  by: 'K. Orrin',
  because: 'Read twice on purpose.',
};

test('a person’s word lets it through, and stands in the results', async () => {
  const folder = await makeJob(job({ confirmed: [word, { ...word, what: 'PASSES_IDENTICAL' }] }), {
    'readings/a.csv': pasted,
  });
  const loaded = await loadJob(folder);
  expect(loaded.ok).toBe(true);
  const codes = loaded.diagnostics.map((d) => d.code);
  // What was read twice on purpose still agrees too well.
  expect(codes).toEqual(['CONFIRMATION_IDLE', 'MISFIT_UNEXPLAINED', 'ROWS_REPEATED']);
  const { confirmations, warnings } = await judgedOf(folder);
  expect(confirmations).toMatchObject([
    { code: 'ROWS_REPEATED', by: 'K. Orrin', because: 'Read twice on purpose.' },
  ]);
  expect(warnings.some(({ message }) => message.includes('Confirmed by K. Orrin'))).toBe(true);
});

test('a code that nobody can confirm is refused, with those that can be', async () => {
  const folder = await makeJob(job({ confirmed: [{ ...word, what: 'CSV_SECOND_HEADER' }] }), {
    'readings/a.csv': pasted,
  });
  const { diagnostics } = await inspectJob(folder);
  expect(diagnostics[0]).toMatchObject({ code: 'VALUE_WRONG' });
});

test('check says what report would find out', async () => {
  const folder = await makeJob(
    job({ tolerances: [{ what: 'straightness-horizontal', rail: 'A', limit: 20, unit: 'um' }] }),
    {
      'readings/a.csv': [
        HEADER.replace(',horizontal', ''),
        ...rows(1, 12).map((r) => r.replace(/,[^,]*,$/, ',')),
        `S1,A,3,T1,1,,4.4,`,
      ].join('\n'),
    },
  );
  await writeFile(join(folder, 'readings', 'forgotten.csv'), 'x\n');
  const { diagnostics } = await inspectJob(folder, null);
  const codes = diagnostics.map((d) => d.code);
  for (const code of ['TOLERANCE_WITHOUT_VALUE', 'READINGS_UNCHECKED', 'FILE_UNNAMED'] as const)
    expect(codes).toContain(code);
});

test('rails that are nearer to each other than job.json says, by their spans, are told; not those of the sample', async () => {
  const folder = sample('TH-3318');
  const text = await readFile(join(folder, 'job.json'), 'utf8');
  const toldOf = async (jobText: string) =>
    (await inspectJob(folder, null, { jobText })).diagnostics.filter(
      ({ code }) => code === 'GEOMETRY_IMPLAUSIBLE',
    );
  expect(await toldOf(text)).toEqual([]);
  const [told, ...more] = await toldOf(text.replace('"across": 3600', '"across": 3660'));
  expect(told).toMatchObject({ severity: 'warning', data: { size: '3600 mm', against: '3660 mm' } });
  expect(more).toEqual([]);
});
