import { describe, expect, test } from 'vitest';
import conformity from '../../published/conformity.json' with { type: 'json' };
import fc from 'fast-check';
import { createGenerator } from '../../../src/base/statistics/random.js';
import { normalCdf } from '../../../src/base/statistics/normal.js';
import {
  decide,
  guarded,
  judgedBy,
  riskOf,
  type Conformity,
  type Decision,
} from '../../../src/solution/verdict/decision-rule.js';
import { errorsOf } from '../../../src/solution/verdict/errors.js';
import { greatestInterval, type Reach } from '../../../src/solution/verdict/greatest.js';
import { greatestRange } from '../../../src/solution/verdict/greatest-range.js';
import { linearInterval } from '../../../src/solution/verdict/linear-interval.js';

const item = <T>(id: string): T => conformity.find((x) => x.id === id) as unknown as T;
/** A magnitude with the ends of its interval. */
const judged = (value: number, [lower, upper]: readonly [number, number]) => ({ value, lower, upper });
const around = (y: number, U: number) => judged(y, [y - U, y + U]);

const meaning: Record<string, Conformity> = {
  pass: 'conforms',
  fail: 'does-not-conform',
  'conditional pass': 'undecided',
  'conditional fail': 'undecided',
  conform: 'conforms',
  'non-conform': 'does-not-conform',
  'not proven': 'undecided',
};

interface Vectors {
  inputs: { limit_mm: number; U_mm: number; y_mm: number[] };
  expected: { simple: string[]; guarded: string[] };
}
const vectors = item<Vectors>('DECISION-VECTORS');

test.each(vectors.inputs.y_mm.map((y, k) => [y, k]))('decision vectors, y = %d mm', (y, k) => {
  const { limit_mm: limit, U_mm: U } = vectors.inputs;
  expect(decide(around(y!, U), limit, 'simple')).toBe(meaning[vectors.expected.simple[k!]!]);
  expect(decide(around(y!, U), limit, 'guarded')).toBe(meaning[vectors.expected.guarded[k!]!]);
});

interface Iso {
  inputs: { upper_limit_mm: number; expanded_uncertainty_U_mm: number; measured: number[] };
  expected: { rule_1998: { verdicts: string[] }; rule_2017: { verdicts: string[]; guard: number } };
}
const iso = item<Iso>('CONF-14253');

test.each(iso.inputs.measured.map((y, k) => [y, k]))('ISO 14253-1, measured %d mm', (y, k) => {
  const { upper_limit_mm: limit, expanded_uncertainty_U_mm: U } = iso.inputs;
  const { rule_1998, rule_2017 } = iso.expected;
  expect(decide(around(y!, U), limit, 'guarded')).toBe(meaning[rule_1998.verdicts[k!]!]);
  expect(decide(around(y!, rule_2017.guard), limit, 'guarded')).toBe(meaning[rule_2017.verdicts[k!]!]);
});

test('an end of the interval on the limit lies inside, and one part in 1e12 does not move it off', () => {
  expect(decide(judged(40, [0, 40.00000000000001]), 40, 'guarded')).toBe('conforms');
  expect(decide(judged(40.00000000000001, [0, 50]), 40, 'simple')).toBe('conforms');
  expect(decide(judged(40.0000001, [0, 50]), 40, 'simple')).toBe('does-not-conform');
  expect(decide(judged(45, [40, 50]), 40, 'guarded')).toBe('undecided');
  expect(decide(judged(45, [40.001, 50]), 40, 'guarded')).toBe('does-not-conform');
});

test('without uncertainty the interval is the value, and both rules say the same', () => {
  for (const y of [39, 40, 41])
    expect(decide(around(y, 0), 40, 'guarded')).toBe(decide(around(y, 0), 40, 'simple'));
});

test('a value that the readings cannot determine is undecided under either rule', () => {
  expect(decide(null, 40, 'simple')).toBe('undecided');
  expect(decide(null, 40, 'guarded')).toBe('undecided');
});

test('a limit is finite and not negative', () => {
  expect(() => decide(around(1, 1), -1, 'simple')).toThrow(RangeError);
  expect(() => decide(around(1, 1), NaN, 'simple')).toThrow(RangeError);
});

/** One linear figure y with standard uncertainty u, as a level is. */
const linear = (y: number, u: number) => linearInterval(y, u, 0.95).reach;
const decided = (y: number, u: number, limit: number, how: Partial<Decision>) => {
  const decision: Decision = { rule: 'guarded', coverage: 0.95, ...how };
  return decide(judgedBy(decision, linear(y, u)), limit, decision.rule);
};

test('signed figures are held against both limits', () => {
  expect(decided(-41, 1, 40, { rule: 'simple' })).toBe('does-not-conform');
  expect(decided(-41, 1, 40, {})).toBe('undecided');
  expect(decided(-38, 1, 40, {})).toBe('conforms');
  expect(decided(-50, 1, 40, {})).toBe('does-not-conform');
  expect(decided(0, 30, 40, {})).toBe('undecided');
});

