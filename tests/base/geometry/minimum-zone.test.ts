/**
 * Minimum zones against a linear programme solved by an independent general-purpose solver (`highs`), against
 * closed forms, and against computed values for published data.
 */
import * as highs from 'highs';
import type { LegacyHighs } from 'highs/legacy-types';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { lineZoneWidths, minimumZoneLine } from '../../../src/base/geometry/minimum-zone-line.js';
import { zoneFinder } from '../../../src/base/geometry/minimum-zone-plane.js';
import type { PlanPoints } from '../../../src/base/geometry/plane.js';
import { leastSquaresPlane, planeBasis } from '../../../src/base/geometry/plane.js';
import { endPointLine, leastSquaresLine, lineBasis, rangeAbout } from '../../../src/base/geometry/line.js';
import { normal, seeded } from '../../support/jobs.js';
import flatness from '../../published/flatness.json' with { type: 'json' };

const minimumZonePlane = (plan: PlanPoints, z: Float64Array) => zoneFinder(plan)?.find(z) ?? null;

let solver: LegacyHighs;
beforeAll(async () => {
  // Its types describe the CommonJS build, where the loader is the module itself.
  const load = (highs as unknown as { default: () => Promise<LegacyHighs> }).default;
  solver = await load();
});

/** least 2t with |z − c − a·x − b·y| ≤ t, in the solver's own text format. */
function zoneByLinearProgramme(
  x: ArrayLike<number>,
  y: ArrayLike<number> | null,
  z: ArrayLike<number>,
): number {
  const term = (v: number, name: string) => `${v < 0 ? '-' : '+'} ${Math.abs(v).toFixed(12)} ${name}`;
  const rows: string[] = [];
  for (let i = 0; i < z.length; i++) {
    const plane = `c ${term(x[i]!, 'a')} ${y === null ? '' : term(y[i]!, 'b')}`;
    rows.push(`u${i}: ${plane} - t <= ${z[i]!.toFixed(12)}`, `l${i}: ${plane} + t >= ${z[i]!.toFixed(12)}`);
  }
  const free = y === null ? 'a free\nc free' : 'a free\nb free\nc free';
  const text = `Minimize\n obj: 2 t\nSubject To\n${rows.join('\n')}\nBounds\n${free}\nEnd`;
  const result = solver.solve(text, {
    primal_feasibility_tolerance: 1e-10,
    dual_feasibility_tolerance: 1e-10,
  });
  expect(result.Status).toBe('Optimal');
  return result.ObjectiveValue;
}

