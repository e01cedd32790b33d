import { expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import type { Results } from '../../../src/results/results-schema.js';
import { cases } from './cases.js';
import { fixture } from './fixtures.js';

const chartOf = (results: Results, key: string) => chartsOf(results).find((chart) => chart.key === key)!;
const heights = (results: Results) =>
  results.phases['as-left']!.stations.flatMap((station) => {
    const q = station.difference?.height;
    return q === undefined || q.value === null ? [] : [q.value];
  });

test('parallelism zone: as wide as the limit, midway; limits of the height difference: plus and minus about zero', () => {
  const results = fixture(cases.metric);
  const chart = chartOf(results, 'parallelism-vertical-B');
  const [zone] = chart.spec.datasets['zone'] as unknown as { lo: number; hi: number }[];
  const values = heights(results);
  expect(zone!.hi - zone!.lo).toBeCloseTo(50, 9);
  expect((zone!.hi + zone!.lo) / 2).toBeCloseTo((Math.max(...values) + Math.min(...values)) / 2, 9);
  const edges = chart.spec.datasets['ground']!.filter((row) => row['what'] === 'limit').map(
    (row) => row['y'],
  );
  expect(edges.slice(2)).toEqual([-60, 60]);
});

test('cross-level is the height difference over the distance across, with its limits and the zone of twist', () => {
  const results = fixture(cases.metric);
  const chart = chartOf(results, 'cross-level-B');
  const points = chart.spec.datasets['points']!.filter((row) => row['what'] === 'as-left');
  expect(points.map((row) => row['y'])).toEqual(heights(results).map((um) => um / 3.2));
  const [zone] = chart.spec.datasets['zone'] as unknown as { lo: number; hi: number }[];
  expect([zone!.lo, zone!.hi]).toEqual([-20, 20]);
  const edges = chart.spec.datasets['ground']!.filter((row) => row['what'] === 'limit').map(
    (row) => row['y'] as number,
  );
  expect(edges[3]! - edges[2]!).toBeCloseTo(15, 9);
});

test('distance between untied rails is said to be about its mean, of tied ones about the nominal', () => {
  const untied = fixture(cases.metric);
  const words = (results: Results) => {
    const { caption, spec } = chartOf(results, 'parallelism-horizontal-B');
    return [caption, ...spec.datasets['texts']!.map(({ text }) => text)].join(' ');
  };
  expect(words(untied)).toContain('zero: mean distance of each phase');
  expect(words(untied)).toContain('Only changes of the distance');
  const tied = structuredClone(untied);
  for (const phase of Object.values(tied.phases)) phase.offsetTied = { B: true };
  expect(words(tied)).toContain('zero: nominal distance');
  expect(words(tied)).not.toContain('Only changes of the distance');
});

test('rails at the same place across have no cross-level', () => {
  const results = fixture(cases.metric);
  for (const station of results.survey.rails[1]!.stations) station.across = 0;
  const keys = chartsOf(results).map((chart) => chart.key);
  expect(keys.filter((key) => key.startsWith('cross-level'))).toEqual([]);
});
