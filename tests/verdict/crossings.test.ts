import { describe, expect, test } from 'vitest';
import { countAtMost, Crossings, type CurveFamily } from '../../src/verdict/crossings.js';
import { createGenerator } from '../../src/verdict/random.js';

interface TestCurve {
  readonly g: (theta: number) => number;
  readonly bound: number;
}

/** Convex, piecewise linear: the greatest of a few lines, one of them rising with slope 1. */
function randomCurve(seed: number, steepestFall: number): TestCurve {
  const random = createGenerator(seed);
  const lines = Array.from({ length: 4 }, () => {
    const slope = -steepestFall + (1 + steepestFall) * random.nextUniform();
    return [slope, 3 * random.nextNormal() - slope * 4 * random.nextUniform()] as const;
  });
  const offset = random.nextNormal() - 2;
  lines.push([1, offset]);
  // from there on the rising line alone is at the level
  return {
    g: (theta) => Math.max(...lines.map(([slope, height]) => height + slope * theta)),
    bound: Math.max(0, LEVEL - offset),
  };
}

const LEVEL = 1;

const family = (curves: readonly TestCurve[], steepestFall: number): CurveFamily => ({
  count: curves.length,
  at: (b, theta) => curves[b]!.g(theta),
  mostAtZero: (b) => curves[b]!.g(0),
  bound: (b) => curves[b]!.bound,
  steepestFall,
});

/** Counts of curves at the level, curves within rounding of it counted for nothing. */
function expectCounts(curves: readonly TestCurve[], found: Crossings, thetas: readonly number[]): void {
  for (const theta of thetas) {
    const slack = curves.filter(({ g }) => Math.abs(g(theta) - LEVEL) < 1e-6).length;
    const above = curves.filter(({ g }) => g(theta) >= LEVEL).length;
    expect(Math.abs(found.shareAtLevel(theta) * curves.length - above)).toBeLessThanOrEqual(slack);
  }
}

const everywhere = Array.from({ length: 400 }, (_, k) => 0.05 * k);

// Curves that start above the level, dip below it and rise again were once passed over: by a first step too long
// for their slope, and by taking a point before the dip for one behind it.
describe.each([1, 1.5, 4])('500 convex curves that fall with slope up to %d', (steepestFall) => {
  const curves = Array.from({ length: 500 }, (_, k) => randomCurve(k, steepestFall));

  test('the hard ones are among them', () => {
    const dips = curves.filter(({ g }) => g(0) >= LEVEL && everywhere.some((theta) => g(theta) < LEVEL));
    expect(dips.length).toBeGreaterThan(10);
  });

  test('asked from left to right, from right to left, and by halving', () => {
    const random = createGenerator(9);
    const shuffled = everywhere.map((theta) => [random.nextUniform(), theta] as const);
    shuffled.sort((a, b) => a[0] - b[0]);
    for (const order of [everywhere, [...everywhere].reverse(), shuffled.map(([, theta]) => theta)])
      expectCounts(curves, new Crossings(family(curves, steepestFall), LEVEL, 1e-9), order);
  });

  test('settled: the same counts, and the curves are asked no more', () => {
    let calls = 0;
    const counting = { ...family(curves, steepestFall) };
    const at = counting.at;
    const found = new Crossings({ ...counting, at: (b, theta) => (calls++, at(b, theta)) }, LEVEL, 1e-9);
    found.settle();
    const before = calls;
    expectCounts(curves, found, everywhere);
    expect(calls).toBe(before);
  });

  test('a search costs about two evaluations a curve', () => {
    let calls = 0;
    const { at, ...rest } = family(curves, steepestFall);
    const found = new Crossings({ ...rest, at: (b, theta) => (calls++, at(b, theta)) }, LEVEL, 1e-3);
    const setUp = calls;
    let [low, high] = [0, 20];
    for (let k = 0; k < 30; k++) {
      const middle = (low + high) / 2;
      if (found.shareAtLevel(middle) < 0.975) low = middle;
      else high = middle;
    }
    expect(calls - setUp).toBeLessThan(3 * curves.length);
  });
});

test('a loose bound on where a curve starts changes nothing', () => {
  const curves = Array.from({ length: 100 }, (_, k) => randomCurve(k, 1)).filter(({ g }) => g(0) < LEVEL);
  const exact = new Crossings(family(curves, 1), LEVEL, 1e-9);
  const loose = new Crossings({ ...family(curves, 1), mostAtZero: () => Infinity }, LEVEL, 1e-9);
  for (const theta of everywhere) expect(loose.shareAtLevel(theta)).toBe(exact.shareAtLevel(theta));
});

test('numbers of an ascending list at most x', () => {
  const list = Float64Array.of(0, 1, 1, 2, Infinity);
  expect([-1, 0, 1, 1.5, 3].map((x) => countAtMost(list, x))).toEqual([0, 1, 3, 3, 4]);
  expect(countAtMost(new Float64Array(0), 1)).toBe(0);
});
