/**
 * Correction plans: the beam against textbook cases, plans against what can be done in the head and against every subset,
 * and predictions against a second survey.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { betweenStations } from '../../../src/results/corrections/between-stations.js';
import { learntResponse } from '../../../src/results/corrections/response.js';
import {
  curvatures,
  shapeFunctions,
  supportForces,
  weightOnSupports,
} from '../../../src/results/corrections/beam.js';
import { orderOf } from '../../../src/results/corrections/order.js';
import { fewestSheets } from '../../../src/results/corrections/sheets.js';
import type { Lever } from '../../../src/results/corrections/levers.js';
import type { Results } from '../../../src/results/results-schema.js';
import { changeJob, changeRows, copyOf, levelledShot, makeJob, resultsOf } from '../../support/folders.js';
import { normal, seeded } from '../../support/jobs.js';

describe('beam', () => {
  // Simply supported, pushed in the middle by δ: F = 48·EI·δ/L³, deflection at a quarter 11/16·δ (standard beam tables, from memory).
  test('simply supported', () => {
    const [EI, L, d] = [2.1e6, 4, 50e-6];
    const at = [0, L / 2, L];
    expect(supportForces(at, [0, d, 0], EI)[1]! / ((48 * EI * d) / L ** 3)).toBeCloseTo(1, 9);
    const shape = shapeFunctions(at, [L / 4], true);
    expect(shape[1]).toBeCloseTo(11 / 16, 12);
  });
  // Three equal spans, one inner support moved: M = 6·EI·δ/L²·(2/5+…) — by the three-moment equation, worked out by hand:
  // 4·M1 + M2 = 12·EI·δ/L², M1 + 4·M2 = −6·EI·δ/L² → M1 = 18/5, M2 = −12/5 (of EI·δ/L²).
  test('three spans', () => {
    const forces = supportForces([0, 1, 2, 3], [0, 1e-3, 0, 0], 1e6);
    const [m1, m2] = [3.6, -2.4].map((v) => v * 1e3) as [number, number];
    // Reactions from the moments: R0 = −M1/L, R1 = 2·M1 − M2, R2 = 2·M2 − M1, R3 = −M2.
    [-m1, 2 * m1 - m2, 2 * m2 - m1, -m2].forEach((r, i) => expect(forces[i]).toBeCloseTo(r, 6));
    expect(forces.reduce((a, b) => a + b, 0)).toBeCloseTo(0, 6);
  });
  // Even load w on two equal spans: 3/8, 10/8 and 3/8 of w·L (standard beam tables, from memory); on one span with equal
  // overhangs, half each.
  test('its own weight', () => {
    const [w, L] = [500, 3];
    expect([...weightOnSupports([0, L, 2 * L], [0, 2 * L], w)].map((r) => r / (w * L))).toEqual([
      expect.closeTo(3 / 8, 12),
      expect.closeTo(10 / 8, 12),
      expect.closeTo(3 / 8, 12),
    ]);
    expect([...weightOnSupports([1, 3], [0, 4], w)]).toEqual([1000, 1000]);
    // Three supports, overhangs of a: M0 = M2 = −w·a²/2, 4L·M1 = −w·L³/2 + w·a²·L; reactions by equilibrium.
    const a = 0.5;
    const [m0, m1] = [(-w * a * a) / 2, -(w * L * L) / 8 + (w * a * a) / 4];
    const end = w * a + (w * L) / 2 + (m1 - m0) / L;
    const forces = weightOnSupports([0, L, 2 * L], [-a, 2 * L + a], w);
    [end, w * (2 * L + 2 * a) - 2 * end, end].forEach((r, i) => expect(forces[i]).toBeCloseTo(r, 9));
    expect(weightOnSupports([1], [0, 4], w)[0]).toBe(2000);
  });
  test('an overhang goes on straight, and straight pieces are straight', () => {
    const shape = shapeFunctions([0, 1, 2], [2, 3], true);
    for (let j = 0; j < 3; j++) {
      const slope = shapeFunctions([0, 1, 2], [2 - 1e-6], true);
      expect(shape[3 + j]! - shape[j]!).toBeCloseTo((shape[j]! - slope[j]!) / 1e-6, 4);
    }
    expect([...shapeFunctions([0, 2], [0.5], false)]).toEqual([0.75, 0.25]);
    expect([...shapeFunctions([1], [0, 5], true)]).toEqual([1, 1]);
  });
});

interface Made {
  readonly heights: readonly (readonly number[])[];
  readonly adjusters: readonly object[];
  readonly corrections?: object;
  readonly tolerances?: readonly object[];
  readonly noise?: () => number;
  readonly rail?: object;
}

const SPACING = 500;
async function survey({
  heights,
  adjusters,
  corrections = {},
  tolerances,
  noise = () => 0,
  rail = {},
}: Made): Promise<Results> {
  const ids = ['A', 'B'].slice(0, heights.length);
  const rows = ids.flatMap((id, r) =>
    heights[r]!.map((h, i) => `S1,${id},${i + 1},${(h + noise()).toFixed(4)}`),
  );
  const limit =
    tolerances ?? ids.map((id) => ({ what: 'straightness-vertical', rail: id, limit: 12, unit: 'um' }));
  const folder = await makeJob(
    {
      ...levelledShot('as-found', 1, 0.5),
      rails: ids.map((id, k) => ({
        id,
        across: 2000 * k,
        ...(k === 0 && { datum: true }),
        stations: { first: 0, spacing: SPACING, count: heights[k]!.length },
        ...rail,
      })),
      tolerances: limit,
      adjusters,
      // What is tested is the plan: however small a move, and as if it came out as asked.
      corrections: { least: { value: 0, unit: 'um' }, response: 1e-9, ...corrections },
      decision: { rule: 'guarded', coverage: 0.95 },
    },
    { 'r.csv': ['setup,rail,station,vertical', ...rows, ''].join('\n') },
  );
  return resultsOf(folder);
}
const screw = (id: string, rail: string, along: number, more: object = {}) => ({
  id,
  rail,
  along,
  moves: { vertical: { up: 1, down: 1, unit: 'mm', pitch: 1 } },
  ...more,
});

describe('in the head', () => {
  let results: Results;
  beforeAll(async () => {
    // Three supports at the stations, the middle one 60 µm low, straight pieces between.
    results = await survey({
      heights: [[0, -30, -60, -30, 0]],
      adjusters: [0, 1000, 2000].map((x, k) => screw(`J${k + 1}`, 'A', x)),
    });
  });

  test('one adjuster, lifted by what is missing less what the limit leaves', () => {
    const { status, moves, predicted } = results.corrections;
    expect(status).toBe('best');
    expect(moves!.map((m) => m.adjuster)).toEqual(['J2']);
    expect(moves![0]!.move).toBeGreaterThan(50);
    expect(moves![0]!.move).toBeLessThan(61);
    expect(moves![0]!.turns).toBeCloseTo(moves![0]!.move / 1000, 12);
    expect(predicted!.filter((c) => c.limit !== null).map((c) => c.verdict)).toEqual(['conforms']);
  });

  test('shims are whole sheets', async () => {
    const { corrections } = await survey({
      heights: [[0, -30, -60, -30, 0]],
      adjusters: [0, 1000, 2000].map((along, k) => ({
        id: `P${k + 1}`,
        rail: 'A',
        along,
        shims: { have: [0.05, 0.02, 0.01], in: 0.5, unit: 'mm' },
      })),
    });
    expect(corrections.moves).toHaveLength(1);
    const { adjuster, move, shims } = corrections.moves![0]!;
    expect(adjuster).toBe('P2');
    const sum = (list: number[]) => list.reduce((a, b) => a + b, 0);
    expect(sum(shims!.add) - sum(shims!.take)).toBeCloseTo(move, 9);
    expect((move / 10) % 1).toBeCloseTo(0, 9);
  });

  test('what cannot be had says what stands in the way', async () => {
    const { corrections } = await survey({
      heights: [[0, -30, -60, -30, 0]],
      adjusters: [0, 1000, 2000].map((x, k) =>
        screw(`J${k + 1}`, 'A', x, { moves: { vertical: { up: 0.01, down: 0.005, unit: 'mm' } } }),
      ),
    });
    expect(corrections.status).toBe('impossible');
    expect(corrections.why).toMatch(/straightness-vertical of rail A misses its limit by \d/);
    for (const m of corrections.moves!) expect(m.move).toBeLessThanOrEqual(10 + 1e-6);
  });

  test('rails that stay, adjusters that are fixed, and travel are kept to', async () => {
    const { corrections } = await survey({
      heights: [
        [0, 5, 0, -5, 0],
        [80, 60, 40, 60, 80],
      ],
      adjusters: ['A', 'B'].flatMap((rail) =>
        [0, 1000, 2000].map((x, k) => screw(`${rail}${k + 1}`, rail, x, k === 0 ? { fixed: true } : {})),
      ),
      tolerances: [{ what: 'parallelism-vertical', rail: 'B', limit: 30, unit: 'um' }],
      corrections: { want: 'fewest-moves', untouched: ['A'], margin: 0.1 },
    });
    expect(corrections.status).toBe('best');
    expect(corrections.moves!.every(({ adjuster }) => ['B2', 'B3'].includes(adjuster))).toBe(true);
  });

  test.each(['level-and-straight', 'straight', 'parallel-to-datum'])('%s', async (want) => {
    const line = [0, 10, 20, 30, 40];
    const { corrections } = await survey({
      heights: [line, line.map((h, i) => 100 + h + (i === 2 ? -50 : 0))],
      adjusters: ['A', 'B'].flatMap((rail) =>
        [0, 500, 1000, 1500, 2000].map((x, k) => screw(`${rail}${k + 1}`, rail, x)),
      ),
      corrections: { want },
    });
    const of = (what: string, rail: string) =>
      corrections.predicted!.find((c) => c.what === what && c.rail === rail)!;
    expect(corrections.status).toBe('best');
    expect(of('straightness-vertical', 'B').value).toBeLessThan(0.1);
    const slope = of('level-along', 'B').value!;
    if (want === 'level-and-straight') {
      expect(Math.abs(slope)).toBeLessThan(0.1);
      expect(Math.abs(of('height-difference', 'B').value!)).toBeLessThan(0.1);
    } else expect(slope).toBeCloseTo(20, 1);
    if (want === 'parallel-to-datum') {
      expect(corrections.moves!.every(({ rail }) => rail === 'B')).toBe(true);
      expect(of('parallelism-vertical', 'B').value).toBeLessThan(0.1);
    }
  });
});

test('straight, moves below 10 µm left out: the others are made in full, not smaller by as much', async () => {
  // The least-squares line of these is zero: they add up to zero, and so do they times their distance from the middle.
  const heights = [0, 25, -20, 6, -22, 6, -20, 25, 0];
  const { corrections } = await survey({
    heights: [heights],
    adjusters: [],
    corrections: { want: 'straight', least: { value: 10, unit: 'um' } },
  });
  expect(corrections.status).toBe('best');
  const asked = new Map(corrections.moves!.map(({ adjuster, move }) => [adjuster, move]));
  expect([...asked.keys()].sort()).toEqual(['A:2', 'A:3', 'A:5', 'A:7', 'A:8']);
  for (const [place, um] of asked) {
    const off = heights[Number(place.slice(2)) - 1]!;
    expect(Math.abs(off + um), place).toBeLessThan(0.2);
  }
});

test('only moves below 10 µm would help: none is listed, and that is said', async () => {
  const { corrections } = await survey({
    heights: [[0, 8, -8, 0, 0, -8, 8, 0]],
    adjusters: [],
    corrections: { want: 'straight', least: { value: 10, unit: 'um' } },
  });
  expect(corrections.moves).toEqual([]);
  expect([corrections.status, corrections.why]).toEqual([
    'impossible',
    expect.stringMatching(/smaller than/),
  ]);
});

test('no smaller set of adjusters would do: every subset tried', async () => {
  const next = seeded(7);
  for (let k = 0; k < 6; k++) {
    const heights = [Array.from({ length: 6 }, () => 25 * normal(next))];
    const all = [0, 500, 1000, 1500, 2000, 2500].map((x, i) => screw(`J${i + 1}`, 'A', x));
    const { corrections } = await survey({ heights, adjusters: all });
    expect(corrections.status).toBe('best');
    const count = corrections.moves!.length;
    // With all but a smaller set fixed, nothing conforms.
    for (let mask = 0; mask < 64; mask++) {
      const bits = all.filter((_, i) => mask & (1 << i)).length;
      if (bits !== count - 1) continue;
      const fewer = await survey({
        heights,
        adjusters: all.map((a, i) => (mask & (1 << i) ? a : { ...a, fixed: true })),
      });
      expect(fewer.corrections.status).toBe('impossible');
    }
  }
});

describe('supports', () => {
  const low = [0, -30, -60, -30, 0];
  const places = [0, 1000, 2000];

  test('a pair across a bed moves alike, the rail between them', async () => {
    const adjusters = places.flatMap((x, k) => [
      screw(`L${k}`, 'A', x, { aside: 100 }),
      screw(`R${k}`, 'A', x, { aside: -300 }),
    ]);
    const { corrections } = await survey({ heights: [low], adjusters });
    expect(corrections.moves!.map(({ adjuster }) => adjuster)).toEqual(['L1', 'R1']);
    const [left, right] = corrections.moves!.map(({ move }) => move);
    expect(left).toBeCloseTo(right!, 9);
    expect(left).toBeGreaterThan(50);
  });

  test('who moves with another moves as much', async () => {
    const heights = [low, [0, 0, 0, 0, 0]];
    const adjusters = ['A', 'B'].flatMap((rail) =>
      places.map((x, k) =>
        screw(`${rail}${k}`, rail, x, k !== 1 ? { fixed: true } : rail === 'B' ? { movesWith: 'A1' } : {}),
      ),
    );
    const tolerances = [{ what: 'straightness-vertical', rail: 'A', limit: 12, unit: 'um' }];
    const { corrections } = await survey({ heights, adjusters, tolerances });
    expect(corrections.moves!.map(({ adjuster }) => adjuster)).toEqual(['A1', 'B1']);
    expect(corrections.moves![0]!.move).toBeCloseTo(corrections.moves![1]!.move, 9);
  });

  // A light, stiff rail: lifted by 60 µm in the middle it would stand on the middle alone.
  test('no support that only carries is left hanging', async () => {
    const rail = {
      beam: { stiffness: { value: 2.1, unit: 'MN m2' }, weight: { value: 100, unit: 'N/m' } },
    };
    const adjusters = places.map((x, k) => screw(`J${k}`, 'A', x, k === 1 ? {} : { fixed: true }));
    // Bent as a beam bends that is pushed down in its middle.
    const heights = [[0, -41.25, -60, -41.25, 0]];
    const hung = await survey({ heights, adjusters, rail });
    expect(hung.corrections.status).toBe('impossible');
    for (const { move } of hung.corrections.moves!) {
      // Ends of three supports carry 3/8·w·L and lose 3·EI·δ/L³ each (simply supported, pushed in the middle).
      expect(move * 1e-6 * 3 * 2.1e6).toBeLessThanOrEqual((3 / 8) * 100 + 1e-6);
    }
    const held = adjusters.map((a) => ({ ...a, holdsDown: true }));
    const clamped = await survey({ heights, adjusters: held, rail });
    expect(clamped.corrections.status).toBe('best');
    expect(clamped.corrections.moves![0]!.forceN).toBeGreaterThan(100);
  });

  test('adjusters that are coarser than the shape: what they leave is said', async () => {
    const { corrections } = await survey({
      heights: [[0, 40, 0, 40, 0, 40, 0]],
      adjusters: [0, 1500, 3000].map((x, k) => screw(`J${k}`, 'A', x)),
    });
    expect(corrections.status).toBe('impossible');
    const { coarse, by } = corrections.missed![0]!;
    expect(coarse!.apartM).toBe(1.5);
    expect(coarse!.leaves).toBeGreaterThan(30);
    expect(by).toBeGreaterThan(15);
    expect(corrections.why).toMatch(/coarser than the shape/);
  });

  test('how badly a move comes out is allowed for', async () => {
    const adjusters = places.map((x, k) => screw(`J${k}`, 'A', x));
    const corrections = { margin: 0.2 };
    const exact = (await survey({ heights: [low], adjusters, corrections })).corrections;
    const rough = (
      await survey({
        heights: [low],
        adjusters,
        corrections: { ...corrections, response: { u: 4, unit: '%' } },
      })
    ).corrections;
    expect(rough.response).toEqual({ u: 0.04, learntFrom: null });
    const probability = (c: Results['corrections']) =>
      c.predicted!.find((p) => p.limit !== null)!.probability!;
    expect(rough.moves![0]!.move).not.toBeCloseTo(exact.moves![0]!.move, 1);
    expect(probability(exact)).toBeGreaterThan(0.97);
    expect(probability(rough)).toBeGreaterThan(0.97);
  });
});

test('a place beyond the last station lies on from the last two', () => {
  expect(betweenStations([0, 1, 3], 2)).toEqual({ before: 1, share: 0.5 });
  expect(betweenStations([0, 1, 3], 1)).toEqual({ before: 0, share: 1 });
  expect(betweenStations([0, 1, 3], 4)).toEqual({ before: 1, share: 1.5 });
  expect(betweenStations([0, 1, 3], -1)).toEqual({ before: 0, share: -1 });
});

describe('order of work', () => {
  const lever = (mm: number, shims: object | null = null) =>
    ({ adjuster: { atMm: mm, shims }, share: 1 }) as unknown as Lever;
  const places = [0, 1, 2, 3, 4, 5, 6];
  const bent = (y: readonly number[]) => Math.max(...curvatures(places, y).map(Math.abs));

  test('property: on the way the rail is never bent more than before or after', () => {
    const next = seeded(11);
    for (let k = 0; k < 40; k++) {
      const now = places.map(() => 40 * normal(next));
      const moves = places.map((x) => ({ lever: lever(1000 * x), um: 60 * normal(next) }));
      const { moves: order, rounds } = orderOf(moves, places, now, []);
      const end = now.map((y, i) => y + moves[i]!.um);
      const y = now.slice();
      let most = 0;
      for (let round = 0; round < rounds; round++)
        for (const move of order) {
          y[move.lever.adjuster.atMm / 1000]! += move.um / rounds;
          most = Math.max(most, bent(y));
        }
      y.forEach((v, i) => expect(v).toBeCloseTo(end[i]!, 6));
      // Four rounds are the most that a crew is asked for. Within one, each place is a quarter of its move ahead at most.
      const ahead = moves.reduce(
        (sum, { um }, i) => sum + bent(places.map((_, j) => (i === j ? um / 4 : 0))),
        0,
      );
      expect(most).toBeLessThanOrEqual(Math.max(bent(now), bent(end)) * 1.06 + (rounds < 4 ? 0 : ahead));
    }
  });

  test('from one end to the other where that bends the rail no more than it is now', () => {
    const bentNow = places.map((_, i) => (i % 2 === 0 ? 0 : -400));
    const small = [5, 1, 3].map((i) => ({ lever: lever(1000 * places[i]!), um: 100 }));
    const { moves, rounds } = orderOf(small, places, bentNow, []);
    expect(rounds).toBe(1);
    expect(moves.map(({ lever: { adjuster } }) => adjuster.atMm / 1000)).toEqual([1, 3, 5]);
  });

  test('lifting a whole rail takes rounds, fixing one low support does not', () => {
    const flat = places.map(() => 0);
    const all = places.map((x) => ({ lever: lever(1000 * x), um: 500 }));
    expect(
      orderOf(
        all,
        places,
        flat.map((_, i) => (i === 3 ? -20 : 0)),
        [],
      ).rounds,
    ).toBeGreaterThan(1);
    const low = flat.map((_, i) => (i === 3 ? -500 : 0));
    expect(orderOf([{ lever: lever(3000), um: 500 }], places, low, []).rounds).toBe(1);
  });
});

test('sheets are as few as make the move', async () => {
  expect(await fewestSheets([500, 50, 20, 10], 1200, -20)).toEqual({ add: [], take: [20] });
  expect(await fewestSheets([500, 50, 20], 500, -450)).toEqual({ add: [50], take: [500] });
  expect(await fewestSheets([100, 50, 20], 0, 90)).toEqual({ add: [50, 20, 20], take: [] });
});

test('moves are made in two goes where they are large against the range', async () => {
  const high = [0, -3000, -6000, -3000, 0];
  const { corrections } = await survey({
    heights: [high],
    adjusters: [0, 1000, 2000].map((x, k) =>
      screw(`J${k}`, 'A', x, { moves: { vertical: { up: 9, down: 9, unit: 'mm' } } }),
    ),
  });
  expect(corrections.coarseShare).toBe(0.8);
});

describe('a job without adjusters', () => {
  test('the stations stand for them, and the least movement is found', async () => {
    const { corrections, verdict } = await survey({ heights: [[0, 3, -40, 2, 0, 1]], adjusters: [] });
    expect(verdict).toBe('does-not-conform');
    expect(corrections.of).toBe('stations');
    expect(corrections.moves!.map(({ adjuster }) => adjuster)).toEqual(['A:3']);
    expect(corrections.predicted!.find((c) => c.limit !== null)!.verdict).toBe('conforms');
  });

  test('one that conforms has no plan', async () => {
    const { corrections } = await survey({ heights: [[10, 11, 10, 9, 10]], adjusters: [] });
    expect(corrections.status).toBeUndefined();
    expect(corrections.moves).toBeUndefined();
  });
});

describe('as left beside asked', () => {
  const low = [0, -15, -30, -45, -60, -45, -30, -15, 0];
  const adjusters = [0, 1000, 2000, 3000, 4000].map((x, k) => screw(`J${k + 1}`, 'A', x));
  const done = async (change: (asked: Map<string, number>) => void, more: object = {}) => {
    const before = await survey({ heights: [low], adjusters, corrections: { want: 'straight' } });
    const asked = new Map(before.corrections.moves!.map((m) => [m.adjuster, m.move]));
    const made = new Map(asked);
    change(made);
    const at = adjusters.map(({ along }) => along / 1000);
    const x = low.map((_, i) => (SPACING * i) / 1000);
    const shape = shapeFunctions(at, x, false);
    const after = low.map((h, i) =>
      adjusters.reduce((sum, { id }, j) => sum + shape[i * at.length + j]! * (made.get(id) ?? 0), h),
    );
    const rows = (heights: readonly number[]) =>
      ['setup,rail,station,vertical', ...heights.map((h, i) => `S1,A,${i + 1},${h.toFixed(3)}`), ''].join(
        '\n',
      );
    const parts = levelledShot('as-found', 1, 0.5);
    const folder = await makeJob(
      {
        ...parts,
        rails: [
          { id: 'A', across: 0, datum: true, stations: { first: 0, spacing: SPACING, count: low.length } },
        ],
        readings: [
          { file: 'r.csv', phase: 'as-found' },
          { file: 'l.csv', phase: 'as-left' },
        ],
        confirmed: ['r.csv', 'l.csv'].flatMap((file) =>
          ['UNIT_IMPLAUSIBLE', 'PHASES_MIRRORED'].map((what) => ({
            what,
            in: file,
            by: 'the test',
            because: 'it invents its rails',
          })),
        ),
        tolerances: [{ what: 'straightness-vertical', rail: 'A', limit: 12, unit: 'um' }],
        adjusters,
        corrections: { want: 'straight', least: { value: 0, unit: 'um' }, ...more },
      },
      { 'r.csv': rows(low), 'l.csv': rows(after) },
    );
    return { asked, results: await resultsOf(folder) };
  };

  test('done as asked', async () => {
    const { results, asked } = await done(() => undefined);
    const told = results.corrections.done!;
    expect(told.filter((d) => d.asked !== 0).length).toBe(asked.size);
    expect(new Set(told.map(({ says }) => says))).toEqual(new Set(['as-asked']));
  });

  test('a screw that was turned the wrong way is named, and a support that yields', async () => {
    const wrong = await done((made) => made.set('J3', -made.get('J3')!));
    const says = (r: Results, id: string) => r.corrections.done!.find((d) => d.adjuster === id)?.says;
    expect(says(wrong.results, 'J3')).toBe('turned-the-wrong-way');
    expect(wrong.results.corrections.done!.filter((d) => d.says === 'turned-the-wrong-way')).toHaveLength(1);
    const yields = await done((made) => made.set('J3', 0.5 * made.get('J3')!));
    expect(says(yields.results, 'J3')).toBe('too-little');
  });

  test('how well moves come out is learnt, and used for the next plan', () => {
    const told = [0.9, 1.1, 0.9, 1.1].map((share, k) => ({
      adjuster: `J${k}`,
      rail: 'A',
      axis: 'vertical' as const,
      asked: 100,
      did: { value: 100 * share, u: 1 },
      says: 'as-asked' as const,
    }));
    expect(learntResponse(told)).toEqual({
      u: expect.closeTo(0.1 * Math.sqrt(4 / 3), 9) as number,
      gain: expect.closeTo(1, 9) as number,
      learntFrom: 4,
    });
    expect(learntResponse(told.slice(0, 3))!.learntFrom).toBe(3);
    expect(learntResponse(told.slice(0, 2))).toBeNull();
  });

  test('an adjuster has a response of its own only where it differs by more than its uncertainty explains', () => {
    const told = (last: number, u: number) =>
      [1, 1, 1, 1, last].map((share, k) => ({
        adjuster: `J${k}`,
        rail: 'A',
        axis: 'vertical' as const,
        asked: 100,
        did: { value: 100 * share, u },
        says: 'too-little' as const,
      }));
    // u of a response: 1 µm of 100, and a scatter of moves that is assumed; 0.4 is far beyond, 0.9 is not.
    expect(learntResponse(told(0.4, 1))!.own).toEqual([{ adjuster: 'J4', axis: 'vertical', gain: 0.4 }]);
    expect(learntResponse(told(0.9, 1))!.own).toBeUndefined();
    // The same 0.4, read so badly that it says nothing.
    expect(learntResponse(told(0.4, 30))?.own).toBeUndefined();
  });
});

test('predicted readings, fed back, give what was predicted', async () => {
  const first = await resultsOf(await copyOf('TH-4520'));
  const { moves, predicted } = first.corrections;
  const folder = await copyOf('TH-4520');
  const byPlace = new Map<string, number>();
  await changeJob(
    folder,
    (job: {
      adjusters: { id: string; rail: string; along: number }[];
      rails: { id: string; joints?: number[] }[];
    }) => {
      for (const { id, joints = [] } of job.rails) {
        const ends = [-Infinity, ...joints, Infinity];
        ends.slice(1).forEach((to, k) => {
          const own = job.adjusters.filter((a) => a.rail === id && a.along > ends[k]! && a.along <= to);
          const x = Array.from({ length: 11 }, (_, i) => i * 600).filter((mm) => mm > ends[k]! && mm <= to);
          const shape = shapeFunctions(
            own.map((a) => a.along / 1000),
            x.map((mm) => mm / 1000),
            true,
          );
          for (const axis of ['vertical', 'horizontal'])
            x.forEach((mm, i) => {
              const by = own.reduce((sum, a, j) => {
                const move = moves!.find((m) => m.adjuster === a.id && m.axis === axis)?.move ?? 0;
                return sum + shape[i * own.length + j]! * move;
              }, 0);
              byPlace.set(`${id} ${mm / 600 + 1} ${axis}`, by);
            });
        });
      }
    },
  );
  await changeRows(folder, 'readings/as-found.csv', (header, rows) =>
    rows.map((row) =>
      row.map((cell, i) => {
        const by = byPlace.get(`${row[1]} ${row[2]} ${header[i]}`);
        return by === undefined || cell === '' ? cell : String(Number(cell) + by);
      }),
    ),
  );
  const then = (await resultsOf(folder)).phases['as-found']!.characteristics;
  expect(then).toHaveLength(predicted!.length);
  predicted!.forEach((p, k) => {
    if (p.value === null) return expect(then[k]!.value).toBeNull();
    // Not to the last digit: a target's scale acts on the readings, which are others now.
    expect(Math.abs(then[k]!.value! - p.value), `${p.what} of ${p.rail}`).toBeLessThan(0.05);
    expect(then[k]!.verdict).toBe(p.verdict);
  });
});

describe('refused', () => {
  const cases: [string, object[]][] = [
    ['VALUE_WRONG', [screw('J1', 'A', 99_000)]],
    ['VALUE_WRONG', [screw('J1', 'A', 500), screw('J2', 'A', 500)]],
    ['ID_UNKNOWN', [screw('J1', 'Z', 500)]],
    ['ID_DUPLICATE', [screw('J1', 'A', 500), screw('J1', 'A', 1500)]],
    ['VALUE_WRONG', [screw('J1', 'A', 500, { moves: { vertical: { up: 0, down: 0, unit: 'mm' } } })]],
    ['VALUE_WRONG', [{ id: 'J1', rail: 'A', along: 500, shims: { have: [], unit: 'mm' } }]],
    ['VALUE_WRONG', [screw('J1', 'A', 500, { aside: 100 }), screw('J2', 'A', 500, { aside: 200 })]],
    ['VALUE_WRONG', [-100, 0, 100].map((aside, k) => screw(`J${k}`, 'A', 500, { aside }))],
    ['ID_UNKNOWN', [screw('J1', 'A', 500, { movesWith: 'J9' })]],
    ['VALUE_WRONG', [screw('J1', 'A', 500, { movesWith: 'J1' })]],
    ['VALUE_WRONG', [screw('J1', 'A', 500, { movesWith: 'J2' }), screw('J2', 'A', 1500, { fixed: true })]],
  ];
  test.each(cases)('%s %j', async (code, adjusters) => {
    await expect(survey({ heights: [[0, 1, 2, 3, 4]], adjusters })).rejects.toThrow(code);
  });
  test.each([0, 1e-9, 1e9])('a stiffness of %d MN m2', async (value) => {
    const rail = { beam: { stiffness: { value, unit: 'MN m2' } } };
    await expect(survey({ heights: [[0, 1, 2, 3, 4]], adjusters: [], rail })).rejects.toThrow('VALUE_WRONG');
  });
});
