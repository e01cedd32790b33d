/**
 * Reports forged in every way that we know of, with their hashes renewed: each is caught. A few of each kind;
 * `npm run soak -- forgeries` does thousands.
 */
import { expect, test } from 'vitest';
import { reportForgeries } from '../../support/forge-report.js';
import { forgeLogs } from './forge-logs.js';
import { auditHonest, forgeMany, withTools } from './forge-many.js';

test('logs', async () => {
  const tallies = await forgeLogs(160, 5);
  const missed = [...tallies].flatMap(([name, tally]) => tally.missed.map((words) => `${name}: ${words}`));
  expect(tallies.size).toBe(16);
  expect(missed).toEqual([]);
});

test('one of each kind', async () => {
  const tallies = await withTools((tools) => forgeMany(reportForgeries.length, 3, tools));
  const missed = [...tallies].flatMap(([name, tally]) => tally.missed.map((words) => `${name}: ${words}`));
  const tried = [...tallies.values()].reduce((sum, tally) => sum + tally.tried, 0);
  console.log(`${tried} forgeries of ${tallies.size} kinds, ${missed.length} missed`);
  expect(missed).toEqual([]);
  expect(tried).toBeGreaterThan(0.8 * reportForgeries.length);
});

test('Of sound reports none is accused: drafts, issued, signed; as folders and as PDFs', async () => {
  const { audits, accused } = await withTools((tools) => auditHonest(6, tools));
  expect(accused).toEqual([]);
  expect(audits.size).toBe(6);
});
