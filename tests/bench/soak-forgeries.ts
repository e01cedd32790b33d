/**
 * `npm run soak -- forgeries [count] [seed] [honest]`: reports and their log forged in every way of
 * tests/support/forge-report.ts, hashes renewed, counted by kind (1000 by default); and as many audits as `honest` says of
 * reports that nobody touched (2000 by default). Exit status 1 when a forgery passes for sound that is not proven harmless,
 * or an honest report is not proven.
 */
import { forgeLogs } from '../archive/audit/forge-logs.js';
import { auditHonest, forgeMany } from '../archive/audit/forge-many.js';

const SAMPLES = ['TH-0412', 'TH-1175', 'TH-3318', 'TH-4520'];
const [count, seed, honest] = [1000, 1, 2000].map((usual, i) => Number(process.argv[3 + i] ?? usual)) as [
  number,
  number,
  number,
];
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
const { audited, accused } = await auditHonest(honest, SAMPLES, tell);
for (const words of accused) console.log(`  not proven: ${words}`);
console.log(`${audited} honest audits, ${accused.length} not proven`);
process.exitCode = caught + harmless === tried && accused.length === 0 ? 0 : 1;
