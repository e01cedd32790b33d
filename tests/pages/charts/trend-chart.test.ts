/** The picture of a machine's trends: what is drawn where, in the units of its panels. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { renderChart } from '../../../src/pages/charts/render-svg.js';
import { trendChart } from '../../../src/pages/charts/trend-chart.js';
import { drawPanel } from '../../../src/pages/charts/trend/panel.js';
import { dayNumber, dayTicks } from '../../../src/pages/charts/trend/time-axis.js';
import type { TrendPanel, TrendValue } from '../../../src/pages/charts/trend/trend-input.js';
import { textWidth } from '../../../src/pages/fonts/widths.js';
import { textPx } from '../../../src/pages/charts/chart-spec.js';
import { boxOf, overlaps } from '../../../src/pages/charts/rows.js';
import * as fonts from '../../../src/pages/fonts/fonts.js';

const value = (day: string, more: Partial<TrendValue> = {}): TrendValue => ({
  day: dayNumber(day),
  phase: 'as-left',
  value: 20,
  interval: [10, 30],
  limit: 40,
  verdict: 'conforms',
  ...more,
});
const panel = (values: readonly TrendValue[], more: Partial<TrendPanel> = {}): TrendPanel => ({
  name: 'Straightness, vertical, rail A',
  outcome: 'last 20 µm (10 to 30), limit 40 µm: conforms',
  signed: false,
  values,
  ...more,
});
const chart = (panels: readonly TrendPanel[]) =>
  trendChart({ key: 'trend-1', title: 'Trends', alt: 'Alt', panels, intervalLabel: '95 % interval' });
const place = {
  left: 0,
  top: 0,
  width: 320,
  days: [dayNumber('2020-01-01'), dayNumber('2024-01-01')],
} as const;

describe('days along an axis', () => {
  test('from a week to a century: round dates, as many as have room', () => {
    const labels = (from: string, to: string) =>
      dayTicks(dayNumber(from), dayNumber(to), 260).map(({ label }) => label);
    expect(labels('2026-03-12', '2026-03-19')).toEqual(['2026-03-16']);
    expect(labels('2026-01-15', '2026-06-20')).toEqual(['2026-03', '2026-05']);
    expect(labels('2019-06-01', '2025-02-01')).toEqual(['2020', '2021', '2022', '2023', '2024', '2025']);
    expect(labels('1930-06-01', '2025-02-01')).toEqual(['1940', '1960', '1980', '2000', '2020']);
  });

  test('a mistyped year near the last that can be written does no harm', () => {
    const ticks = dayTicks(dayNumber('9926-01-01'), dayNumber('9999-12-31') + 2_000, 300);
    expect(ticks.map(({ label }) => label)).toEqual(['9940', '9960', '9980']);
  });

  test('labels never touch, and lie inside', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -20_000, max: 40_000 }),
        fc.integer({ min: 1, max: 60_000 }),
        fc.integer({ min: 80, max: 600 }),
        (from, length, width) => {
          const ticks = dayTicks(from, from + length, width);
          const px = ticks.map(({ day }) => ((day - from) / length) * width);
          ticks.forEach(({ day, label }, i) => {
            expect(day).toBeGreaterThanOrEqual(from);
            expect(day).toBeLessThanOrEqual(from + length);
            if (i > 0) expect(px[i]! - px[i - 1]!).toBeGreaterThan(textWidth(label, textPx) + 10);
          });
        },
      ),
    );
  });
});

describe('a panel', () => {
  const drawn = drawPanel(
    panel([
      value('2021-01-01', { limit: 50 }),
      value('2022-01-01', { value: null, interval: null, verdict: 'undecided' }),
      value('2023-01-01', { value: 45, interval: [41, 48], verdict: 'does-not-conform' }),
    ]),
    place,
  );
  const paths = drawn.strokes.map(({ path }) => path);

  test('value, interval and limit stand at their places', () => {
    // The plot runs from 44 to 310 px, its foot at 104 px, its head, 32 px, at 1.08 times the largest figure: 54.
    const y = (um: number) => 104 - (um / 54) * 72;
    const x = (day: string) =>
      44 + ((dayNumber(day) - place.days[0]) / (place.days[1] - place.days[0])) * 266;
    const numbers = (path: string) => path.match(/-?\d+(?:\.\d+)?/g)!.map(Number);
    const bars = paths.find((path) => /^M[^V]*V[^MH]*M[^V]*V[^H]*$/.test(path))!;
    const expected = [
      [x('2021-01-01'), y(10), y(30)],
      [x('2023-01-01'), y(41), y(48)],
    ].flat();
    numbers(bars).forEach((px, i) => expect(px).toBeCloseTo(expected[i]!, 1));
    const limits = drawn.strokes.find(({ dash }) => dash.join() === '6,3')!;
    const middle = (x('2021-01-01') + x('2022-01-01')) / 2;
    [44, y(50), middle, middle, y(40), 310].forEach((px, i) =>
      expect(numbers(limits.path)[i]).toBeCloseTo(px, 1),
    );
  });

  test('the line breaks where a value is missing; a miss is crossed once', () => {
    expect(paths.filter((path) => /^M[\d.,]+M[\d.,]+$/.test(path))).toHaveLength(1);
    expect(paths.filter((path) => (path.match(/M/g) ?? []).length === 2 && /L.*L/.test(path))).toHaveLength(
      1,
    );
  });

  test('a limit far above all values does not flatten them; a signed one is drawn on both sides', () => {
    const far = drawPanel(
      panel([value('2021-01-01', { limit: 400 }), value('2022-01-01', { limit: 400 })]),
      place,
    );
    expect(far.strokes.some(({ dash }) => dash.join() === '6,3')).toBe(false);
    const signed = panel([value('2021-01-01'), value('2022-01-01')], { signed: true });
    const both = drawPanel(signed, place).strokes.find(({ dash }) => dash.join() === '6,3')!;
    expect(both.path.match(/M/g)).toHaveLength(2);
  });

  test('nought throughout', () => {
    const nought = { value: 0, interval: [0, 0] as const, limit: null, verdict: 'reported' as const };
    const flat = drawPanel(panel([value('2021-01-01', nought), value('2021-01-01', nought)]), place);
    for (const { path } of flat.strokes) expect(path).not.toMatch(/NaN|Infinity/);
  });
});

test('texts do not overlap, with one panel and with four', async () => {
  for (const count of [1, 4]) {
    const long = Array.from({ length: 50 }, (_, i) =>
      value(`20${String(10 + (i >> 1)).padStart(2, '0')}-0${1 + (i % 2) * 6}-01`, {
        phase: i % 3 === 0 ? 'as-found' : 'as-left',
        value: -1_200 + 40 * i,
        interval: null,
        verdict: i % 5 === 0 ? 'undecided' : 'conforms',
      }),
    );
    const spec = chart(Array.from({ length: count }, () => panel(long, { signed: true })));
    const { svg } = await renderChart(spec, fonts);
    expect(svg.includes('undecided</text>')).toBe(true);
    expect(svg.includes('does not conform</text>')).toBe(false);
    const texts = spec.spec.datasets['texts'] as unknown as Parameters<typeof boxOf>[0][];
    const boxes = texts.map((text) => boxOf(text, 0));
    boxes.forEach((box, i) => {
      expect(box.left, texts[i]!.text).toBeGreaterThanOrEqual(0);
      expect(box.right, texts[i]!.text).toBeLessThanOrEqual(spec.spec.width);
      for (const other of boxes.slice(i + 1)) expect(overlaps(box, other)).toBe(false);
    });
  }
});
