/**
 * Tolerances as drawings have them, on surveys without noise whose rails lie at known places: what each is judged by is
 * worked out here, from the places alone.
 */
import { undetermined } from '../support/worded.js';
import * as highsModule from 'highs';
import type { LegacyHighs } from 'highs/legacy-types';
import { beforeAll, describe, expect, test } from 'vitest';
import type { CharacteristicResult, Results } from '../../src/results/results-schema.js';
import { normalCdf } from '../../src/base/statistics/normal.js';
import { levelledShot, makeJob, judgedOf } from '../support/folders.js';

/** Stations, mm along; rails, mm across; heights and offsets of each rail, µm. */
const AT = [0, 500, 1000, 1500, 2000, 2500];
const ACROSS = { A: 0, B: 900, C: 2600, D: 3400 } as const;
type RailId = keyof typeof ACROSS;
const RAILS = Object.keys(ACROSS) as RailId[];
const height: Record<RailId, number[]> = {
  A: [0, 12, -7, 15, 4, 9],
  B: [31, 18, 22, 35, 40, 28],
  C: [-25, -12, -31, -8, -17, -29],
  D: [44, 51, 37, 60, 42, 55],
};
const offset: Record<RailId, number[]> = {
  A: [0, 3, -4, 6, 1, 0],
  B: [10, 14, 9, 3, 12, 8],
  C: [-5, 2, 7, -9, 4, 1],
  D: [20, 11, 15, 19, 8, 13],
};
/** One plane of light over all rails, tilted, at an unknown height and direction. */
const reading = (rail: RailId, i: number) => {
  const [x, y] = [AT[i]! / 1000, ACROSS[rail] / 1000];
  return [height[rail][i]! - 70 - 3 * x + 2 * y, offset[rail][i]! + 40 + 5 * x].map((v) => v.toFixed(6));
};

interface Extra {
  readonly rails?: Partial<Record<RailId, object>>;
  readonly skip?: readonly string[];
  readonly decision?: object;
}

async function judge(
  tolerances: object[],
  { rails = {}, skip = [], decision }: Extra = {},
): Promise<Results> {
  const rows = RAILS.flatMap((rail) =>
    AT.flatMap((_, i) =>
      skip.includes(`${rail}:${i + 1}`) ? [] : [`S1,${rail},${i + 1},${reading(rail, i).join(',')}`],
    ),
  );
  const folder = await makeJob(
    {
      ...levelledShot('as-left', 0.01, 0.01),
      rails: RAILS.map((id) => ({
        id,
        across: ACROSS[id],
        stations: { at: AT },
        ...(id === 'A' && { datum: true }),
        ...rails[id],
      })),
      tolerances: tolerances.map((t) => ({ unit: 'um', ...t })),
      ...(decision !== undefined && { decision }),
    },
    { 'r.csv': ['setup,rail,station,vertical,horizontal', ...rows, ''].join('\n') },
  );
  return judgedOf(folder);
}

const judged = (results: Results): CharacteristicResult[] =>
  results.phases['as-left']!.characteristics.filter((c) => c.limit !== null);
const only = async (tolerance: object, extra?: Extra): Promise<CharacteristicResult> => {
  const list = judged(await judge([tolerance], extra));
  expect(list).toHaveLength(1);
  return list[0]!;
};

/** Height differences at matching stations are seen through a levelled plane that may be tilted; its tilt is exact here. */
const seen = (rail: RailId, i: number): number => Number(reading(rail, i)[0]);
const rangeOf = (list: readonly number[]) => Math.max(...list) - Math.min(...list);
const straight = (list: readonly number[], xs: readonly number[]): number[] => {
  const n = xs.length;
  const [mx, my] = [xs, list].map((v) => v.reduce((a, b) => a + b, 0) / n) as [number, number];
  const slope =
    xs.reduce((s, x, i) => s + (x - mx) * (list[i]! - my), 0) / xs.reduce((s, x) => s + (x - mx) ** 2, 0);
  return list.map((v, i) => v - my - slope * (xs[i]! - mx));
};

