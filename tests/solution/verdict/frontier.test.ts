/** Of very many functionals only those are kept that can make the upper end. */
import { expect, test } from 'vitest';
import { Frontier } from '../../../src/solution/verdict/frontier.js';

function frontierOf(...list: readonly (readonly [reading: number, u: number])[]): Frontier {
  const frontier = new Frontier();
  for (const [reading, u] of list) frontier.add(reading, u);
  return frontier;
}

test('a small factor takes the greatest reading, a large one the most uncertain', () => {
  // reading + z·u: at z = 0 it is 10 and 8; at z = 1 it is 11 and 10.5; at z = 3 it is 13 and 15.5.
  const frontier = frontierOf([8, 2.5], [10, 1]);
  expect([0, 1, 3].map((z) => frontier.upper(z))).toEqual([10, 11, 15.5]);
  expect(frontier.u).toBe(1);
});

test('one that another exceeds in both is idle, and adding it changes nothing', () => {
  const frontier = frontierOf([10, 1], [8, 2.5]);
  expect(frontier.isIdle(9, 1)).toBe(true);
  expect(frontier.isIdle(7, 2.5)).toBe(true);
  expect(frontier.isIdle(7, 2.6)).toBe(false);
  expect(frontier.isIdle(10.5, 0.1)).toBe(false);
  frontier.add(9, 0.9);
  expect([0, 1, 3].map((z) => frontier.upper(z))).toEqual([10, 11, 15.5]);
});

test('one that exceeds all others in both takes the place of all of them', () => {
  const frontier = frontierOf([10, 1], [8, 2.5], [11, 3]);
  expect([0, 2].map((z) => frontier.upper(z))).toEqual([11, 17]);
  expect(frontier.u).toBe(3);
});
