/** Published level and autocollimator surveys, from a CSV file of slopes to the straightness in the results. */
import { undetermined } from '../support/worded.js';
import { describe, expect, test } from 'vitest';
import type { Results } from '../../src/results/results-schema.js';
import published from '../published/straightness.json' with { type: 'json' };
import physics from '../published/physics.json' with { type: 'json' };
import { dropUm, sagittaUm } from '../../src/base/geometry/earth-curvature.js';
import { thermalBowUm } from '../../src/solution/solve/corrections.js';
import { toUmPerM } from '../../src/base/units/units.js';
import { makeJob, judgedOf } from '../support/folders.js';

// eslint-disable-next-line @typescript-eslint/no-explicit-any -- fixtures differ in shape
const entry = (list: readonly { id: string }[], id: string): any => list.find((e) => e.id === id);

/** A rail stepped from its first station to its last: one slope a step, in the unit given. */
async function stepped(
  slopes: readonly number[],
  stepMm: number,
  unit: string,
  against: 'gravity' | 'sight',
): Promise<Results> {
  const rows = slopes.map((s, k) => `A,${k + 1},A,${k + 2},vertical,${s}`);
  return judgedOf(
    await makeJob(
      {
        rails: [
          {
            id: 'A',
            datum: true,
            across: 0,
            stations: { first: 0, spacing: stepMm, count: slopes.length + 1 },
          },
        ],
        readings: [{ file: 'level.csv', phase: 'as-left', kind: 'slope', instrument: 'E1', unit, against }],
      },
      { 'level.csv': ['from_rail,from_station,to_rail,to_station,axis,slope', ...rows].join('\n') },
    ),
  );
}

const straightness = (r: Results, reference: string) =>
  r.phases['as-left']!.characteristics.find(
    (c) => c.what === 'straightness-vertical' && c.reference === reference,
  )!;

describe('spirit level on a guideway, 0.01 mm/m a division, 200 mm steps (fitters’ examination question)', () => {
  const { inputs, expected } = entry(published, 'STR-LEVEL-6A');
  const slopes = inputs.readings_div.map((d: number) => d * inputs.division_um_per_m);

  test('end points 20 µm as published; least squares and minimum zone as recomputed', async () => {
    const r = await stepped(slopes, inputs.step_mm, 'um/m', 'gravity');
    expect(straightness(r, 'end-points').value).toBeCloseTo(expected.published.end_point_straightness_um, 6);
    expect(straightness(r, 'least-squares').value).toBeCloseTo(expected.recomputed.least_squares_um, 6);
    expect(straightness(r, 'minimum-zone').value).toBeCloseTo(expected.recomputed.minimum_zone_um, 6);
    const heights = r.phases['as-left']!.stations.map((s) => s.deviation.vertical!.value!);
    expected.recomputed.deviation_from_least_squares_um.forEach((v: number, k: number) =>
      expect(heights[k]).toBeCloseTo(v, 5),
    );
  });

  test('a level knows gravity, and the rail has a slope; a sight line does not, and there is none', async () => {
    const level = (r: Results) => r.phases['as-left']!.characteristics.find((c) => c.what === 'level-along')!;
    expect(level(await stepped(slopes, 200, 'um/m', 'gravity')).value).toBeCloseTo(
      expected.recomputed.least_squares_slope_um_per_mm * 1000,
      6,
    );
    const sighted = level(await stepped(slopes, 200, 'um/m', 'sight'));
    expect(sighted.value).toBeNull();
    expect(undetermined(sighted).why).toMatch(/sight line/);
  });

  test('nothing checks a single run of steps, and that is said', async () => {
    const a = (await stepped(slopes, 200, 'um/m', 'gravity')).phases['as-left']!.adjustment;
    expect(a.redundancy).toBe(0);
    expect(a.sigma0).toBeNull();
    expect(a.scale).toBe(1);
    expect(a.suspects).toEqual([]);
  });
});