describe('rails together', () => {
  let zone = 0;
  beforeAll(async () => {
    // min t, |z − a − b·x − c·y| ≤ t over all stations of all rails, by an LP solver (highs).
    const load = (highsModule as unknown as { default: () => Promise<LegacyHighs> }).default;
    const highs = await load();
    const rows = RAILS.flatMap((rail) =>
      AT.flatMap((x, i) => {
        const [z, X, Y] = [seen(rail, i), x / 1000, ACROSS[rail] / 1000];
        const plane = `a + ${X} b + ${Y} c`;
        return [` u${rail}${i}: ${plane} - t <= ${z}`, ` v${rail}${i}: ${plane} + t >= ${z}`];
      }),
    );
    const free = ['Bounds', ' a free', ' b free', ' c free', 'End'];
    const model = ['Minimize', ' obj: t', 'Subject To', ...rows, ...free].join('\n');
    zone = 2 * highs.solve(model).ObjectiveValue;
  });

  test('coplanarity of four is the least zone over all stations of all four', async () => {
    const made = await only({ what: 'coplanarity', rails: RAILS, reference: 'minimum-zone', limit: 60 });
    expect(made.rails).toEqual(RAILS);
    expect(made.value).toBeCloseTo(zone, 4);
    expect(made.interval![0]).toBeLessThanOrEqual(zone + 1e-6);
    expect(made.interval![1]).toBeGreaterThanOrEqual(zone - 1e-6);
  });

  test('what conforms pair by pair with the datum does not conform as a whole', async () => {
    const results = await judge([
      { what: 'coplanarity', rails: RAILS, limit: 45 },
      ...(['B', 'C', 'D'] as const).map((rail) => ({ what: 'coplanarity', rail, limit: 45 })),
    ]);
    const verdicts = judged(results).map(({ rails, rail, verdict }) => [rails ? 'all' : rail, verdict]);
    expect(verdicts).toEqual([
      ['all', 'does-not-conform'],
      ['B', 'conforms'],
      ['C', 'conforms'],
      ['D', 'conforms'],
    ]);
  });

  const pairs = RAILS.flatMap((rail, k) => RAILS.slice(0, k).map((other) => [rail, other] as const));
  test('parallelism is the worst of any two', async () => {
    const made = await only({ what: 'parallelism-vertical', rails: RAILS, limit: 20 });
    const worst = Math.max(...pairs.map(([r, o]) => rangeOf(AT.map((_, i) => seen(r, i) - seen(o, i)))));
    expect(made.value).toBeCloseTo(worst, 4);
    expect(made.verdict).toBe('does-not-conform');
  });

  test('height difference and cross-level are the greatest of any two, with their sign', async () => {
    const differences = pairs.flatMap(([r, o]) => AT.map((_, i) => seen(r, i) - seen(o, i)));
    const levels = pairs.flatMap(([r, o]) =>
      AT.map((_, i) => ((seen(r, i) - seen(o, i)) * 1000) / Math.abs(ACROSS[r] - ACROSS[o])),
    );
    const greatest = (list: number[]) => list.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
    const height = await only({ what: 'height-difference', rails: RAILS, limit: 20 });
    expect(height.value).toBeCloseTo(greatest(differences), 4);
    const level = await only({ what: 'cross-level', rails: RAILS, limit: 20, unit: 'um/m' });
    expect(level.value).toBeCloseTo(greatest(levels), 4);
  });

  test('a pair without the datum', async () => {
    const made = await only({ what: 'twist', rail: 'D', against: 'C', limit: 20, unit: 'um/m' });
    expect(made.against).toBe('C');
    expect(made.value).toBeCloseTo(rangeOf(AT.map((_, i) => (seen('D', i) - seen('C', i)) / 0.8)), 4);
  });
});

