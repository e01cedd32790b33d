/** Ranges over a length: how often their intervals cover, over rails that are hard for them. */
import { expect, test } from 'vitest';
import { planWindows } from '../../../src/base/geometry/worst-window.js';
import { createGenerator } from '../../../src/base/statistics/random.js';
import { drawsOf, errorsOf } from '../../../src/solution/verdict/errors.js';
import { decide, judgedBy, verdictOf } from '../../../src/solution/verdict/decision-rule.js';
import { Ends, greatestInterval } from '../../../src/solution/verdict/greatest.js';
import { greatestWithin, worstPair } from '../../../src/solution/verdict/greatest-within.js';

const N = 12;
const plan = planWindows(
  Float64Array.from({ length: N }, (_, i) => i / 2),
  1,
  2,
)!;
const sizeOf = (d: Float64Array): number => {
  const [i, j] = worstPair(d, plan);
  return Math.abs(d[j]! - d[i]!);
};

/** Readings of one micrometre each, and errors that tilt the whole rail as well. */
function covarianceOf(tilt: number): Float64Array {
  const matrix = new Float64Array(N * N);
  for (let i = 0; i < N; i++)
    for (let j = 0; j < N; j++) matrix[i * N + j] = (i === j ? 1 : 0) + tilt * tilt * i * j;
  return matrix;
}

const rails: Readonly<Record<string, (i: number) => number>> = {
  perfect: () => 0,
  'one step': (i) => (i < 6 ? 0 : 3),
  'a slope': (i) => 1.5 * i,
  'many equal steps': (i) => (i % 2 === 0 ? 0 : 4),
  'two near steps': (i) => [0, 0, 4, 4, 4, 0.2, 0, 0, 0, 3.8, 3.8, 3.8][i]!,
};

test.each(
  Object.entries(rails).flatMap(([name, rail]) => [0, 0.5].map((tilt) => [name, tilt, rail] as const)),
)('rail with %s, tilt %d um a station: covered as often as stated', (_name, tilt, rail) => {
  const matrix = covarianceOf(tilt);
  const generator = createGenerator(5);
  const normals = (count: number) => Float64Array.from({ length: count * N }, () => generator.nextNormal());
  const errors = errorsOf(drawsOf(matrix, N, normals(4000)), N, matrix);
  const truth = Float64Array.from({ length: N }, (_, i) => rail(i));
  const surveys = 1000;
  const noise = drawsOf(matrix, N, normals(surveys));
  let [covered, above] = [0, 0];
  for (let s = 0; s < surveys; s++) {
    const d = truth.map((v, i) => v + noise[s * N + i]!);
    const { interval } = greatestInterval(greatestWithin(d, errors, plan), 0.95);
    const size = sizeOf(truth);
    if (size >= interval[0] - 1e-9 && size <= interval[1] + 1e-9) covered++;
    if (size > interval[1] + 1e-9) above++;
  }
  console.log(`covered ${covered} of ${surveys}, above the upper end ${above}`);
  // 0.95 and 0.025 less three standard deviations of chance.
  expect(covered / surveys).toBeGreaterThan(0.93);
  expect(above / surveys).toBeLessThan(0.04);
});

test('a verdict that asks for its ends one after the other is the verdict by both ends', () => {
  const matrix = covarianceOf(0.3);
  const generator = createGenerator(8);
  const normals = (count: number) => Float64Array.from({ length: count * N }, () => generator.nextNormal());
  const errors = errorsOf(drawsOf(matrix, N, normals(500)), N, matrix);
  const told = new Map<string, number>();
  for (let s = 0; s < 200; s++) {
    const d = Float64Array.from({ length: N }, () => 4 * generator.nextNormal());
    const { reach } = new Ends(greatestWithin(d, errors, plan), 0.95);
    const limit = reach.value * (0.4 + 1.2 * generator.nextUniform());
    for (const decision of [
      { rule: 'simple', coverage: 0.95 },
      { rule: 'guarded', coverage: 0.95 },
      { rule: 'guarded', coverage: 0.95, risk: 0.05 },
      { rule: 'guarded', coverage: 0.95, guardBand: 0.5 },
    ] as const) {
      const verdict = verdictOf(decision, reach, limit);
      expect(verdict).toBe(decide(judgedBy(decision, reach), limit, decision.rule));
      told.set(verdict, (told.get(verdict) ?? 0) + 1);
    }
  }
  expect([...told.values()].every((count) => count > 20)).toBe(true);
  expect(told.size).toBe(3);
});