describe('guard bands w = r·U', () => {
  test.each([
    // 30 ± 10 at 95 %, limit 38: accepted where 30 + 10·r lies within.
    [0.5, 'conforms'],
    [0.79, 'conforms'],
    [1, 'undecided'],
    [2, 'undecided'],
  ] as const)('r = %f: %s', (guardBand, verdict) =>
    expect(decided(30, 10 / 1.96, 38, { guardBand })).toBe(verdict),
  );
  test('rejection is guarded by the same band', () => {
    expect(decided(50, 10 / 1.96, 42, {})).toBe('undecided');
    expect(decided(50, 10 / 1.96, 42, { guardBand: 0.5 })).toBe('does-not-conform');
  });
  test('no band is left of simple acceptance', () =>
    expect(decided(30, 5, 5, { rule: 'simple', guardBand: 3 })).toBe('does-not-conform'));
});

describe('the risk that is accepted', () => {
  // ISO 14253-1:2017: at a risk of 5 % the guard factor of a single linear quantity is 1.65 (1.645).
  test.each([
    [0.05, 1.6449],
    [0.025, 1.96],
    [0.001, 3.0902],
  ])('%f: the value must lie %f u inside its limit', (risk, factor) => {
    expect(decided(40 - (factor + 1e-3) * 2, 2, 40, { risk })).toBe('conforms');
    expect(decided(40 - (factor - 1e-3) * 2, 2, 40, { risk })).toBe('undecided');
  });
  test('no risk at all accepts nothing', () => expect(decided(0, 1, 40, { risk: 0 })).toBe('undecided'));
  test('it is left to acceptance: rejection stays at the coverage', () => {
    expect(decided(43.9, 2, 40, { risk: 0.4 })).toBe('undecided');
    expect(decided(44, 2, 40, { risk: 0.001 })).toBe('does-not-conform');
  });

  test('the bound that is told is the least risk at which the same figure is accepted', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.double({ min: 0.1, max: 9, noNaN: true }),
        (y, u) => {
          const reach = linear(y, u);
          const verdict = decide(judgedBy({ rule: 'simple', coverage: 0.95 }, reach), 30, 'simple');
          const { of, atMost } = riskOf(verdict, reach, 30)!;
          expect(of).toBe(y <= 30 ? 'wrong-acceptance' : 'wrong-rejection');
          // By the normal tail, worked out by itself.
          const z = Math.abs(y - 30) / u;
          const other = y <= 30 ? 0 : normalCdf(-(y + 30) / u);
          expect(atMost).toBeCloseTo(normalCdf(-z) + other, 9);
          const risk = Math.min(0.5, atMost * (1 + 1e-9));
          if (y <= 30 && atMost > 1e-6) expect(decided(y, u, 30, { risk })).toBe('conforms');
        },
      ),
    );
  });
});

describe('of a range, by simulation', () => {
  // Three stations, of which two tie at the limit of 10: the hardest case, for every draw may be the greater one.
  const n = 3;
  const u = 2;
  const normals = (seed: number, count: number) => {
    const generator = createGenerator(seed);
    const made = new Float64Array(count);
    generator.fillNormals(made, 0, count);
    return made.map((v) => v * u);
  };
  const matrix = new Float64Array(n * n).map((_, i) => (i % (n + 1) === 0 ? u * u : 0));
  const errors = errorsOf(normals(1, 1000 * n), n, matrix, Infinity, null);
  const surveys = 2000;
  const noise = normals(2, surveys * n);
  const rate = (truth: readonly number[], wrong: (reach: Reach) => boolean) => {
    let count = 0;
    for (let k = 0; k < surveys; k++) {
      const d = Float64Array.from(truth, (v, i) => v + noise[k * n + i]!);
      if (wrong(greatestInterval(greatestRange(d, errors), 0.95).reach)) count++;
    }
    return count / surveys;
  };
  test.each([0.01, 0.05, 0.2])('wrong acceptance at a bound of %f is as rare as that', (risk) => {
    // True range 10, limit a hair below it.
    for (const truth of [
      [10, 0, 5],
      [10, 0, 0.5],
      [10, 10, 0],
    ])
      expect(rate(truth, (reach) => reach.acceptanceRisk(10 - 1e-6) <= risk)).toBeLessThan(
        risk + 3 * Math.sqrt((risk * (1 - risk)) / surveys),
      );
  });
  test.each([0.05, 0.2])('wrong rejection at a bound of %f is as rare as that', (risk) => {
    for (const truth of [
      [10, 0, 5],
      [10, 0, 0.5],
      [10, 10, 0],
      [5, 5, 5],
    ])
      expect(rate(truth, (reach) => reach.rejectionRisk(10) <= risk)).toBeLessThan(
        risk + 3 * Math.sqrt((risk * (1 - risk)) / surveys),
      );
  });
});

test('a guard band widens an interval about its middle: r times half of its width to each side', () => {
  expect(guarded([2, 8], 1)).toEqual([2, 8]);
  expect(guarded([2, 8], 1.5)).toEqual([0.5, 9.5]);
  expect(guarded([-3, 1], 0.5)).toEqual([-2, 0]);
});
