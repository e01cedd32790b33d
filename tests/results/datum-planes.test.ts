/**
 * What drawings relate to a plane, to level or to a benchmark: a cross rail against the plane of the rails and against
 * gravity, the flatness of rails and cross rail together, elevations. Expected values are worked out here, from the places.
 */
import * as highsModule from 'highs';
import type { LegacyHighs } from 'highs/legacy-types';
import { beforeAll, describe, expect, test } from 'vitest';
import type { CharacteristicResult } from '../../src/results/results-schema.js';
import { createGenerator } from '../../src/base/statistics/random.js';
import { judge } from '../../src/pipeline.js';
import { levelledShot, loadConfirmed, makeJob, judgedOf } from '../support/folders.js';
import { undetermined } from '../support/worded.js';

interface Point {
  readonly rail: string;
  readonly station: number;
  readonly x: number;
  readonly y: number;
  /** Height, µm. */
  readonly z: number;
}

/** Two rails along (A, B) and a cross rail C; places in m. */
const HEIGHTS = { A: [0, 12, -7, 15, 4], B: [31, 18, 22, 35, 40], C: [60, 71, 55, 83] } as const;
const points: Point[] = [
  ...(['A', 'B'] as const).flatMap((rail) =>
    HEIGHTS[rail].map((z, i) => ({ rail, station: i + 1, x: i, y: rail === 'A' ? 0 : 3, z })),
  ),
  ...HEIGHTS.C.map((z, i) => ({ rail: 'C', station: i + 1, x: 5, y: 0.5 + i * 0.6, z })),
];
const of = (rail: string) => points.filter((p) => p.rail === rail);

const rails = [
  { id: 'A', datum: true, across: 0, stations: { first: 0, spacing: 1000, count: 5 } },
  { id: 'B', across: 3000, stations: { first: 0, spacing: 1000, count: 5 } },
  { id: 'C', direction: 'across', along: 5000, stations: { first: 500, spacing: 600, count: 4 } },
];
/** 12.5 mm lower than the rails, known to 2 µm. */
const benchmark = { id: 'BM', along: -1000, across: 1500, height: { value: -12.5, u: 2, unit: 'mm' } };
const known = (u: number) => ({ ...benchmark, height: { ...benchmark.height, u: u / 1000 } });

const rowsOf = (list: readonly Point[], seen: (p: Pick<Point, 'x' | 'y' | 'z'>) => number): string[] =>
  list.map((p) => `S1,${p.rail},${p.station},,T1,${seen(p).toFixed(6)}`);

interface Extra {
  readonly monuments?: object[];
  readonly more?: readonly string[];
  readonly readingU?: number;
}

const HEADER = 'setup,rail,station,monument,target,vertical';
/** The level plane is 70 µm above the rails' nominal height. */
const seen = ({ z }: { readonly z: number }): number => z - 70;

const folderOf = (
  tolerances: readonly object[],
  { monuments = [known(2)], more, readingU = 0.01 }: Extra = {},
) =>
  makeJob(
    {
      ...levelledShot('as-left', readingU, 0.01),
      rails,
      monuments,
      tolerances: tolerances.map((t) => ({ unit: 'um', limit: 1000, ...t })),
    },
    {
      'r.csv': [
        HEADER,
        ...rowsOf(points, seen),
        ...(more ?? [`S1,,,BM,T1,${seen({ z: -12_500 })}`]),
        '',
      ].join('\n'),
    },
  );

const judged = async (tolerance: object, extra?: Extra): Promise<CharacteristicResult> => {
  const results = await judgedOf(await folderOf([tolerance], extra));
  const list = results.phases['as-left']!.characteristics.filter((c) => c.limit !== null);
  expect(list).toHaveLength(1);
  return list[0]!;
};

const range = (list: readonly number[]) => Math.max(...list) - Math.min(...list);
const greatest = (list: readonly number[]) => list.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));

