/**
 * Tolerance sets of an office: based on one another, with values by grade and by length. Limits are worked out by hand
 * from the files.
 */
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Diagnostic } from '../../../src/base/diagnostics/diagnostic.js';
import { describe as wordsOf } from '../../../src/base/diagnostics/messages.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { readGivenTolerances } from '../../../src/survey/job/given-tolerances.js';
import { solve } from '../../../src/pipeline.js';
import { levelledShot, temporary } from '../../support/folders.js';

/** An office with its sets, and a job of two rails, 4 m and 6 m long. */
async function office(
  sets: Record<string, object>,
  job: object = {},
): Promise<{ folder: string; place: string }> {
  const place = await temporary();
  const folder = join(place, 'J-1');
  const um = (t: number) => (7 * Math.sin(t)).toFixed(1);
  const rows = [1, 2, 3, 4, 5, 6, 7].flatMap((k) => [
    ...(k <= 5 ? [`S1,A,${k},${um(k)},${um(k + 0.4)}`] : []),
    `S1,B,${k},${um(2 * k)},${um(3 * k)}`,
  ]);
  const files: Record<string, string> = {
    'J-1/job.json': JSON.stringify({
      format: 'waysheet-job/1',
      id: 'J-1',
      ...levelledShot('as-left', 1, 1),
      confirmed: [],
      rails: [
        { id: 'A', datum: true, across: 0, stations: { first: 0, spacing: 1000, count: 5 } },
        { id: 'B', across: 2000, stations: { first: 0, spacing: 1000, count: 7 } },
      ],
      tolerances: '../tolerances/mill.json',
      ...job,
    }),
    'J-1/r.csv': ['setup,rail,station,vertical,horizontal', ...rows, ''].join('\n'),
    ...Object.fromEntries(
      Object.entries(sets).map(([name, set]) => [
        `tolerances/${name}`,
        JSON.stringify({ name, ...set }, null, 1),
      ]),
    ),
  };
  for (const [path, text] of Object.entries(files)) {
    await mkdir(dirname(join(place, path)), { recursive: true });
    await writeFile(join(place, path), text);
  }
  return { folder, place };
}

async function limits(folder: string): Promise<string[]> {
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error(loaded.diagnostics.map(told).join('\n'));
  const { phases } = await solve(loaded.value, loaded.diagnostics);
  return phases['as-left']!.characteristics.flatMap(({ what, rail, limit }) =>
    limit === null ? [] : [`${what} ${rail} ${limit}`],
  );
}

const told = (d: Diagnostic): string => `${d.at?.file}:${d.at?.row} ${d.at?.column} ${wordsOf(d)}`;

const refusal = async (folder: string): Promise<string> => {
  const loaded = await loadJob(folder);
  return loaded.ok ? 'accepted' : loaded.diagnostics.map(told).join('\n');
};

const straight = (limit: unknown, more: object = {}) => ({
  what: 'straightness-vertical',
  limit,
  unit: 'um',
  ...more,
});