test('nine-station textbook profile (recalled, source not seen: a computed check)', async () => {
  const { inputs, expected } = entry(published, 'STR-LEVEL-9');
  const r = await stepped(inputs.readings_um_per_step, 1000, 'um/m', 'gravity');
  expect(straightness(r, 'end-points').value).toBeCloseTo(expected.end_point_um, 9);
  expect(straightness(r, 'least-squares').value).toBeCloseTo(expected.least_squares_um, 9);
  expect(straightness(r, 'minimum-zone').value).toBeCloseTo(expected.minimum_zone_um, 9);
  const level = r.phases['as-left']!.characteristics.find((c) => c.what === 'level-along')!;
  expect(level.value).toBeCloseTo(expected.ls_slope, 9);
});

describe('autocollimator lines of Moody 1955, seconds of arc over 4 inch steps', () => {
  const { inputs, expected } = entry(published, 'STR-MOODY-8LINES');
  test.each(Object.keys(inputs.lines))('%s', async (name) => {
    const r = await stepped(inputs.lines[name], inputs.foot_spacing_inch * 25.4, 'arcsec', 'sight');
    const want = expected.recomputed[name];
    // Five printed decimals.
    expect(straightness(r, 'end-points').value).toBeCloseTo(want.end_point_um, 4);
    expect(straightness(r, 'least-squares').value).toBeCloseTo(want.least_squares_um, 4);
    expect(straightness(r, 'minimum-zone').value).toBeCloseTo(want.minimum_zone_um, 4);
    expect(r.phases['as-left']!.stations.length).toBe(want.stations);
  });
});

test('u of a stepped profile tied at both ends: u·l·√(k(n−k)/n) (closed form)', async () => {
  const { inputs, expected } = entry(published, 'STR-BRIDGE-UNC');
  const slopes = Array.from(
    { length: inputs.n_steps },
    (_, k) => (k % 2 === 0 ? 400 : -400) + 300 * Math.sin(k),
  );
  const r = await stepped(slopes, 1000, 'um/m', 'gravity');
  // At 1 m and 1 µm/m, u·l is 1 µm; the end-point straightness of this zigzag is held by two known stations.
  const c = straightness(r, 'end-points');
  const [high, low] = c.at.map((p) => p.station - 1) as [number, number];
  const n = inputs.n_steps as number;
  // Cov(h_i, h_j) of a bridge is i(n − j)/n for i ≤ j.
  const cov = (i: number, j: number) => (Math.min(i, j) * (n - Math.max(i, j))) / n;
  expect(Math.sqrt(cov(high, high))).toBeCloseTo(expected.u_height_over_u_l[high], 6);
  expect(c.u!).toBeCloseTo(Math.sqrt(cov(high, high) + cov(low, low) - 2 * cov(high, low)), 9);
});

describe('facts of physics', () => {
  test('the earth’s curvature: 8 inches in the first mile (surveying handbooks)', () => {
    const e = entry(physics, 'PHYS-CURVATURE').expected;
    expect(dropUm(1609.344) / 25400).toBeCloseTo(e.one_mile_inch, 4);
    for (const [distance, v] of Object.entries(e.by_distance_m) as [
      string,
      { drop_um: number; chord_sagitta_um: number },
    ][]) {
      // Printed to six decimals of a micrometre.
      expect(Math.abs(dropUm(Number(distance)) - v.drop_um)).toBeLessThanOrEqual(6e-7);
      expect(Math.abs(sagittaUm(Number(distance) * 1000) - v.chord_sagitta_um)).toBeLessThanOrEqual(6e-7);
    }
  });

  test('bow of a free beam with a linear temperature gradient (beam theory)', () => {
    const { inputs, expected } = entry(physics, 'PHYS-THERMAL-BEND');
    (inputs.cases as { alpha: number; dT: number; L_m: number; h_m: number }[]).forEach((c, k) =>
      expect(thermalBowUm(c.alpha, c.dT, c.L_m * 1000, c.h_m * 1000)).toBeCloseTo(expected.bow_um[k], 4),
    );
  });

  test('angles as slopes (definition of the radian)', () => {
    const e = entry(physics, 'PHYS-ANGLE').expected;
    expect(toUmPerM(1, 'arcsec')).toBeCloseTo(e.one_arcsec_um_per_m, 12);
    expect(toUmPerM(0.0005, 'in/ft')).toBeCloseTo(e.level_0_0005_in_per_ft.um_per_m, 9);
    expect(toUmPerM(0.5, 'thou/ft')).toBeCloseTo(e.level_0_0005_in_per_ft.um_per_m, 9);
  });
});
