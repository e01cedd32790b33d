/** Greatest, least and length of any number of values. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { leastOf, lengthOf, mostOf } from '../../../src/base/statistics/extent.js';

const numbers = fc.array(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e150, max: 1e150 }));

test('are those of Math for the few values that it takes', () => {
  fc.assert(
    fc.property(numbers, (values) => {
      expect(mostOf(values)).toBe(Math.max(...values));
      expect(leastOf(values)).toBe(Math.min(...values));
      expect(lengthOf(values)).toBe(Math.hypot(...values));
    }),
  );
});

test('of half a million values', () => {
  const values = Array.from({ length: 500_000 }, (_, k) => (k % 2 === 0 ? 3 : -4));
  expect([mostOf(values), leastOf(values)]).toEqual([3, -4]);
  expect(lengthOf(values)).toBeCloseTo(Math.sqrt(250_000 * 25), 9);
});