describe('based on another', () => {
  const base = { tolerances: [straight(20), { what: 'twist', rail: 'B', limit: 30, unit: 'um/m' }] };

  test('what is said of the same thing takes its place, the rest holds', async () => {
    const own = {
      basedOn: 'base.json',
      tolerances: [straight(12), { what: 'level-along', rail: 'A', limit: 9, unit: 'um/m' }],
    };
    const { folder } = await office({ 'mill.json': own, 'base.json': base });
    expect((await limits(folder)).sort()).toEqual([
      'level-along A 9',
      'straightness-vertical A 12',
      'straightness-vertical B 12',
      'twist B 30',
    ]);
  });

  test('what does not hold is left out; both files are inputs, and the report names them', async () => {
    const own = { basedOn: 'deep/base.json', without: [{ what: 'twist' }], tolerances: [] };
    const { folder } = await office({ 'mill.json': own, 'deep/base.json': base });
    expect(await limits(folder)).toEqual(['straightness-vertical A 20', 'straightness-vertical B 20']);
    const loaded = await loadJob(folder);
    if (!loaded.ok) throw new Error('refused');
    expect(loaded.value.inputs.map(({ path }) => path)).toEqual([
      'job.json',
      '../tolerances/mill.json',
      '../tolerances/deep/base.json',
      'r.csv',
    ]);
    expect((await solve(loaded.value, [])).toleranceSet).toMatchObject({
      name: 'mill.json',
      basedOn: ['../tolerances/deep/base.json'],
    });
  });

  test('over three levels, each nearer one before the farther', async () => {
    const { folder } = await office({
      'mill.json': { basedOn: 'b.json', tolerances: [straight(11, { rail: 'A' })] },
      'b.json': { basedOn: 'c.json', tolerances: [straight(12, { rail: 'A' }), straight(13, { rail: 'B' })] },
      'c.json': {
        tolerances: [straight(14, { rail: 'B' }), straight(15, { rail: 'A', reference: 'minimum-zone' })],
      },
    });
    expect((await limits(folder)).sort()).toEqual([
      'straightness-vertical A 11',
      'straightness-vertical A 15',
      'straightness-vertical B 13',
    ]);
  });

  test('a circle, a set that is not there, one outside, something left out that is not there: each at its line', async () => {
    const circle = await office({
      'mill.json': { basedOn: 'b.json', tolerances: [] },
      'b.json': { basedOn: 'mill.json', tolerances: [] },
    });
    expect(await refusal(circle.folder)).toMatch(
      /tolerances\/b\.json:3[\s\S]*another set, and no more than 8/,
    );
    const absent = await office({ 'mill.json': { basedOn: 'none.json', tolerances: [] } });
    expect(await refusal(absent.folder)).toMatch(/mill\.json:3[\s\S]*none\.json/);
    const outside = await office({ 'mill.json': { basedOn: '../J-2/set.json', tolerances: [] } });
    expect(await refusal(outside.folder)).toMatch(/mill\.json:3[\s\S]*J-2\/set\.json/);
    const nothing = await office({
      'mill.json': { basedOn: 'base.json', without: [{ what: 'span', rail: 'B' }], tolerances: [] },
      'base.json': base,
    });
    expect(await refusal(nothing.folder)).toMatch(/mill\.json:\d+[\s\S]*no tolerance .span of rail B./);
  });

  test('a mistake in the other set is told there', async () => {
    const { folder } = await office({
      'mill.json': { basedOn: 'base.json', tolerances: [] },
      'base.json': { tolerances: [straight(20, { unit: 'arcsec' })] },
    });
    expect(await refusal(folder)).toMatch(/base\.json:\d+[\s\S]*arcsec/);
  });

  test('another limit in the other set is another digest, and no change of readings', async () => {
    const digestOf = async (limit: number) => {
      const { folder } = await office({
        'mill.json': { basedOn: 'base.json', tolerances: [] },
        'base.json': { tolerances: [straight(limit)] },
      });
      const loaded = await loadJob(folder);
      return loaded.ok ? loaded.value.digests! : null;
    };
    const [one, other] = [await digestOf(20), await digestOf(21)];
    expect(one!.job).toBe(other!.job);
    expect(one!.tolerances).not.toBe(other!.tolerances);
  });
});

describe('by grade', () => {
  const set = {
    grade: 'fine',
    grades: {
      fine: { straight: 10, side: 40 },
      coarse: { straight: { upTo: 2000, limit: 20, more: { each: 1000, limit: 5 } }, side: 60 },
    },
    tolerances: [
      straight('straight'),
      { what: 'height-difference', rail: 'B', from: -5, to: 'side', unit: 'um' },
      straight('straight', { rail: 'A', reference: 'minimum-zone', grade: 'coarse' }),
    ],
  };

  test('the set’s own where the job names none', async () => {
    const { folder } = await office({ 'mill.json': set });
    expect(await limits(folder)).toEqual([
      'straightness-vertical A 10',
      'straightness-vertical A 30',
      'straightness-vertical B 10',
      'height-difference B 5',
    ]);
  });

  test('the job’s: 20 µm up to 2 m and 5 µm more for each further metre', async () => {
    const { folder } = await office({ 'mill.json': set }, { grade: 'coarse' });
    expect(await limits(folder)).toEqual([
      'straightness-vertical A 30',
      'straightness-vertical A 30',
      'straightness-vertical B 40',
      'height-difference B 5',
    ]);
    const loaded = await loadJob(folder);
    expect(loaded.ok && (await solve(loaded.value, [])).toleranceSet.grade).toBe('coarse');
  });

  test('one value of a grade of the other set is overridden, the others hold', async () => {
    const { folder } = await office({
      'mill.json': { basedOn: 'base.json', grades: { fine: { straight: 7 } }, tolerances: [] },
      'base.json': set,
    });
    expect((await limits(folder))[0]).toBe('straightness-vertical A 7');
    expect(await limits(folder)).toContain('straightness-vertical A 30');
  });

  test.each([
    [
      'a grade that is in no table',
      { 'mill.json': set },
      { grade: 'rough' },
      /no grade .rough.[\s\S]*fine, coarse/,
    ],
    [
      'a name that is not in it',
      { 'mill.json': { ...set, tolerances: [straight('flat')] } },
      {},
      /mill\.json:\d+[\s\S]*no value of grade fine .flat.[\s\S]*straight, side/,
    ],
    [
      'no grade at all',
      { 'mill.json': { ...set, grade: undefined } },
      {},
      /a grade, in the set or in job\.json, for the value "straight": fine, coarse/,
    ],
    [
      'a grade without a set',
      {},
      { grade: 'fine', tolerances: [straight(5)] },
      /grade[\s\S]*values of a tolerance set/,
    ],
    [
      'a name in the job’s own list',
      {},
      { tolerances: [straight('straight')] },
      /job\.json[\s\S]*tolerances\[0\]\.limit/,
    ],
  ])('%s', async (_, sets, job, reason) => {
    const { folder } = await office(sets as Record<string, object>, job);
    expect(await refusal(folder)).toMatch(reason);
  });
});