describe('over a length', () => {
  const over = { over: { length: 1000, unit: 'mm' } };
  /** Two stations that are 1000 mm apart or less: the spacing is 500 mm. */
  const within = AT.flatMap((_, i) =>
    [i + 1, i + 2].filter((j) => j < AT.length).map((j) => [i, j] as const),
  );
  const worst = (list: readonly number[]) =>
    Math.max(...within.map(([i, j]) => Math.abs(list[j]! - list[i]!)));

  test('twist, parallelism: the greatest difference of two places within the length', async () => {
    const twist = await only({ what: 'twist', rail: 'B', ...over, limit: 20, unit: 'um/m' });
    const levels = AT.map((_, i) => (seen('B', i) - seen('A', i)) / 0.9);
    expect(twist.over).toBe(1000);
    expect(twist.value).toBeCloseTo(worst(levels), 4);
    expect(twist.value).toBeLessThan(rangeOf(levels));
    expect(twist.at).toHaveLength(2);
    const [low, high] = twist.interval!;
    expect(low).toBeLessThanOrEqual(twist.value!);
    expect(high).toBeGreaterThanOrEqual(twist.value!);
    const height = await only({ what: 'parallelism-vertical', rail: 'C', ...over, limit: 20 });
    expect(height.value).toBeCloseTo(worst(AT.map((_, i) => seen('C', i) - seen('A', i))), 4);
    const sideways = await only({ what: 'parallelism-horizontal', rail: 'D', ...over, limit: 20 });
    expect(sideways.value).toBeCloseTo(worst(AT.map((_, i) => offset.D[i]! - offset.A[i]!)), 4);
  });

  test('the worst pair of a group', async () => {
    const made = await only({ what: 'parallelism-vertical', rails: RAILS, ...over, limit: 20 });
    const pairs = RAILS.flatMap((r, k) =>
      RAILS.slice(0, k).map((o) => AT.map((_, i) => seen(r, i) - seen(o, i))),
    );
    expect(made.value).toBeCloseTo(Math.max(...pairs.map(worst)), 4);
  });

  test('level: the steepest stretch, with its sign', async () => {
    const made = await only({ what: 'level-along', rail: 'C', ...over, limit: 20, unit: 'um/m' });
    // From each station to the farthest within 1000 mm; from the last but one it is 500 mm.
    const slopes = [0, 1, 2, 3].map((i) => seen('C', i + 2) - seen('C', i));
    slopes.push((seen('C', 5) - seen('C', 4)) / 0.5);
    expect(made.value).toBeCloseTo(
      slopes.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a)),
      3,
    );
  });

  test('the whole and the stretch are two characteristics; no stretch is too short in silence', async () => {
    const list = judged(
      await judge([
        { what: 'twist', rail: 'B', limit: 40, unit: 'um/m' },
        { what: 'twist', rail: 'B', ...over, limit: 20, unit: 'um/m' },
      ]),
    );
    expect(list.map((c) => [c.over, c.limit])).toEqual([
      [undefined, 40],
      [1000, 20],
    ]);
    const short = await judge([
      { what: 'twist', rail: 'B', over: { length: 300, unit: 'mm' }, limit: 20, unit: 'um/m' },
    ]);
    expect(judged(short)[0]).toMatchObject({ value: null });
  });
});

test('parallelism to the line of the datum rail: its own shape does not count', async () => {
  const slope = (list: readonly number[]) => straight(list, AT).map((v, i) => list[i]! - v);
  const toLine = (own: readonly number[], line: readonly number[]) =>
    rangeOf(own.map((v, i) => v - slope(line)[i]!));
  const list = judged(
    await judge(
      ['vertical', 'horizontal'].map((plane) => ({
        what: `parallelism-to-line-${plane}`,
        rail: 'B',
        limit: 20,
      })),
    ),
  );
  expect(list[0]!.value).toBeCloseTo(
    toLine(
      AT.map((_, i) => seen('B', i)),
      AT.map((_, i) => seen('A', i)),
    ),
    4,
  );
  expect(list[1]!.value).toBeCloseTo(toLine(offset.B, offset.A), 4);
});

test('span of a group is that of any two of its rails', async () => {
  const ids = ['A', 'B', 'C'] as const;
  const wider = { B: [4, -6, 3], C: [-7, 5, 9] };
  const rows = (['B', 'C'] as const).flatMap((rail) =>
    wider[rail].map((um, i) => `A,${rail},${i + 1},${ACROSS[rail] + um / 1000}`),
  );
  const folder = await makeJob(
    {
      rails: ids.map((id) => ({
        id,
        across: ACROSS[id],
        stations: { at: AT.slice(0, 3) },
        ...(id === 'A' && { datum: true }),
      })),
      instruments: [{ id: 'T1', reading: { u: 0.01, unit: 'um' } }],
      readings: [{ file: 's.csv', phase: 'as-left', kind: 'span', instrument: 'T1', unit: 'mm' }],
      tolerances: [{ what: 'span', rails: ids, limit: 20, unit: 'um' }],
    },
    { 's.csv': ['rail,other,station,span', ...rows, ''].join('\n') },
  );
  const [made] = judged(await judgedOf(folder));
  // A to B: 4, −6, 3. A to C: −7, 5, 9. B to C: their differences −11, 11, 6; of two equal ones the first.
  expect(made!.value).toBeCloseTo(-11, 3);
});