/** Least-squares plane by Cramer's rule from the normal equations: z = a + b·x + c·y. */
function planeOf(list: readonly Point[]): (p: Pick<Point, 'x' | 'y'>) => number {
  const sum = (f: (p: Point) => number) => list.reduce((s, p) => s + f(p), 0);
  const rows = [
    [list.length, sum((p) => p.x), sum((p) => p.y)],
    [sum((p) => p.x), sum((p) => p.x * p.x), sum((p) => p.x * p.y)],
    [sum((p) => p.y), sum((p) => p.x * p.y), sum((p) => p.y * p.y)],
  ];
  const right = [sum((p) => p.z), sum((p) => p.x * p.z), sum((p) => p.y * p.z)];
  const det = (m: number[][]) =>
    m[0]![0]! * (m[1]![1]! * m[2]![2]! - m[1]![2]! * m[2]![1]!) -
    m[0]![1]! * (m[1]![0]! * m[2]![2]! - m[1]![2]! * m[2]![0]!) +
    m[0]![2]! * (m[1]![0]! * m[2]![1]! - m[1]![1]! * m[2]![0]!);
  const [a, b, c] = [0, 1, 2].map(
    (k) => det(rows.map((row, i) => row.map((v, j) => (j === k ? right[i]! : v)))) / det(rows),
  ) as [number, number, number];
  return ({ x, y }) => a + b * x + c * y;
}

test('a cross rail against the plane of the rails', async () => {
  const made = await judged({ what: 'parallelism-to-plane', rail: 'C' });
  const plane = planeOf([...of('A'), ...of('B')]);
  const expected = of('C').map((p) => p.z - plane(p));
  expect(made.value).toBeCloseTo(range(expected), 3);
  expect(made.signed).toBe(false);
  expect(made.profile!.map(({ value }) => value - made.profile![0]!.value)).toEqual(
    expected.map((v) => expect.closeTo(v - expected[0]!, 3)),
  );
  // A tilt of the level plane changes nothing: the plane of the rails tilts with it.
  const tilted = await makeJob(
    {
      ...levelledShot('as-left', 0.01, 1000),
      rails,
      tolerances: [{ what: 'parallelism-to-plane', rail: 'C', limit: 1000, unit: 'um' }],
    },
    {
      'r.csv': [HEADER, ...rowsOf(points, ({ x, y, z }) => z + 300 * x - 200 * y), ''].join('\n'),
    },
  );
  const again = (await judgedOf(tilted)).phases['as-left']!.characteristics.find(
    ({ what }) => what === 'parallelism-to-plane',
  )!;
  expect(again.value).toBeCloseTo(range(expected), 3);
  expect(again.u).toBeLessThan(0.1);
});

test('a cross rail against level: its slope, and the steepest stretch', async () => {
  const made = await judged({ what: 'level-across', rail: 'C', unit: 'um/m' });
  const list = of('C');
  const [my, mz] = [(p: Point) => p.y, (p: Point) => p.z].map(
    (f) => list.reduce((s, p) => s + f(p), 0) / list.length,
  ) as [number, number];
  const slope =
    list.reduce((s, p) => s + (p.y - my) * (p.z - mz), 0) / list.reduce((s, p) => s + (p.y - my) ** 2, 0);
  expect(made.value).toBeCloseTo(slope, 3);
  expect(made.signed).toBe(true);
  const over = { over: { length: 600, unit: 'mm' } };
  const steepest = await judged({ what: 'level-across', rail: 'C', unit: 'um/m', ...over });
  expect(steepest.value).toBeCloseTo(
    greatest(list.slice(1).map((p, i) => (p.z - list[i]!.z) / (p.y - list[i]!.y))),
    3,
  );
});

describe('flatness of rails and cross rail', () => {
  let zone = 0;
  beforeAll(async () => {
    // min t, |z − a − b·x − c·y| ≤ t over all stations, by an LP solver (highs).
    const highs = await (highsModule as unknown as { default: () => Promise<LegacyHighs> }).default();
    const rows = points.flatMap(({ x, y, z }, i) => [
      ` u${i}: a + ${x} b + ${y} c - t <= ${z}`,
      ` v${i}: a + ${x} b + ${y} c + t >= ${z}`,
    ]);
    const free = ['Bounds', ' a free', ' b free', ' c free', 'End'];
    zone = 2 * highs.solve(['Minimize', ' obj: t', 'Subject To', ...rows, ...free].join('\n')).ObjectiveValue;
  });

  test('the least zone over all stations', async () => {
    const made = await judged({ what: 'coplanarity', rails: ['A', 'B', 'C'], reference: 'minimum-zone' });
    expect(made.value).toBeCloseTo(zone, 3);
    expect(made.interval![0]).toBeLessThanOrEqual(zone + 1e-6);
    expect(made.interval![1]).toBeGreaterThanOrEqual(zone - 1e-6);
  });

  test('about the least-squares plane', async () => {
    const made = await judged({ what: 'coplanarity', rails: ['A', 'B', 'C'] });
    const plane = planeOf(points);
    expect(made.value).toBeCloseTo(range(points.map((p) => p.z - plane(p))), 3);
  });

  test('of a rail and a cross rail alone, and never of a cross rail against the datum', async () => {
    const made = await judged({ what: 'coplanarity', rails: ['A', 'C'] });
    const two = [...of('A'), ...of('C')];
    const plane = planeOf(two);
    expect(made.value).toBeCloseTo(range(two.map((p) => p.z - plane(p))), 3);
    await expect(judged({ what: 'coplanarity', rail: 'C' })).rejects.toThrow('TOLERANCE_NOT_APPLICABLE');
  });
});

