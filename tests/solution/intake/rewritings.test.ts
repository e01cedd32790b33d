/** Four hundred readings files, rewritten; `npm run soak -- rewritings [count]` does a hundred thousand. */
import { expect, test } from 'vitest';
import { createGenerator } from '../../../src/base/statistics/random.js';
import { rewriteMany } from './rewritings.js';

test('what must change nothing changes nothing, and nothing else passes in silence', () => {
  const tallies = rewriteMany(400, createGenerator(11), 5000);
  const lines = [...tallies].map(
    ([name, t]) => `${name}: ${t.tried} tried, ${t.wrong} wrong, ${t.silent} silent`,
  );
  console.log(lines.join('\n'));
  const all = [...tallies.values()];
  expect(all.reduce((sum, t) => sum + t.tried, 0)).toBeGreaterThan(320);
  expect([...tallies].filter(([, t]) => t.wrong + t.silent > 0).map(([name]) => name)).toEqual([]);
});
