/** The points of a characteristic with a tolerance, as they were judged: they make its value, in every kind of job. */
import { expect, test } from 'vitest';
import type { Determined, Results } from '../../src/results/results-schema.js';
import { judgedOf, makeJob, resultsOf, sample } from '../support/folders.js';
import { randomFolder } from '../support/second-opinion/random-folder.js';

/** Value of a characteristic by its points alone; null: it is no matter of single points. */
function valueOf({ profile = [], signed }: Determined): number | null {
  if (profile.length === 0) return null;
  const values = profile.map(({ value }) => value);
  return signed
    ? values.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a))
    : Math.max(...values) - Math.min(...values);
}

const judged = (results: Results) =>
  [
    ...Object.values(results.phases).flatMap(({ characteristics }) => characteristics),
    ...(results.corrections.predicted ?? []),
  ].filter((c): c is Determined => c.limit !== null && c.value !== null);

function check(results: Results): Set<string> {
  const kinds = new Set<string>();
  for (const c of judged(results)) {
    const value = valueOf(c);
    if (value === null) continue;
    kinds.add(`${c.what} ${c.reference ?? ''}`);
    // Of limits that differ to two sides the end nearest to its own limit is told: one of the points.
    if (c.zone !== undefined) {
      expect(Math.min(...c.profile!.map((p) => Math.abs(p.value - c.value)))).toBeLessThan(1e-6);
      continue;
    }
    expect(
      Math.abs(value - c.value),
      `${results.job} ${c.what} ${c.rail}: ${value}, ${c.value}`,
    ).toBeLessThan(1e-6 * (1 + Math.abs(c.value)));
    const places = c.profile!.map(({ rail, station }) => `${rail}:${station}`);
    for (const { rail, station } of c.at) expect(places, c.what).toContain(`${rail}:${station}`);
  }
  return kinds;
}

test.each(['TH-0412', 'TH-2031', 'TH-1175', 'TH-3318', 'TH-4520'])('of the sample %s', async (id) => {
  expect(check(await resultsOf(sample(id))).size).toBeGreaterThan(0);
});

test('of random jobs with every tolerance and reference', async () => {
  const tolerances = [
    ...['least-squares', 'minimum-zone', 'end-points'].flatMap((reference) => [
      { what: 'straightness-vertical', reference, limit: 20, unit: 'um' },
      {
        what: 'straightness-vertical-local',
        reference,
        over: { length: 2500, unit: 'mm' },
        limit: 20,
        unit: 'um',
      },
    ]),
    { what: 'height-difference', limit: 50, unit: 'um' },
    { what: 'parallelism-vertical', limit: 50, unit: 'um' },
  ];
  const kinds = new Set<string>();
  for (let seed = 1; seed <= 12; seed++) {
    const { job, files } = randomFolder(seed);
    const limits = tolerances.filter(({ what }) => job.rails.length > 1 || what.startsWith('straightness'));
    const results = await judgedOf(await makeJob({ ...(job as object), tolerances: limits }, files));
    for (const kind of check(results)) kinds.add(kind);
  }
  expect(kinds.size).toBeGreaterThanOrEqual(6);
});