describe('elevation from a benchmark', () => {
  test('the farthest from nominal, with the uncertainty of the benchmark', async () => {
    const made = await judged({ what: 'elevation', rail: 'B' });
    expect(made).toMatchObject({ signed: true, unit: 'um' });
    expect(made.value).toBeCloseTo(greatest(HEIGHTS.B), 3);
    expect(made.u).toBeGreaterThan(2);
    expect(made.u).toBeLessThan(2.1);
    expect(made.budget!.benchmarks).toBeGreaterThan(0.99);
  });

  test('two benchmarks that disagree: the weighted mean, and the disagreement shows', async () => {
    // Both are seen 30 µm apart from what is stated of them: 3/4 of the first, 1/4 of the second (1/u²: 1 and 1/3).
    const second = { ...known(2 * Math.sqrt(3)), id: 'BN', along: 6000 };
    const made = await judged(
      { what: 'elevation', rail: 'B' },
      {
        monuments: [known(2), second],
        more: [`S1,,,BM,T1,${seen({ z: -12_500 })}`, `S1,,,BN,T1,${seen({ z: -12_530 })}`],
      },
    );
    expect(made.value).toBeCloseTo(greatest(HEIGHTS.B) + 30 / 4, 1);
  });

  test('a benchmark that was not read, or has no stated height, gives no value and says so', async () => {
    for (const extra of [{ more: [] }, { monuments: [{ id: 'BM', along: -1000, across: 1500 }] }]) {
      const made = await judged({ what: 'elevation', rail: 'B' }, extra);
      expect(made.value).toBeNull();
      expect(undetermined(made).why).toMatch(/no benchmark was read/);
    }
  });

  test('another target on the benchmark: what ties the two is named', async () => {
    const made = await judged(
      { what: 'elevation', rail: 'B' },
      { more: [`S1,,,BM,T2,${seen({ z: -12_500 })}`] },
    );
    expect(made.value).toBeNull();
    expect(undetermined(made).why).toMatch(/T1 and T2 were not compared/);
  });
});

test('intervals hold the true value as often as stated, benchmark and noise drawn anew', async () => {
  // The benchmark outweighs the noise: its share alone must be covered.
  const [readingU, benchmarkU, surveys] = [1, 8, 200];
  const what = [
    { what: 'elevation', rail: 'B' },
    { what: 'parallelism-to-plane', rail: 'C' },
  ];
  const plane = planeOf([...of('A'), ...of('B')]);
  const truth = [greatest(HEIGHTS.B), range(of('C').map((p) => p.z - plane(p)))];
  const loaded = await loadConfirmed(await folderOf(what, { readingU, monuments: [known(benchmarkU)] }));
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
  // Without what the front door solved: each survey is solved for itself.
  const survey = { ...loaded.value, solved: new Map() };
  const generator = createGenerator(29);
  const [covered, above] = [
    [0, 0],
    [0, 0],
  ];
  for (let s = 0; s < surveys; s++) {
    const wrong = benchmarkU * generator.nextNormal();
    const list = [...survey.readings.phases.values()].flat().map((r) =>
      r.kind === 'offset'
        ? {
            ...r,
            um: r.um + readingU * generator.nextNormal() + (r.point.kind === 'monument' ? wrong : 0),
          }
        : r,
    );
    const { results } = await judge(
      { ...survey, readings: { ...survey.readings, phases: new Map([['as-left', list]]) } },
      [],
    );
    const found = results.phases['as-left']!.characteristics.filter((c) => c.limit !== null);
    what.forEach((asked, k) => {
      const [low, high] = found.find((c) => c.what === asked.what)!.interval!;
      if (truth[k]! >= low - 1e-9 && truth[k]! <= high + 1e-9) covered[k]!++;
      if (truth[k]! > high + 1e-9) above[k]!++;
    });
  }
  console.log(`covered ${covered.join(' and ')} of ${surveys}, above the upper end ${above.join(' and ')}`);
  // 0.95 and 0.025 less three standard deviations of chance.
  for (const n of covered) expect(n / surveys).toBeGreaterThan(0.9);
  for (const n of above) expect(n / surveys).toBeLessThan(0.06);
});
