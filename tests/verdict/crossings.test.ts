import { expect, test } from 'vitest';
import { countAtMost, findCrossings, shareAtLevel, type Curve } from '../../src/verdict/crossings.js';
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

// Curves that start above the level, dip below it and rise again were once passed over: by a first step too long
// for their slope, and by taking a point before the dip for one behind it.
test.each([1, 1.5, 4])('crossings of 500 convex curves that fall with slope up to %d', (steepestFall) => {
  const curves = Array.from({ length: 500 }, (_, k) => randomCurve(k, steepestFall));
  const asCurve = (b: number): Curve => ({ ...curves[b]!, startsBelow: false });
  const found = findCrossings(curves.length, asCurve, LEVEL, steepestFall, 1e-9);
  let dips = 0;
  for (let theta = 0; theta < 20; theta += 0.05) {
    const isClose = ({ g }: TestCurve): boolean => Math.abs(g(theta) - LEVEL) < 1e-6;
    const slack = curves.filter(isClose).length;
    const above = curves.filter(({ g }) => g(theta) >= LEVEL).length;
    expect(Math.abs(shareAtLevel(found, theta) * curves.length - above)).toBeLessThanOrEqual(slack);
  }
  for (const { g } of curves) {
    if (g(0) < LEVEL) continue;
    for (let theta = 0; theta < 20; theta += 0.05) {
      if (g(theta) < LEVEL) {
        dips++;
        break;
      }
    }
  }
  expect(dips).toBeGreaterThan(10); // the hard ones are among them
});

test('a hint that a curve starts below changes nothing', () => {
  const curves = Array.from({ length: 100 }, (_, k) => randomCurve(k, 1)).filter(({ g }) => g(0) < LEVEL);
  const run = (startsBelow: boolean) =>
    findCrossings(curves.length, (b) => ({ ...curves[b]!, startsBelow }), LEVEL, 1, 1e-9);
  expect(run(true)).toEqual(run(false));
});

test('numbers of an ascending list at most x', () => {
  const list = Float64Array.of(0, 1, 1, 2, Infinity);
  expect([-1, 0, 1, 1.5, 3].map((x) => countAtMost(list, x))).toEqual([0, 1, 3, 3, 4]);
  expect(countAtMost(new Float64Array(0), 1)).toBe(0);
});
