/** Straightness of curves whose answer stands in closed form (Chebyshev approximation; any numerical-analysis textbook). */
import { expect, test } from 'vitest';
import { straightness } from '../../../src/solution/characteristics/measures.js';
import type { ReferenceName } from '../../../src/survey/job/job-schema.js';
import published from '../../published/straightness.json' with { type: 'json' };

// eslint-disable-next-line @typescript-eslint/no-explicit-any -- fixtures differ in shape
const expected = (id: string): any => published.find((e) => e.id === id)!.expected;

/** Straightness of a curve at n equal steps from `from` to `to`. */
function ofCurve(curve: (x: number) => number, from: number, to: number, n: number) {
  const x = Float64Array.from({ length: n }, (_, k) => from + ((to - from) * k) / (n - 1));
  const y = x.map(curve);
  return (reference: ReferenceName): number => {
    const measure = straightness(reference, x);
    const { value, gradient } = measure.explain(y);
    expect(gradient.reduce((sum, g) => sum + g.weight * y[g.index]!, 0)).toBeCloseTo(value, 12);
    return value;
  };
}

const cubic = (x: number) => x ** 3;

test('x³ at nine points: three references, three answers', () => {
  const of = ofCurve(cubic, -1, 1, 9);
  const e = expected('MZ-CUBIC').nine_equal_points;
  expect(of('minimum-zone')).toBeCloseTo(e.minimum_zone, 12);
  expect(of('least-squares')).toBeCloseTo(e.least_squares, 12);
  expect(of('end-points')).toBeCloseTo(e.end_point, 12);
});

test('x³, the curve itself: least squares wider than end points', () => {
  const e = expected('MZ-CUBIC');
  const of = ofCurve(cubic, -1, 1, 20_001);
  // Steps of 1e-4 miss an extreme by at most 3x·1e-4²/8 and move the least-squares slope by parts in 1e4.
  expect(of('minimum-zone')).toBeCloseTo(e.minimum_zone, 7);
  expect(of('end-points')).toBeCloseTo(e.end_point, 7);
  expect(of('least-squares')).toBeCloseTo(e.least_squares, 3);
});

test('one full sine wave', () => {
  const e = expected('MZ-SINE');
  const of = ofCurve((x) => Math.sin(2 * Math.PI * x), 0, 1, 2001);
  expect(of('end-points')).toBeCloseTo(e.end_point, 12);
  expect(of('least-squares')).toBeCloseTo(e.least_squares_on_2001_points, 12);
  expect(of('minimum-zone')).toBeCloseTo(e.minimum_zone, 5);
});