describe('line', () => {
  test('random profiles agree with the linear programme', () => {
    const next = seeded(11);
    for (let k = 0; k < 150; k++) {
      const n = 2 + Math.floor(next() * 40);
      const x = Float64Array.from({ length: n }, (_, i) => i + 0.8 * next());
      const d = Float64Array.from({ length: n }, () =>
        k % 3 === 0 ? Math.round(4 * next()) : 20 * normal(next),
      );
      expect(minimumZoneLine(x, d).width).toBeCloseTo(zoneByLinearProgramme(x, null, d), 6);
    }
  });

  test('every point lies in the zone, and its supports on the edges', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -100, max: 100, noNaN: true }), { minLength: 2, maxLength: 60 }),
        (values) => {
          const x = Float64Array.from(values, (_, i) => i * 0.5);
          const d = Float64Array.from(values);
          const zone = minimumZoneLine(x, d);
          const about = (i: number) => d[i]! - zone.line.intercept - zone.line.slope * x[i]!;
          for (let i = 0; i < d.length; i++)
            expect(Math.abs(about(i))).toBeLessThanOrEqual(zone.width / 2 + 1e-9);
          expect(zone.side * about(zone.lone)).toBeCloseTo(zone.width / 2, 8);
          expect(-zone.side * about(zone.first)).toBeCloseTo(zone.width / 2, 8);
          expect(-zone.side * about(zone.last)).toBeCloseTo(zone.width / 2, 8);
          expect(zone.width).toBeLessThanOrEqual(
            rangeAbout(leastSquaresLine(lineBasis(x), d), x, d).range + 1e-9,
          );
          expect(zone.width).toBeLessThanOrEqual(rangeAbout(endPointLine(x, d), x, d).range + 1e-9);
        },
      ),
      { numRuns: 500 },
    );
  });

  test('widths alone, one search after the other, are those of the hull', () => {
    const next = seeded(17);
    for (const n of [1, 2, 3, 4, 5, 11, 41, 200]) {
      const x = Float64Array.from({ length: n }, (_, i) => 900 + i + 0.8 * next());
      const widthOf = lineZoneWidths(x);
      for (let k = 0; k < 300; k++) {
        // Ties, straight lines and steep ones among them.
        const tilt = k % 5 === 0 ? 1000 * normal(next) : 0;
        const d = Float64Array.from(x, (v) => {
          if (k % 7 === 0) return tilt * v;
          return tilt * v + (k % 3 === 0 ? Math.round(3 * next()) : 20 * normal(next));
        });
        const expected = n < 2 ? 0 : minimumZoneLine(x, d).width;
        expect(Math.abs(widthOf(d) - expected)).toBeLessThan(1e-9 * (1 + 1e3 * Math.abs(tilt)));
      }
    }
  });

  test('a tilt or a far origin changes nothing', () => {
    const next = seeded(3);
    const x = Float64Array.from({ length: 21 }, (_, i) => i * 0.5);
    const d = Float64Array.from(x, () => 10 * normal(next));
    const width = minimumZoneLine(x, d).width;
    expect(
      minimumZoneLine(
        x.map((v) => v + 10_000),
        d,
      ).width,
    ).toBeCloseTo(width, 7);
    expect(
      minimumZoneLine(
        x,
        d.map((v, i) => v + 500 - 37 * x[i]!),
      ).width,
    ).toBeCloseTo(width, 9);
  });

  test('closed form: y = x³ on nine equal points: zone 0.5, least squares 0.525, end points 0.75', () => {
    // Elementary Chebyshev approximation theory; the nine-point values are exact in short decimals.
    const x = Float64Array.from({ length: 9 }, (_, i) => -1 + i / 4);
    const d = x.map((v) => v ** 3);
    expect(minimumZoneLine(x, d).width).toBeCloseTo(0.5, 12);
    expect(minimumZoneLine(x, d).line.slope).toBeCloseTo(0.75, 12);
    expect(rangeAbout(leastSquaresLine(lineBasis(x), d), x, d).range).toBeCloseTo(0.525, 12);
    expect(leastSquaresLine(lineBasis(x), d).slope).toBeCloseTo(0.7375, 12);
    expect(rangeAbout(endPointLine(x, d), x, d).range).toBeCloseTo(0.75, 12);
  });
});

