/**
 * `npm run soak -- forgeries [count] [seed] [honest]`: logs and reports forged in every way of tests/support/forge-report.ts,
 * hashes renewed, counted by kind (1000 by default); and as many audits as `honest` says of reports that nobody touched (2000
 * by default): drafts, issued and signed ones, as folders and as PDFs. Exit status 1 when a forgery is proven, or an honest
 * report is not. Ctrl-C, or SIGTERM, ends it early with the counts until then.
 */
import { forgeLogs } from '../archive/audit/forge-logs.js';
import { auditHonest, forgeMany, withTools } from '../archive/audit/forge-many.js';

const [count, seed, honest] = [1000, 1, 2000].map((usual, i) => Number(process.argv[3 + i] ?? usual)) as [
  number,
  number,
  number,
];
const began = performance.now();
const EVERY = 100;
let isStopped = false;
for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => (isStopped = true));
const telling = (what: string, wrong: string) => (done: number, of: number, count: number) => {
  if (done % EVERY === 0 || done === of || isStopped)
    console.log(
      `${Math.round((performance.now() - began) / 1000)} s: ${done} of ${of} ${what}, ${count} ${wrong}`,
    );
  return !isStopped;
};
const isRight = await withTools(async (tools) => {
  const logs = await forgeLogs(count, seed);
  const reports = await forgeMany(count, seed, { ...tools, told: telling('forgeries of reports', 'missed') });
  let [tried, caught] = [0, 0];
  for (const [name, tally] of [...logs, ...reports]) {
    console.log(`${name}: ${tally.tried} tried, ${tally.caught} caught, ${tally.missed.length} missed`);
    for (const words of tally.missed) console.log(`  ${words}`);
    tried += tally.tried;
    caught += tally.caught;
  }
  const { audits, accused } = await auditHonest(honest, {
    ...tools,
    told: telling('honest audits', 'not proven'),
  });
  for (const [name, times] of audits) console.log(`${name}: ${times} audits`);
  for (const words of accused) console.log(`  not proven: ${words}`);
  const audited = [...audits.values()].reduce((sum, times) => sum + times, 0);
  console.log(
    `${tried} forgeries tried, ${caught} caught, ${tried - caught} missed; ${audited} honest audits, ${accused.length} not proven`,
  );
  return caught === tried && accused.length === 0;
});
process.exitCode = isRight ? 0 : 1;
