import { expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import type { ChartSpec } from '../../../src/pages/charts/chart-spec.js';
import type { Results } from '../../../src/results/results-schema.js';
import { cases } from './cases.js';
import { fixture } from './fixtures.js';

const chartOf = (results: Results, key: string): ChartSpec =>
  chartsOf(results).find((chart) => chart.key === key)!;

test('one bar for each characteristic with a limit, its segments as long as the shares', () => {
  const results = fixture(cases.metric);
  const limited = results.phases['as-left']!.characteristics.filter((c) => c.limit !== null);
  const bars = chartOf(results, 'budget').spec.datasets['bars']!;
  expect(new Set(bars.map((bar) => bar['row'])).size).toBe(limited.length);
  for (const [row, c] of limited.entries()) {
    const own = bars.filter((bar) => bar['row'] === row);
    const shares = Object.fromEntries(
      own.map((bar) => [bar['source'], (bar['x2'] as number) - (bar['x'] as number)]),
    );
    for (const [source, share] of Object.entries(c.budget)) expect(shares[source]).toBeCloseTo(share, 9);
    expect(own[own.length - 1]!['x2']).toBeCloseTo(1, 9);
  }
});

test('a single known station is no picture of a rail', () => {
  const results = fixture(cases.leftOnly);
  for (const { rail, station, deviation } of results.phases['as-left']!.stations)
    if (rail === 'A' && station !== 5) deviation.vertical = { value: null, why: 'not tied' };
  const keys = chartsOf(results).map(({ key }) => key);
  expect(keys).not.toContain('straightness-vertical-A');
  expect(keys).toContain('straightness-horizontal-A');
});

test('without limits the budget is that of what a verdict would rest on; many bars are spread over pictures', () => {
  expect(chartOf(fixture(cases.leftOnly), 'budget').alt).toContain('Straightness, vertical, rail A');
  const results = fixture(cases.metric);
  const { characteristics } = results.phases['as-left']!;
  characteristics.push(...characteristics.map((c) => ({ ...c, over: 2000 })));
  const keys = chartsOf(results).map((chart) => chart.key);
  expect(keys).toEqual(expect.arrayContaining(['budget-1', 'budget-2']));
});

test('residuals: bounds at 3.29, suspects named by row, unchecked readings counted', () => {
  const results = fixture(cases.hostile);
  const chart = chartOf(results, 'residuals-as-left');
  const bounds = chart.spec.datasets['ground']!.filter((row) => row['what'] === 'bound').map(
    (row) => row['y'],
  );
  expect(bounds).toEqual([3.29, -3.29]);
  const [suspect] = results.phases['as-left']!.adjustment.suspects;
  expect(chart.spec.datasets['texts']!.map((row) => row['text'])).toContain(`row ${suspect!.row}`);
  expect(chart.caption).toMatch(/4 values, which no others check, are not drawn/);
  expect(chart.alt).toContain('+5.1');
});

test('residuals of a survey in which nothing checks anything: no picture', () => {
  const results = fixture(cases.leftOnly);
  for (const r of results.phases['as-left']!.residuals) r.standardised = null;
  expect(chartOf(results, 'residuals-as-left')).toBeUndefined();
});

test('very many residuals are thinned out, and all that are large stay', () => {
  const results = fixture({ ...cases.long, blunder: true });
  const chart = chartOf(results, 'residuals-as-left');
  const all = results.phases['as-left']!.residuals.flatMap((r) =>
    r.standardised === null ? [] : [r.standardised],
  );
  const drawn = chart.spec.datasets['points']!.map((row) => row['y'] as number);
  expect(drawn.length).toBeLessThan(all.length / 2);
  expect(drawn.filter((v) => Math.abs(v) > 2)).toHaveLength(all.filter((v) => Math.abs(v) > 2).length);
  expect(chart.caption).toContain('extremes of each short stretch');
});