describe('limits', () => {
  test('two sides that differ: every station counts, not only the one of greatest magnitude', async () => {
    const differences = AT.map((_, i) => seen('B', i) - seen('A', i));
    const [least, greatest] = [Math.min(...differences), Math.max(...differences)];
    const limits = { from: least + 0.5, to: greatest + 5 };
    const made = await only({ what: 'height-difference', rail: 'B', ...limits });
    expect(made.zone).toMatchObject({ from: limits.from, to: limits.to });
    expect(made.zone!.least).toBeCloseTo(least, 4);
    expect(made.zone!.greatest).toBeCloseTo(greatest, 4);
    expect(made.verdict).toBe('does-not-conform');
    expect(made.probability).toBeLessThan(0.01);
    const wide = await only({ what: 'height-difference', rail: 'B', from: least - 0.5, to: greatest + 5 });
    expect(wide.verdict).toBe('conforms');
    expect(wide.probability).toBeGreaterThan(0.99);
    const open = await only({ what: 'height-difference', rail: 'B', to: greatest + 0.5 });
    expect(open.verdict).toBe('conforms');
    expect((await only({ what: 'height-difference', rail: 'B', to: greatest - 0.5 })).verdict).toBe(
      'does-not-conform',
    );
  });

  test('two sides that differ, of one slope: the probability is that of a normal variable between them', async () => {
    const about = { what: 'level-along', rail: 'B', unit: 'um/m' };
    const plain = await only({ ...about, limit: 1000 });
    const [value, u] = [plain.value!, plain.u!];
    expect(u).toBeGreaterThan(0);
    const chance = async (below: number, above: number) => {
      const made = await only({ ...about, from: value - below * u, to: value + above * u });
      expect(made.zone).toMatchObject({ least: value, greatest: value });
      return made;
    };
    for (const [below, above] of [
      [0.5, 1.5],
      [2.5, 0.4],
      [4, 9],
    ] as const) {
      const made = await chance(below, above);
      expect(made.probability).toBeCloseTo(normalCdf(above) - normalCdf(-below), 6);
      expect(made.verdict).toBe('conforms');
    }
    const guarded = async (below: number, above: number) =>
      (
        await only(
          { ...about, from: value - below * u, to: value + above * u },
          { decision: { rule: 'guarded', coverage: 0.95 } },
        )
      ).verdict;
    // The interval reaches 1.96 u to either side.
    expect(await guarded(2.1, 2.1)).toBe('conforms');
    expect(await guarded(1.8, 9)).toBe('undecided');
    expect(await guarded(9, 1.8)).toBe('undecided');
    expect(await guarded(-2.1, 9)).toBe('does-not-conform');
    expect((await chance(-0.2, 30)).verdict).toBe('does-not-conform');
    expect((await chance(30, -0.2)).verdict).toBe('does-not-conform');
  });

  test('convex and hollow are read off the line through the ends', async () => {
    const crown = [0, 6, 10, 11, 7, 0];
    const saved = height.B;
    height.B = crown;
    try {
      const convex = await only({ what: 'straightness-vertical', rail: 'B', side: 'convex', limit: 12 });
      expect(convex).toMatchObject({ side: 'convex', verdict: 'conforms', reference: 'end-points' });
      expect(convex.value).toBeCloseTo(11, 4);
      expect(
        (await only({ what: 'straightness-vertical', rail: 'B', side: 'hollow', limit: 12 })).verdict,
      ).toBe('does-not-conform');
      expect(
        (await only({ what: 'straightness-vertical', rail: 'B', side: 'convex', limit: 10 })).verdict,
      ).toBe('does-not-conform');
      expect((await only({ what: 'straightness-vertical', rail: 'B', from: -2, to: 12 })).verdict).toBe(
        'conforms',
      );
    } finally {
      height.B = saved;
    }
  });

  test('a working length has its own line', async () => {
    const made = await only({ what: 'straightness-vertical', rail: 'C', between: [500, 2000], limit: 30 });
    const part = [1, 2, 3, 4];
    const own = straight(
      part.map((i) => height.C[i]!),
      part.map((i) => AT[i]!),
    );
    expect(made.value).toBeCloseTo(rangeOf(own), 4);
    expect(made.between).toEqual([500, 2000]);
  });
});