describe('plane', () => {
  const rails = (n: number) => ({
    x: Float64Array.from({ length: 2 * n }, (_, i) => (i % n) * 0.5),
    y: Float64Array.from({ length: 2 * n }, (_, i) => (i < n ? 0 : 3.2)),
  });

  test('random points, grids and pairs of rails agree with the linear programme', () => {
    const next = seeded(5);
    for (let k = 0; k < 120; k++) {
      const n = 4 + Math.floor(next() * 30);
      const plan =
        k % 3 === 0
          ? rails(n)
          : {
              x: Float64Array.from({ length: n }, (_, i) => (k % 3 === 1 ? i % 3 : 10 * next())),
              y: Float64Array.from({ length: n }, (_, i) => (k % 3 === 1 ? Math.floor(i / 3) : 10 * next())),
            };
      const z = Float64Array.from({ length: plan.x.length }, () =>
        k % 2 === 0 ? Math.round(6 * next()) : 15 * normal(next),
      );
      const zone = minimumZonePlane(plan, z)!;
      expect(zone.width, `case ${k}`).toBeCloseTo(zoneByLinearProgramme(plan.x, plan.y, z), 6);
      const residual = (i: number) =>
        z[i]! - zone.plane.c - zone.plane.a * plan.x[i]! - zone.plane.b * plan.y[i]!;
      for (let i = 0; i < z.length; i++)
        expect(Math.abs(residual(i))).toBeLessThanOrEqual(zone.width / 2 + 1e-7);
      const bySupport = zone.support.reduce((sum, { point, weight }) => sum + weight * z[point]!, 0);
      expect(bySupport).toBeCloseTo(zone.width, 6);
    }
  });

  test('one finder for many heights: the same as one for each', () => {
    const next = seeded(23);
    const plan = rails(21);
    const finder = zoneFinder(plan)!;
    for (let k = 0; k < 1000; k++) {
      const z = Float64Array.from(plan.x, () => (k % 4 === 0 ? Math.round(3 * next()) : 15 * normal(next)));
      const { width, plane } = minimumZonePlane(plan, z)!;
      const normalised = width / Math.sqrt(1 + (plane.a * 1e-6) ** 2 + (plane.b * 1e-6) ** 2);
      expect(Math.abs(finder.normalWidth(z) - normalised)).toBeLessThan(1e-8);
    }
  });

  test('3 × 3 grid of a textbook exercise (recalled, source not located): zone 25, least squares 28.67', () => {
    const z = Float64Array.from([0, 15, 7, -12, 20, 4, 5, -10, 2]);
    const x = Float64Array.from([0, 1, 2, 0, 1, 2, 0, 1, 2]);
    const y = Float64Array.from([0, 0, 0, 1, 1, 1, 2, 2, 2]);
    expect(minimumZonePlane({ x, y }, z)!.width).toBeCloseTo(25, 9);
    const plane = leastSquaresPlane(planeBasis(x, y)!, z);
    const v = z.map((value, i) => value - plane.c - plane.a * x[i]! - plane.b * y[i]!);
    expect(Math.max(...v) - Math.min(...v)).toBeCloseTo(28.6666667, 6);
  });

  test('surface plate of Moody 1955, heights as republished by Allen 2019: recomputed zones', () => {
    const { inputs, expected } = flatness[0]!;
    expect(inputs.layout).toContain('corners NW (0,10), NE (16,10), SW (0,0), SE (16,0)');
    const place: Record<string, readonly [number, number]> = {
      NW: [0, 10],
      NE: [16, 10],
      SW: [0, 0],
      SE: [16, 0],
      N: [8, 10],
      S: [8, 0],
      E: [16, 5],
      W: [0, 5],
    };
    const points = Object.entries(expected.published_heights_by_Allen_microinch).flatMap(
      ([line, heights]) => {
        const [from, to] = line.split('_').map((corner) => place[corner]!) as [
          readonly [number, number],
          readonly [number, number],
        ];
        return heights.map((h, k) => {
          const share = k / (heights.length - 1);
          return {
            x: from[0] + share * (to[0] - from[0]),
            y: from[1] + share * (to[1] - from[1]),
            z: h * 0.0254,
          };
        });
      },
    );
    const x = Float64Array.from(points, (p) => p.x);
    const y = Float64Array.from(points, (p) => p.y);
    const z = Float64Array.from(points, (p) => p.z);
    expect(minimumZonePlane({ x, y }, z)!.width).toBeCloseTo(expected.recomputed.minimum_zone_flatness_um, 5);
    const plane = leastSquaresPlane(planeBasis(x, y)!, z);
    const v = z.map((h, i) => h - plane.c - plane.a * x[i]! - plane.b * y[i]!);
    expect(Math.max(...v) - Math.min(...v)).toBeCloseTo(
      expected.recomputed.least_squares_plane_peak_to_valley_um,
      5,
    );
  });

  test('it ends on points that are plane to rounding, tilted and centred, and says so', () => {
    const random = fc.sample(
      fc.record({
        n: fc.integer({ min: 2, max: 40 }),
        a: fc.double({ min: -1e4, max: 1e4, noNaN: true }),
        b: fc.double({ min: -1e4, max: 1e4, noNaN: true }),
        c: fc.constantFrom(0, 1e-9, 1, 1e6),
        step: fc.double({ min: 0.01, max: 3, noNaN: true }),
        cut: fc.boolean(),
      }),
      { seed: 5, numRuns: 400 },
    );
    for (const { n, a, b, c, step, cut } of random) {
      const x = Float64Array.from({ length: 2 * n }, (_, i) => step * ((i % n) - (n - 1) / 2));
      const y = Float64Array.from({ length: 2 * n }, (_, i) => (i < n ? -1.6 : 1.6));
      // With cut digits too, as a file has them: then it is plane to half of the last one.
      const z = x.map((v, i) => {
        const height = c + a * v + b * y[i]!;
        return cut ? Math.round(height * 1e6) / 1e6 : height;
      });
      const size = Math.max(...z.map(Math.abs), 1e-9);
      const zone = minimumZonePlane({ x, y }, z)!;
      expect(zone.width).toBeLessThan((cut ? 4e-6 : 0) + 1e-11 * size);
      expect(minimumZoneLine(x.subarray(0, n), z.subarray(0, n)).width).toBeLessThan(
        (cut ? 4e-6 : 0) + 1e-11 * size,
      );
    }
  });

  test('no plane through points on one line', () => {
    const x = Float64Array.from([0, 1, 2, 3, 4]);
    const y = x.map((v) => 2 * v);
    expect(minimumZonePlane({ x, y }, Float64Array.from([1, 2, 1, 2, 1]))).toBeNull();
    expect(planeBasis(x, y)).toBeNull();
  });
});
