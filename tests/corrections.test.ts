/**
 * Correction plans: the beam against textbook cases, plans against what can be done in the head and against every subset,
 * and predictions against a second survey.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { shapeFunctions, supportForces } from '../src/corrections/beam.js';
import type { Results } from '../src/results/results-schema.js';
import { levelledShot, makeJob, resultsOf } from './support/folders.js';
import { normal, seeded } from './support/jobs.js';

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
      corrections,
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
}, 60_000);

test('moves made on the true rail and surveyed again conform as often as predicted', async () => {
  const next = seeded(3);
  let [predicted, conformed, jobs] = [0, 0, 0];
  for (let k = 0; k < 60; k++) {
    const truth = Array.from({ length: 9 }, () => 20 * normal(next));
    const adjusters = Array.from({ length: 9 }, (_, i) => screw(`J${i + 1}`, 'A', 500 * i));
    const rail = { beam: { stiffness: { value: 2.1, unit: 'MN m2' } } };
    const first = await survey({ heights: [truth], adjusters, noise: () => normal(next), rail });
    if (first.corrections.status !== 'best') continue;
    jobs++;
    const at = adjusters.map(({ along }) => along / 1000);
    const shape = shapeFunctions(at, at, true);
    const after = truth.map((h, i) =>
      first.corrections.moves!.reduce((sum, m) => {
        const j = adjusters.findIndex(({ id }) => id === m.adjuster);
        return sum + shape[i * at.length + j]! * m.move;
      }, h),
    );
    predicted += first.corrections.predicted!.find((c) => c.limit !== null)!.probability!;
    const range = (() => {
      const n = after.length;
      const xs = after.map((_, i) => i);
      const [mx, my] = [xs, after].map((v) => v.reduce((a, b) => a + b, 0) / n) as [number, number];
      const slope =
        xs.reduce((s, x, i) => s + (x - mx) * (after[i]! - my), 0) /
        xs.reduce((s, x) => s + (x - mx) ** 2, 0);
      const d = after.map((v, i) => v - my - slope * (i - mx));
      return Math.max(...d) - Math.min(...d);
    })();
    if (range <= 12) conformed++;
  }
  expect(jobs).toBeGreaterThan(50);
  // The prediction is a confidence: it holds at least as often as it says.
  expect(conformed / jobs).toBeGreaterThanOrEqual(predicted / jobs - 0.05);
}, 60_000);

describe('refused', () => {
  const cases: [string, object[]][] = [
    ['VALUE_WRONG', [screw('J1', 'A', 99_000)]],
    ['VALUE_WRONG', [screw('J1', 'A', 500), screw('J2', 'A', 500)]],
    ['ID_UNKNOWN', [screw('J1', 'Z', 500)]],
    ['ID_DUPLICATE', [screw('J1', 'A', 500), screw('J1', 'A', 1500)]],
    ['VALUE_WRONG', [screw('J1', 'A', 500, { moves: { vertical: { up: 0, down: 0, unit: 'mm' } } })]],
    ['VALUE_WRONG', [{ id: 'J1', rail: 'A', along: 500, shims: { have: [], unit: 'mm' } }]],
  ];
  test.each(cases)('%s %j', async (code, adjusters) => {
    await expect(survey({ heights: [[0, 1, 2, 3, 4]], adjusters })).rejects.toThrow(code);
  });
});
