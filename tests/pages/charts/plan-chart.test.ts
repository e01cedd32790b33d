import { expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import type { ChartSpec } from '../../../src/pages/charts/chart-spec.js';
import type { Results } from '../../../src/results/results-schema.js';
import { fixture, type FixtureOptions } from './fixtures.js';

const planOf = (results: Results): ChartSpec => chartsOf(results)[0]!;
/** Pixels for one unit along and one across. */
function scales({ spec }: ChartSpec): [number, number] {
  const [x, y] = ['xDomain', 'yDomain'].map(
    (name) => spec.params.find((p) => p.name === name)!.value,
  ) as unknown as [number, number][];
  return [spec.width / (x![1] - x![0]), spec.height / (y![1] - y![0])];
}
const textsOf = (chart: ChartSpec) => chart.spec.datasets['texts']!.map((row) => row['text'] as string);

test('to scale where the picture allows it, and then it says so', () => {
  const chart = planOf(fixture());
  const [along, across] = scales(chart);
  expect(across / along).toBeCloseTo(1, 3);
  expect(textsOf(chart).join(' ')).toContain('Seen from above, to scale.');
  expect(textsOf(chart).some((text) => text.endsWith('both ways'))).toBe(true);
});

test.each<[string, FixtureOptions]>([
  ['long and narrow', { stations: 200, spacingMm: 500, acrossMm: 1000, setupsEveryMm: 20000 }],
  ['very long and narrow', { stations: 1000, spacingMm: 500, acrossMm: -800, setupsEveryMm: 50000 }],
])('%s: across is drawn larger by the factor that the caption names', (_, options) => {
  const chart = planOf(fixture(options));
  const [along, across] = scales(chart);
  const said = Number(/across is drawn ([\d.]+) times larger/.exec(textsOf(chart).join(' '))![1]);
  expect(said).toBeGreaterThan(1);
  expect(across / along / said).toBeCloseTo(1, 2);
  expect(chart.spec.height).toBeLessThan(450);
});

test('wider than long: still to scale and not taller than a page bears', () => {
  const chart = planOf(fixture({ stations: 5, spacingMm: 500, acrossMm: 9000 }));
  const [along, across] = scales(chart);
  expect(across / along).toBeCloseTo(1, 3);
  expect(chart.spec.height).toBeLessThanOrEqual(430);
});

test('a single rail with its instrument in line with it', () => {
  const results = fixture({ monuments: false });
  results.survey.rails.length = 1;
  results.survey.setups = [{ ...results.survey.setups[0]!, across: 0 }];
  const chart = planOf(results);
  expect(chart.alt).toContain('1 set-up, no monuments');
  expect(chart.spec.height).toBeGreaterThanOrEqual(100);
});

test('rails, set-ups and monuments stand at their places, and each is named', () => {
  const results = fixture();
  const chart = planOf(results);
  const points = chart.spec.datasets['points']!;
  for (const place of [...results.survey.setups, ...results.survey.monuments]) {
    expect(points.some((row) => row['x'] === place.along && row['y'] === place.across)).toBe(true);
  }
  expect(textsOf(chart)).toEqual(expect.arrayContaining(['S1', 'S2', 'M1', 'M2', 'Rail A, datum', 'Rail B']));
});

test('lines of sight go from the set-up to the ends of each rail read from it and to each monument', () => {
  const results = fixture();
  const sights = planOf(results).spec.datasets['bars']!.filter((row) => row['what'] === 'sight from S1');
  expect(sights.map((row) => [row['x2'], row['y2']])).toEqual([
    [0, 0],
    [10000, 0],
    ...results.survey.monuments.map((m) => [m.along, m.across]),
  ]);
});

test('set-ups at one place share a label; a crowd loses names rather than printing them over each other', () => {
  const results = fixture();
  const [first] = results.survey.setups;
  results.survey.setups.push({ ...first!, id: 'S3' });
  expect(textsOf(planOf(results))).toContain('S1, S3');
  results.survey.setups = Array.from({ length: 300 }, (_, i) => ({
    ...first!,
    id: `set-up number ${i}`,
    along: (i % 20) * 500,
    across: Math.floor(i / 20) * 200,
  }));
  expect(planOf(results).caption).toMatch(/\d+ names are left out/);
});
