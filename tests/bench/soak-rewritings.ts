/**
 * `npm run soak -- rewritings [count]`: readings files rewritten in every way of tests/solution/intake/rewritings.ts, counted by
 * kind; 100 000 by default. Exit status 1 when one passes in silence, or when what changes nothing changes something.
 */
import { createGenerator } from '../../src/base/statistics/random.js';
import { rewriteMany } from '../solution/intake/rewritings.js';

const count = Number(process.argv[3] ?? 100_000);
const tallies = rewriteMany(count, createGenerator(12), 1_000_000);
for (const [name, { tried, wrong, silent }] of tallies)
  console.log(`${name}: ${tried} tried, ${wrong} wrong, ${silent} silent`);
const bad = [...tallies.values()].reduce((sum, t) => sum + t.wrong + t.silent, 0);
console.log(`${bad === 0 ? 'none' : bad} passed as it should not`);
process.exitCode = bad === 0 ? 0 : 1;
