import { expect, test } from 'vitest';
import { drawSample, mostThatDiffer, sampleSize } from '../../../src/archive/audit/acceptance-sample.js';
import { seeded } from '../../support/jobs.js';

test.each([
  // ISO 2859-1, tables 1 and 2-A, general level II: lots and sample sizes; from memory.
  [1, 1],
  [8, 2],
  [9, 3],
  [50, 8],
  [280, 32],
  [281, 50],
  [1_200, 80],
  [10_000, 200],
  [600_000, 1_250],
])('of %i reports %i', (reports, sample) => expect(sampleSize(reports)).toBe(sample));

/** Counted out: shares of all samples without return. */
const choose = (n: number, k: number): number => {
  if (k < 0 || k > n) return 0;
  let c = 1;
  for (let i = 1; i <= k; i++) c = (c * (n - k + i)) / i;
  return c;
};

test('what a clean sample says, against the hypergeometric distribution counted out', () => {
  for (const [n, sample] of [
    [20, 3],
    [50, 8],
    [120, 20],
  ] as const) {
    const misses = (differ: number) => choose(n - differ, sample) / choose(n, sample);
    const most = mostThatDiffer(n, sample);
    expect(misses(most)).toBeGreaterThanOrEqual(0.05);
    expect(misses(most + 1)).toBeLessThan(0.05);
  }
  expect(mostThatDiffer(10, 10)).toBe(0);
});

test('a sample has each report once, in order, each as often as any other', () => {
  const next = seeded(3);
  const list = Array.from({ length: 12 }, (_, i) => i);
  const counts = list.map(() => 0);
  const DRAWS = 3_000;
  for (let k = 0; k < DRAWS; k++) {
    const drawn = drawSample(list, 4, next);
    expect(new Set(drawn).size).toBe(4);
    expect(drawn).toEqual([...drawn].sort((a, b) => a - b));
    for (const i of drawn) counts[i]!++;
  }
  // 1000 ± 5 standard deviations of a binomial.
  for (const n of counts) expect(Math.abs(n - DRAWS / 3)).toBeLessThan(5 * Math.sqrt((DRAWS * 2) / 9));
});
