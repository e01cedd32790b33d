import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { niceBelow, niceStep, niceTicks } from '../../../src/pages/charts/axis-ticks.js';
import { safeTokens } from '../../../src/pages/charts/chart-keys.js';
import { hatchPath } from '../../../src/pages/charts/hatch.js';
import { mostPoints, thin, type Sample } from '../../../src/pages/charts/profile/thinning.js';
import { fitText, plainText, wrapText } from '../../../src/pages/charts/text-fit.js';

describe('ticks', () => {
  test.each([
    [0, 10000, 9, [0, 2000, 4000, 6000, 8000, 10000]],
    [-0.00031, 0.00042, 4, [-0.0002, 0, 0.0002, 0.0004]],
    [-42, 61, 7, [-40, -20, 0, 20, 40, 60]],
  ] as const)('from %d to %d', (from, to, most, values) => {
    expect(niceTicks(from, to, most).values).toEqual(values);
  });

  test('inside the range, evenly spaced, no more than asked for', () => {
    const range = fc.tuple(
      fc.double({ min: -1e5, max: 1e5, noNaN: true }),
      fc.double({ min: 1e-6, max: 1e5, noNaN: true }),
    );
    fc.assert(
      fc.property(range, fc.integer({ min: 2, max: 12 }), ([from, span], most) => {
        const to = from + span;
        const { values, step } = niceTicks(from, to, most);
        expect(values.length).toBeLessThanOrEqual(most + 1);
        for (const v of values) expect(v).toBeGreaterThanOrEqual(from - step * 1e-6);
        for (const v of values) expect(v).toBeLessThanOrEqual(to + step * 1e-6);
      }),
    );
  });

  test('steps are 1, 2 or 5 times a power of ten', () => {
    expect([0.011, 3, 21, 1000].map(niceStep)).toEqual([0.02, 5, 50, 1000]);
    expect([0.011, 3, 21, 1000].map(niceBelow)).toEqual([0.01, 2, 20, 1000]);
  });

  test('no range, no axis', () => {
    expect(() => niceTicks(1, 1, 5)).toThrow(RangeError);
  });
});

describe('rail ids in file names', () => {
  test('plain ids keep their name', () => {
    expect([...safeTokens(['A', 'B-2', 'rail_3']).values()]).toEqual(['A', 'B-2', 'rail_3']);
  });

  test('safe, unique without regard to case, and independent of the order', () => {
    const ids = fc.uniqueArray(fc.string({ minLength: 1, maxLength: 64, unit: 'grapheme' }), {
      minLength: 1,
      maxLength: 8,
    });
    fc.assert(
      fc.property(ids, (list) => {
        const tokens = safeTokens(list);
        for (const token of tokens.values()) expect(token).toMatch(/^[A-Za-z0-9._-]*[A-Za-z0-9_-]$/);
        expect(new Set([...tokens.values()].map((token) => token.toLowerCase())).size).toBe(list.length);
        const turned = safeTokens([...list].reverse());
        for (const id of list) expect(turned.get(id)).toBe(tokens.get(id));
      }),
    );
  });

  test('ids that only differ in case, in a slash or in a script', () => {
    const tokens = [...safeTokens(['a', 'A', 'x/y', 'x y', '轨', 'рельс', '..']).values()];
    expect(new Set(tokens.map((token) => token.toLowerCase())).size).toBe(7);
    expect(tokens.every((token) => /^[\w.-]+$/.test(token) && !/^\.+$/.test(token))).toBe(true);
  });
});

describe('thinning', () => {
  const wave = (n: number): Sample[] =>
    Array.from({ length: n }, (_, i) => ({
      station: i + 1,
      x: i,
      y: Math.sin(i / 50) * 10 + Math.sin(i * 12.9) * 3,
      half: 1,
    }));

  test('short series are left as they are', () => {
    const samples = wave(mostPoints);
    const { runs, isThinned } = thin(samples, new Set(), 1);
    expect(isThinned).toBe(false);
    expect(runs).toEqual([samples]);
  });

  test('long ones keep both ends, both extremes and what must stay, in order; the band holds every point', () => {
    const samples = wave(10_000);
    const { runs, bands, isThinned } = thin(samples, new Set([777, 4242]), 0.058);
    const [run] = runs;
    expect(isThinned).toBe(true);
    expect(run!.length).toBeLessThan(600);
    const stations = run!.map((point) => point.station);
    expect(stations).toEqual([...stations].sort((a, b) => a - b));
    expect(stations).toEqual(expect.arrayContaining([1, 10_000, 777, 4242]));
    const ys = samples.map((sample) => sample.y!);
    expect(Math.max(...run!.map(({ y }) => y))).toBe(Math.max(...ys));
    expect(Math.min(...bands[0]!.map(({ lo }) => lo))).toBe(Math.min(...ys) - 1);
  });

  test('a gap that can be seen stays a gap; every second station missing does not make the line vanish', () => {
    const withHole = wave(10_000).map((s) => (s.station > 4000 && s.station < 4600 ? { ...s, y: null } : s));
    expect(thin(withHole, new Set(), 0.058).runs).toHaveLength(2);
    const everySecond = wave(10_000).map((s) => (s.station % 2 ? { ...s, y: null } : s));
    expect(thin(everySecond, new Set(), 0.058).runs).toHaveLength(1);
    const fewStations = wave(20).map((s) => (s.station % 2 ? { ...s, y: null } : s));
    expect(thin(fewStations, new Set(), 29).runs).toHaveLength(10);
  });
});

describe('texts', () => {
  test('cut at the end, never inside a character', () => {
    expect(fitText('short', 200, 10.5)).toBe('short');
    expect(fitText('𝒳'.repeat(50), 60, 10.5)).toMatch(/^(?:𝒳)+…$/u);
  });

  test('wrapped between words; no dot is left at the end of a line', () => {
    const lines = wrapText('as found 88.5 · as left 19.5 · limit 40: conforms', 110, 10.5, 3);
    expect(lines.length).toBeGreaterThan(1);
    for (const line of lines) expect(line).not.toMatch(/·$/);
  });

  test('control characters and direction overrides are taken out', () => {
    expect(plainText('a\u0000b\u202ec\nd')).toBe('a bc d');
  });
});

test('hatching stays within its rectangle', () => {
  for (const hatch of ['rising', 'falling', 'crossed', 'level'] as const) {
    for (const [, x, y] of hatchPath(hatch, 40, 13).matchAll(/[ML](-?[\d.]+),(-?[\d.]+)/g)) {
      expect(Number(x)).toBeGreaterThanOrEqual(0);
      expect(Number(x)).toBeLessThanOrEqual(40);
      expect(Number(y)).toBeGreaterThanOrEqual(0);
      expect(Number(y)).toBeLessThanOrEqual(13);
    }
  }
});
