/**
 * `npm run soak -- forgeries [count] [seed]`: reports and their log forged in every way of tests/support/forge-report.ts,
 * hashes renewed, counted by kind; 3000 by default. Exit status 1 when one passes for sound that is not proven harmless.
 */
import { forgeLogs } from '../archive/audit/forge-logs.js';
import { forgeMany } from '../archive/audit/forge-many.js';

const SAMPLES = ['TH-0412', 'TH-1175', 'TH-3318', 'TH-4520'];
const [count, seed] = [Number(process.argv[3] ?? 3000), Number(process.argv[4] ?? 1)];
const tell = (done: number, of: number) => {
  if (process.stderr.isTTY) process.stderr.write(`\r${done} of ${of}`);
};
const tallies = new Map([
  ...(await forgeLogs(count, seed)),
  ...(await forgeMany(count, seed, SAMPLES, tell)),
]);
let [tried, caught, harmless] = [0, 0, 0];
for (const [name, tally] of tallies) {
  console.log(
    `${name}: ${tally.tried} tried, ${tally.caught} caught, ${tally.harmless} harmless, ${tally.missed.length} missed`,
  );
  for (const words of tally.missed) console.log(`  ${words}`);
  tried += tally.tried;
  caught += tally.caught;
  harmless += tally.harmless;
}
console.log(`${tried} tried, ${caught} caught, ${harmless} harmless, ${tried - caught - harmless} missed`);
process.exitCode = caught + harmless === tried ? 0 : 1;
