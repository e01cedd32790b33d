import { expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import type { ChartSpec, Row } from '../../../src/pages/charts/chart-spec.js';
import type { Results } from '../../../src/results/results-schema.js';
import { cases } from './cases.js';
import { fixture, type FixtureOptions } from './fixtures.js';

const chartOf = (results: Results, key: string): ChartSpec =>
  chartsOf(results).find((chart) => chart.key === key)!;
const rowsOf = (chart: ChartSpec, name: string): readonly Row[] => chart.spec.datasets[name]!;
const wordsIn = (chart: ChartSpec) =>
  rowsOf(chart, 'texts')
    .map(({ text }) => text)
    .join(' ');
const param = (chart: ChartSpec, name: string) => chart.spec.params.find((one) => one.name === name)!.value;
const drawn = (options: FixtureOptions, key = 'straightness-vertical-A') => {
  const results = fixture(options);
  return { results, chart: chartOf(results, key) };
};
const deviations = (results: Results, phase: 'as-found' | 'as-left', rail = 'A') =>
  results.phases[phase]!.stations.flatMap((station) => {
    const q = station.rail === rail ? station.deviation.vertical : undefined;
    return q === undefined || q.value === null ? [] : [{ x: station.along, value: q.value, u: q.u }];
  });

test('both phases stand in one picture, on the same axes, at their own values', () => {
  const { results, chart } = drawn(cases.metric);
  for (const phase of ['as-found', 'as-left'] as const) {
    const points = rowsOf(chart, 'points').filter((row) => row['what'] === phase);
    const truth = deviations(results, phase);
    expect(points.map((row) => [row['x'], row['y']])).toEqual(truth.map(({ x, value }) => [x, value]));
  }
  const shapes = new Set(rowsOf(chart, 'points').map((row) => row['shape']));
  expect(shapes.size).toBe(2);
});

test('the bars are as long as twice k u', () => {
  const { results, chart } = drawn(cases.metric);
  const bars = rowsOf(chart, 'bars').filter((row) => row['what'] === 'uncertainty as-left');
  const truth = deviations(results, 'as-left');
  expect(bars).toHaveLength(truth.length);
  for (const [i, bar] of bars.entries()) {
    expect(bar['y'] as number).toBeCloseTo(truth[i]!.value - 2 * truth[i]!.u, 9);
    expect(bar['y2'] as number).toBeCloseTo(truth[i]!.value + 2 * truth[i]!.u, 9);
  }
});

test('another coverage gives another k, and the picture says so', () => {
  const { chart } = drawn({ coverage: 0.9973 });
  expect(wordsIn(chart)).toMatch(/± U, k.=.3(\.0\d?)? \(99\.73.%\)/);
});

test('least squares: the zone is as wide as the limit, level, and midway between the extremes as left', () => {
  const { results, chart } = drawn(cases.metric);
  const values = deviations(results, 'as-left').map(({ value }) => value);
  const middle = (Math.max(...values) + Math.min(...values)) / 2;
  const zone = rowsOf(chart, 'zone');
  for (const row of zone) {
    expect(row['lo'] as number).toBeCloseTo(middle - 20, 9);
    expect(row['hi'] as number).toBeCloseTo(middle + 20, 9);
  }
  const edges = rowsOf(chart, 'ground').filter((row) => row['what'] === 'limit');
  expect(edges.map((row) => row['y'])).toEqual([zone[0]!['lo'], zone[0]!['hi']]);
});

test('minimum zone: of a zone just as wide as the value, every point as left lies inside, three on its edges', () => {
  const probe = fixture(cases.guarded);
  const value = probe.phases['as-left']!.characteristics.find(
    (c) => c.what === 'straightness-vertical' && c.rail === 'A' && c.reference === 'minimum-zone',
  )!.value!;
  const { results, chart } = drawn({ ...cases.guarded, limitUm: value });
  const [from, to] = rowsOf(chart, 'zone') as unknown as { x: number; lo: number; hi: number }[];
  const at = (x: number, end: 'lo' | 'hi') =>
    from![end] + ((x - from!.x) / (to!.x - from!.x)) * (to![end] - from![end]);
  let touching = 0;
  for (const { x, value: y } of deviations(results, 'as-left')) {
    const [below, above] = [y - at(x, 'lo'), at(x, 'hi') - y];
    expect(Math.min(below, above)).toBeGreaterThan(-1e-9);
    if (Math.min(below, above) < 1e-9) touching++;
  }
  expect(touching).toBeGreaterThanOrEqual(3);
  expect(from!.hi).not.toBeCloseTo(to!.hi, 3);
});

test('end points: the zone runs along the line from the first point to the last', () => {
  const { results, chart } = drawn(cases.endPoints);
  const points = deviations(results, 'as-left');
  const [first, last] = [points[0]!, points[points.length - 1]!];
  const [from, to] = rowsOf(chart, 'zone') as unknown as { x: number; lo: number }[];
  const slope = (last.value - first.value) / (last.x - first.x);
  expect((to!.lo - from!.lo) / (to!.x - from!.x)).toBeCloseTo(slope, 12);
  const line = rowsOf(chart, 'ground').find((row) => row['what'] === 'reference') as unknown as {
    x: number;
    y: number;
  };
  expect(line.y + slope * (first.x - line.x)).toBeCloseTo(first.value, 9);
});

test('guarded acceptance narrows the zone by the distance from the value to its upper end; simple does not', () => {
  const guarded = drawn({ ...cases.guarded, reference: 'least-squares' });
  const c = guarded.results.phases['as-left']!.characteristics.find(
    (one) => one.what === 'straightness-vertical' && one.rail === 'A' && one.limit !== null,
  )!;
  const [inner] = rowsOf(guarded.chart, 'acceptance') as unknown as { lo: number; hi: number }[];
  expect(inner!.hi - inner!.lo).toBeCloseTo(c.limit! - (c.interval![1] - c.value!), 9);
  expect(rowsOf(drawn(cases.metric).chart, 'acceptance')).toEqual([]);
});

test('a station that was not read breaks the line and has neither marker nor bar', () => {
  const { chart } = drawn(cases.gaps);
  const path = rowsOf(chart, 'leftPath').map(({ x, y }) => [x, y] as const);
  const missing = [7, 8, 10, 21].map((station) => (station - 1) * 500);
  for (const x of missing) {
    expect(path.some(([px, y]) => px === x && y !== null)).toBe(false);
    expect(rowsOf(chart, 'points').some((row) => row['what'] === 'as-left' && row['x'] === x)).toBe(false);
  }
  // The break stands between the neighbours.
  const before = path.findIndex(([x]) => x === 2500);
  expect(path[before + 1]![1]).toBeNull();
  expect(chart.caption).toContain('broken');
});

test('the exaggeration is that of the axes as drawn', () => {
  for (const [options, mmPerX, mmPerY] of [
    [cases.metric, 1, 0.001],
    [cases.inches, 25.4, 25.4],
    [cases.feetAndThou, 304.8, 0.0254],
  ] as const) {
    const { chart } = drawn(options);
    const [x, y] = [param(chart, 'xDomain'), param(chart, 'yDomain')] as unknown as [number, number][];
    const alongScale = chart.spec.width / ((x![1] - x![0]) * mmPerX);
    const heightScale = chart.spec.height / ((y![1] - y![0]) * mmPerY);
    const said = Number(/about ([\d\u202f.]+) times/.exec(wordsIn(chart))![1]!.replaceAll('\u202f', ''));
    expect(said).toBe(Number((heightScale / alongScale).toPrecision(2)));
  }
});

test('axis titles carry the units of the report', () => {
  const titles = (options: FixtureOptions) => {
    const { chart } = drawn(options);
    const units = rowsOf(chart, 'texts').find(({ text }) => /^along, /.test(text as string))!['text'];
    return [units, param(chart, 'yTitle')];
  };
  expect(titles(cases.metric)).toEqual(['along, mm', 'deviation up, µm']);
  expect(titles(cases.inches)).toEqual(['along, in', 'deviation up, in']);
  expect(titles(cases.feetAndThou)).toEqual(['along, ft', 'deviation up, thou']);
});

test('a limit far wider than the rail is bad does not squeeze the points flat', () => {
  const { results, chart } = drawn({ ...cases.band, limitUm: 4000 });
  const [lo, hi] = param(chart, 'yDomain') as unknown as [number, number];
  const values = deviations(results, 'as-found').map(({ value }) => value);
  expect(hi - lo).toBeLessThan(6 * (Math.max(...values) - Math.min(...values)));
  expect(chart.caption).toContain('outside the picture');
});

test('the worst window of a local tolerance is marked', () => {
  const { chart } = drawn(cases.metric);
  expect(JSON.stringify(rowsOf(chart, 'texts'))).toMatch(/worst over 1000.mm: 7\.9.µm, limit 10.µm/);
});

test('the extremes that make the value are ringed and labelled with what they read', () => {
  const { results, chart } = drawn(cases.leftOnly);
  const values = deviations(results, 'as-left').map(({ value }) => value);
  const labels = rowsOf(chart, 'texts').map((row) => row['text']);
  expect(labels).toContain(`+${Math.max(...values).toFixed(1)}`);
  expect(labels).toContain(`−${Math.abs(Math.min(...values)).toFixed(1)}`);
});

test('beyond 60 stations uncertainty is a band', () => {
  const { chart } = drawn(cases.band);
  expect(rowsOf(chart, 'bars')).toEqual([]);
  expect(rowsOf(chart, 'leftBand').length).toBeGreaterThan(99);
});

test('a very long survey is thinned out, says so, and keeps its extremes', () => {
  const { results, chart } = drawn(cases.long);
  const values = deviations(results, 'as-left').map(({ value }) => value);
  const path = rowsOf(chart, 'leftPath').flatMap((row) => (row['y'] === null ? [] : [row['y'] as number]));
  expect(path.length).toBeLessThan(700);
  expect(Math.max(...path)).toBe(Math.max(...values));
  expect(Math.min(...path)).toBe(Math.min(...values));
  expect(chart.caption).toContain('Of 2000 stations');
});