describe('rails as they are wanted', () => {
  test('every deviation is from the nominal shape', async () => {
    const crown = AT.map((along, i) => ({ along, offset: height.B[i]! }));
    const made = judged(
      await judge(
        [
          { what: 'straightness-vertical', rail: 'B', limit: 1 },
          { what: 'height-difference', rail: 'B', limit: 1000 },
        ],
        { rails: { B: { nominal: { vertical: crown, unit: 'um' } } } },
      ),
    );
    expect(made[0]!.value).toBeCloseTo(0, 4);
    const expected = AT.map((_, i) => seen('B', i) - height.B[i]! - seen('A', i));
    expect(made[1]!.value).toBeCloseTo(
      expected.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a)),
      4,
    );
  });

  test('the datum is not interpolated across its joint', async () => {
    const extra = { skip: ['A:3'] };
    const whole = judged(await judge([{ what: 'height-difference', rail: 'D', limit: 1 }], extra))[0]!;
    const parted = judged(
      await judge([{ what: 'height-difference', rail: 'D', limit: 1 }], {
        ...extra,
        rails: { A: { joints: [1200] } },
      }),
    )[0]!;
    const matched = (stations: number[]) =>
      stations
        .map((i) => seen('D', i) - (i === 2 ? (seen('A', 1) + seen('A', 3)) / 2 : seen('A', i)))
        .reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
    expect(whole.value).toBeCloseTo(matched([0, 1, 2, 3, 4, 5]), 4);
    expect(parted.value).toBeCloseTo(matched([0, 1, 3, 4, 5]), 4);
  });
});

describe('refused', () => {
  const cases: [string, object, Extra?][] = [
    ['VALUE_WRONG', { what: 'height-difference', rail: 'B', from: 3, to: 1 }],
    ['VALUE_WRONG', { what: 'height-difference', rail: 'B', limit: 3, to: 1 }],
    ['KEY_MISSING', { what: 'height-difference', rail: 'B' }],
    ['KEY_MISPLACED', { what: 'parallelism-vertical', rail: 'B', from: 0, to: 1 }],
    ['KEY_MISPLACED', { what: 'straightness-vertical', rails: ['A', 'B'], limit: 1 }],
    ['KEY_MISPLACED', { what: 'coplanarity', rail: 'B', rails: ['A', 'B'], limit: 1 }],
    ['KEY_MISPLACED', { what: 'level-along', rail: 'B', side: 'convex', limit: 1, unit: 'um/m' }],
    ['VALUE_WRONG', { what: 'coplanarity', rails: ['A', 'A'], limit: 1 }],
    ['VALUE_WRONG', { what: 'twist', rail: 'B', against: 'B', limit: 1, unit: 'um/m' }],
    ['ID_UNKNOWN', { what: 'coplanarity', rails: ['A', 'Z'], limit: 1 }],
    ['VALUE_WRONG', { what: 'straightness-vertical', rail: 'B', between: [900, 100], limit: 1 }],
    [
      'VALUE_WRONG',
      { what: 'straightness-vertical', rail: 'B', limit: 1 },
      { rails: { B: { joints: [9000] } } },
    ],
    [
      'VALUE_WRONG',
      { what: 'straightness-vertical', rail: 'B', limit: 1 },
      {
        rails: {
          B: {
            nominal: {
              vertical: [
                { along: 0, offset: 0 },
                { along: 10, offset: 3 },
              ],
              unit: 'um',
            },
          },
        },
      },
    ],
    ['TOLERANCE_NOT_APPLICABLE', { what: 'coplanarity', limit: 60 }],
  ];
  test.each(cases)('%s %j', async (code, tolerance, extra) => {
    await expect(judge([tolerance], extra)).rejects.toThrow(code);
  });
});

