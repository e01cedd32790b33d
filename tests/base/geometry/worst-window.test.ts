/** The worst window against every window looked at point by point (local straightness). */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { localStraightness, straightness } from '../../../src/solution/characteristics/measures.js';
import { errorsOf } from '../../../src/solution/verdict/errors.js';
import { referenceNames, type ReferenceName } from '../../../src/survey/job/job-schema.js';

/** Errors of nothing: two draws of zeros. */
const noErrors = (n: number) => errorsOf(new Float64Array(2 * n), n, new Float64Array(n * n));

const worstByHand = (reference: ReferenceName, x: Float64Array, d: Float64Array, over: number): number => {
  let worst = -Infinity;
  for (let from = 0; from < x.length; from++)
    for (let to = from + 2; to < x.length && x[to]! - x[from]! <= over * (1 + 1e-9); to++)
      worst = Math.max(
        worst,
        straightness(reference, x.slice(from, to + 1)).explain(d.slice(from, to + 1)).value,
      );
  return worst;
};

const profile = fc
  .array(
    fc.tuple(fc.double({ min: 0.01, max: 1, noNaN: true }), fc.double({ min: -50, max: 50, noNaN: true })),
    {
      minLength: 3,
      maxLength: 30,
    },
  )
  .map((points) => {
    let at = 10;
    return {
      x: Float64Array.from(points, ([step]) => (at += step)),
      d: Float64Array.from(points, ([, v]) => v),
    };
  });

describe.each(referenceNames)('local straightness, %s', (reference) => {
  test('is that of the worst window', () => {
    fc.assert(
      fc.property(profile, fc.double({ min: 0.05, max: 12, noNaN: true }), ({ x, d }, over) => {
        const local = localStraightness(reference, x, over);
        const want = worstByHand(reference, x, d, over);
        if (local === null) {
          expect(want).toBe(-Infinity);
          return;
        }
        const { value, at, gradient } = local.explain(d);
        expect(value).toBeCloseTo(want, 7);
        expect(local.greatest(d, noErrors(d.length)).value).toBeCloseTo(want, 7);
        expect(x[at[1]!]! - x[at[0]!]!).toBeLessThanOrEqual(over + 1e-9);
        expect(at[1]! - at[0]!).toBeGreaterThanOrEqual(2);
        expect(gradient.reduce((sum, g) => sum + g.weight * d[g.index]!, 0)).toBeCloseTo(value, 6);
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  test('a window reaches exactly `over`, and not further; of equal windows the first counts', () => {
    // A kink of 10 µm at every second station of 500 mm: windows of three stations are all alike.
    const x = Float64Array.from({ length: 11 }, (_, k) => 0.1 + 0.5 * k);
    const d = Float64Array.from({ length: 11 }, (_, k) => (k % 2 === 0 ? 0 : 10));
    expect(localStraightness(reference, x, 0.999)).toBeNull();
    const local = localStraightness(reference, x, 1)!;
    expect(local.explain(d).at).toEqual([0, 2]);
    expect(local.explain(d).value).toBeCloseTo(10, 9);
  });
});
