import fc from 'fast-check';
import { expect, test } from 'vitest';
import { quantile, switchPoint, switchPointNear } from '../../src/verdict/search.js';

const places = fc.record({
  truth: fc.double({ min: 0, max: 100, noNaN: true }),
  low: fc.double({ min: -50, max: 100, noNaN: true }),
  guess: fc.double({ min: 0, max: 130, noNaN: true }),
  step: fc.double({ min: 1e-3, max: 20, noNaN: true }),
});
const HIGH = 120;

test('the place up to which a condition holds is found from any bracket and from any guess', () => {
  fc.assert(
    fc.property(places, ({ truth, low, guess, step }) => {
      const holds = (theta: number) => theta < truth;
      expect(Math.abs(switchPoint(holds, low, HIGH, 40) - truth)).toBeLessThan(1e-8);
      expect(Math.abs(switchPointNear(holds, guess, step, HIGH, 40) - truth)).toBeLessThan(1e-8);
    }),
  );
});

test('a condition that never holds: 0; one that always does: the end of the bracket', () => {
  expect(switchPoint(() => false, -1, HIGH, 60)).toBe(0);
  expect(switchPointNear(() => false, 7, 1, HIGH, 60)).toBe(0);
  expect(switchPointNear(() => true, 7, 1, HIGH, 60)).toBeCloseTo(HIGH, 9);
});

test('far from the guess few questions are asked more than near it', () => {
  let asked = 0;
  const holds = (theta: number) => (asked++, theta < 90);
  switchPointNear(holds, 1, 0.1, HIGH, 20);
  expect(asked).toBeLessThan(20 + 12);
});

test('a share p of an ascending list does not exceed its quantile', () => {
  const list = Float64Array.of(1, 2, 3, 4);
  expect([0, 0.5, 0.74, 0.75, 1].map((p) => quantile(list, p))).toEqual([1, 3, 3, 4, 4]);
});