describe('joints', () => {
  /** Worked out by hand from the places: each part continued to the joint by its two nearest stations. */
  const byHand = (list: readonly number[], joints: readonly number[]) =>
    joints.map((x) => {
      const k = AT.findIndex((at) => at > x);
      const line = (a: number, b: number) => {
        const slope = (list[b]! - list[a]!) / ((AT[b]! - AT[a]!) / 1000);
        return { slope, at: list[b]! + (slope * (x - AT[b]!)) / 1000 };
      };
      const [before, behind] = [line(k - 2, k - 1), line(k, k + 1)];
      return { step: behind.at - before.at, slope: behind.slope - before.slope };
    });
  const greatest = (list: number[]) => list.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
  const rails = { B: { joints: [800, 1700] } };

  test.each([
    ['vertical', (i: number) => seen('B', i)],
    ['horizontal', (i: number) => Number(reading('B', i)[1])],
  ] as const)('step and change of slope, %s', async (plane, value) => {
    const list = AT.map((_, i) => value(i));
    const found = byHand(list, [800, 1700]);
    const step = await only({ what: `joint-step-${plane}`, rail: 'B', limit: 15 }, { rails });
    expect(step.value).toBeCloseTo(greatest(found.map((f) => f.step)), 4);
    expect(step.signed).toBe(true);
    const slope = await only({ what: `joint-slope-${plane}`, rail: 'B', limit: 40, unit: 'um/m' }, { rails });
    expect(slope.value).toBeCloseTo(greatest(found.map((f) => f.slope)), 4);
  });

  test('one-sided: the part behind may stand lower, never higher', async () => {
    const made = await only({ what: 'joint-step-vertical', rail: 'B', from: -1000, to: 0 }, { rails });
    const steps = byHand(
      AT.map((_, i) => seen('B', i)),
      [800, 1700],
    ).map((f) => f.step);
    expect(made.verdict).toBe(Math.max(...steps) > 0 ? 'does-not-conform' : 'conforms');
    expect(made.zone!.greatest).toBeCloseTo(Math.max(...steps), 4);
    expect(made.zone!.least).toBeCloseTo(Math.min(...steps), 4);
  });

  test('a tolerance without a rail is of each rail that has joints', async () => {
    const list = judged(
      await judge([{ what: 'joint-step-vertical', limit: 15 }], {
        rails: { B: { joints: [800] }, D: { joints: [1200] } },
      }),
    );
    expect(list.map(({ rail }) => rail)).toEqual(['B', 'D']);
  });

  test('a part with one station on its side of the joint is not guessed', async () => {
    const made = await only(
      { what: 'joint-step-vertical', rail: 'B', limit: 15 },
      { rails: { B: { joints: [300] } } },
    );
    expect(made.value).toBeNull();
    expect(undetermined(made).why).toMatch(/before its joint at 300 mm has fewer than two stations/);
  });

  test('of a rail without joints it is refused', async () => {
    await expect(judge([{ what: 'joint-step-vertical', rail: 'A', limit: 15 }])).rejects.toThrow(/no-joints/);
  });
});

describe('rate of change', () => {
  test.each([500, 1000, 1100, 9000])('over at most %i mm', async (over) => {
    const list = straight(
      AT.map((_, i) => seen('C', i)),
      AT.map((x) => x / 1000),
    );
    const slopes = AT.flatMap((x, i) => {
      const k = AT.findLastIndex((at) => at - x <= over);
      return k === i ? [] : [(list[k]! - list[i]!) / ((AT[k]! - x) / 1000)];
    });
    const made = await only({
      what: 'rate-of-change-vertical',
      rail: 'C',
      limit: 40,
      unit: 'um/m',
      over: { length: over, unit: 'mm' },
    });
    expect(made.value).toBeCloseTo(
      slopes.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a)),
      4,
    );
    expect(made.over).toBe(over);
  });

  test('no two stations within the length', async () => {
    const over = { length: 400, unit: 'mm' };
    const made = await only({ what: 'rate-of-change-vertical', rail: 'C', limit: 40, unit: 'um/m', over });
    expect(undetermined(made).why).toMatch(/no two stations of rail C are within 400 mm/);
  });
});

describe('stretches with limits of their own', () => {
  const zones = [
    { between: [0, 1000], limit: 10 },
    { between: [1500, 2500], limit: 200 },
  ];
  test('each is judged for itself, about its own line', async () => {
    const list = judged(await judge([{ what: 'straightness-vertical', rail: 'A', zones }]));
    expect(list.map(({ between, limit, verdict }) => [between, limit, verdict])).toEqual([
      [[0, 1000], 10, 'does-not-conform'],
      [[1500, 2500], 200, 'conforms'],
    ]);
    const own = straight(
      [0, 1, 2].map((i) => seen('A', i)),
      [0, 0.5, 1],
    );
    expect(list[0]!.value).toBeCloseTo(rangeOf(own), 4);
  });

  test.each([
    ['overlapping', { zones: [zones[0], { between: [800, 2000], limit: 20 }] }, /do not overlap/],
    ['reversed', { zones: [{ between: [1000, 0], limit: 20 }] }, /the lesser first/],
    ['beside a limit', { zones, limit: 20 }, /one of the two/],
  ])('%s: a clear line', async (_, more, reason) => {
    await expect(judge([{ what: 'straightness-vertical', rail: 'A', ...more }])).rejects.toThrow(reason);
  });
});