describe('by length', () => {
  const steps = [
    { upTo: 4000, limit: 12 },
    { upTo: 10_000, limit: 18 },
  ];

  test('the first step that is long enough; a length on the step is in it', async () => {
    const { folder } = await office({}, { tolerances: [straight({ steps })] });
    expect(await limits(folder)).toEqual(['straightness-vertical A 12', 'straightness-vertical B 18']);
  });

  test.each([
    [
      'a rail that is longer than the table',
      straight({ steps: steps.slice(0, 1) }),
      /reaches 6000 mm, for rail B/,
    ],
    ['steps out of order', straight({ steps: [...steps].reverse() }), /4000 after 10000[\s\S]*ascending/],
    [
      'a window that is longer',
      {
        ...straight({ steps: [{ upTo: 500, limit: 3 }] }, { over: { length: 1, unit: 'm' } }),
        what: 'straightness-vertical-local',
      },
      /reaches 1000 mm/,
    ],
  ])('%s', async (_, tolerance, reason) => {
    const { folder } = await office({}, { tolerances: [tolerance] });
    expect(await refusal(folder)).toMatch(reason);
  });
});

describe('given to a run in place of the jobs’ own', () => {
  test('it says all by itself then, and the job’s grade holds', async () => {
    const { folder, place } = await office(
      {
        'mill.json': { tolerances: [straight(99)] },
        'new.json': { basedOn: 'base.json', tolerances: [straight('straight')] },
        'base.json': {
          grades: { one: { straight: 4 }, two: { straight: 8 } },
          tolerances: [straight(50), { what: 'twist', limit: 70, unit: 'um/m' }],
        },
      },
      { grade: 'two' },
    );
    const given = await readGivenTolerances(join(place, 'tolerances/new.json'));
    if (!given.ok) throw new Error(given.diagnostics.map(told).join('\n'));
    const loaded = await loadJob(folder, given.value);
    if (!loaded.ok) throw new Error('refused');
    const { phases, whatIf } = await solve(loaded.value, []);
    expect(
      phases['as-left']!.characteristics.flatMap(({ what, rail, limit }) =>
        limit === null ? [] : [`${what} ${rail} ${limit}`],
      ),
    ).toEqual(['straightness-vertical A 8', 'straightness-vertical B 8', 'twist B 70']);
    expect(whatIf!.tolerances).toMatch(/new\.json$/);
    expect(JSON.parse(new TextDecoder().decode(given.value.bytes))).not.toHaveProperty('basedOn');
  });

  test('what is to be left out of no other set is told, not passed over', async () => {
    const { place } = await office({
      'new.json': { without: [{ what: 'twist' }], tolerances: [straight(5)] },
    });
    const given = await readGivenTolerances(join(place, 'tolerances/new.json'));
    expect(given.ok ? '' : given.diagnostics.map(told).join('\n')).toMatch(/no tolerance .twist/);
  });

  test('what is wrong in the other set is told with its file', async () => {
    const { place } = await office({
      'new.json': { basedOn: 'base.json', tolerances: [] },
      'base.json': { tolerances: [straight(5, { unit: 'arcsec' })] },
    });
    const given = await readGivenTolerances(join(place, 'tolerances/new.json'));
    expect(given.ok ? '' : given.diagnostics.map(told).join('\n')).toMatch(/base\.json:\d+/);
  });
});
