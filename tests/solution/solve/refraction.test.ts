/** Bending of light and what is common to a set-up, against published values and closed forms. */
import { describe, expect, test } from 'vitest';
import { adjust } from '../../../src/solution/solve/adjustment.js';
import { buildNetwork, keyOf } from '../../../src/solution/solve/network.js';
import { bendPerGradient, refractionCoefficient, STILL_AIR } from '../../../src/solution/solve/refraction.js';
import type { OffsetReading } from '../../../src/survey/readings/readings.js';
import { job, laser, rail, setup } from '../../support/jobs.js';

test('the coefficient of refraction at 293 K and 1013 hPa: 0.20 without a gradient, 6.1 at +1 K/m (standard geodesy, from memory)', () => {
  expect(refractionCoefficient(0, 19.85)).toBeCloseTo(0.2, 2);
  expect(refractionCoefficient(1, 19.85)).toBeCloseTo(6.14, 1);
});

test('light at 12 m departs by 69 µm in a gradient of 1 K/m', () => {
  const bend = bendPerGradient({ conditions: { temperatureC: null, note: null } });
  expect(bend * 144 * (1 + STILL_AIR)).toBeCloseTo(69, 0);
});

test('0.13 is the mean coefficient that Gauss found over long lines of sight: a gradient of about −0.01 K/m (handbooks of geodesy, from memory)', () => {
  const gradient = -0.0122;
  expect(refractionCoefficient(gradient, 15)).toBeCloseTo(0.13, 1);
});

const A = rail('A', 0, [0, 2000, 4000, 6000, 8000, 10_000], { datum: true });
const read = (
  setupId: string,
  station: number,
  um: number,
  more: Partial<OffsetReading> = {},
): OffsetReading => ({
  kind: 'offset',
  source: { file: 'r.csv', row: station + 1 },
  pass: '1',
  time: null,
  note: '',
  setup: setupId,
  point: { kind: 'station', rail: 'A', station },
  target: 'T1',
  axis: 'vertical',
  um,
  ...more,
});
const air = (u: number, value = 0) => [{ rail: null, vertical: { value, u }, sideways: null }];
const straightRail = (parts: Parameters<typeof job>[0], readings: readonly OffsetReading[]) =>
  adjust(buildNetwork(job(parts), readings));

describe('closed forms', () => {
  test('a stated gradient is taken off: a straight rail seen through it is straight', () => {
    const bend = bendPerGradient({ conditions: { temperatureC: null, note: null } });
    const place = setup('S1', -1000, 0, { air: air(0.01, 0.5) });
    const readings = A.stations.map(({ number, alongMm }) => {
      const d = (alongMm + 1000) / 1000;
      return read('S1', number, bend * d * d * (0.5 + STILL_AIR));
    });
    const { x, network } = straightRail({ rails: [A], setups: [place] }, readings);
    const heights = A.stations.map((s) => x[network.find(keyOf.station('height', 'A', s.number))!]!);
    const slope = (heights[5]! - heights[0]!) / 10;
    heights.forEach((z, k) => expect(z - heights[0]! - slope * 2 * k).toBeCloseTo(0, 6));
  });

  test('its uncertainty bends all stations alike: of the middle against the ends u = bend·u(gradient)·d·(L − d)', () => {
    const place = setup('S1', 0, 0, { air: air(0.2) });
    const instruments = [laser({ readingU: 1e-3, perMetreU: 0 })];
    const { standardUncertainty, network } = straightRail(
      { rails: [A], setups: [place], instruments },
      A.stations.map(({ number }) => read('S1', number, 0)),
    );
    const at = (n: number) => network.find(keyOf.station('height', 'A', n))!;
    const bend = bendPerGradient({ conditions: { temperatureC: null, note: null } });
    // Station 4 at 6 m of 10 m: the chord from 1 to 6 leaves d·(L − d) of the square.
    const u = standardUncertainty({ index: [at(4), at(1), at(6)], weight: [1, -0.4, -0.6] });
    expect(u).toBeCloseTo(bend * 0.2 * 6 * 4, 3);
  });

  test('read from both ends, the gradients show themselves, and the rail is known better', () => {
    const from = (places: readonly (readonly [string, number])[]) => {
      const setups = places.map(([id, along]) => setup(id, along, 0, { air: air(0.5) }));
      const instruments = [laser({ readingU: 1, perMetreU: 0 })];
      const readings = places.flatMap(([id]) => A.stations.map(({ number }) => read(id, number, 0)));
      const { standardUncertainty, network } = straightRail({ rails: [A], setups, instruments }, readings);
      const at = (n: number) => network.find(keyOf.station('height', 'A', n))!;
      return standardUncertainty({ index: [at(3), at(1), at(6)], weight: [1, -0.6, -0.4] });
    };
    const [one, both] = [from([['S1', 0]]), from([['S1', 0], ['S2', 10_000]])]; // prettier-ignore
    expect(both).toBeLessThan(0.8 * one);
  });

  test('a cone lifts by its angle times the distance: on one side of the instrument it is a slope, over both a kink', () => {
    const instruments = [laser({ readingU: 1e-3, perMetreU: 0, coneU: 2 })];
    const { standardUncertainty, network } = straightRail(
      { rails: [A], setups: [setup('S1', 4000, 0)], instruments },
      A.stations.map(({ number }) => read('S1', number, 0)),
    );
    const at = (n: number) => network.find(keyOf.station('height', 'A', n))!;
    // Station 3 stands at the instrument: γ·(0 − 0.6·4 − 0.4·6) against the chord of the ends.
    expect(standardUncertainty({ index: [at(3), at(1), at(6)], weight: [1, -0.6, -0.4] })).toBeCloseTo(
      2 * 4.8,
      2,
    );
  });

  test('three looks at one placing share how the target sat; three placings do not', () => {
    const target = { id: 'T1', serial: null, scaleU: null, rollU: null, seatU: 4, rodMm: null };
    const u = (placing: (k: number) => string | null) => {
      const readings = [1, 6].flatMap((n) =>
        [0, 1, 2].map((k) =>
          read('S1', n, 0, {
            placing: placing(k) === null ? null : `${n}${placing(k)}`,
            pass: String(k + 1),
          }),
        ),
      );
      const { standardUncertainty, network } = straightRail(
        {
          rails: [A],
          setups: [setup('S1', 0, 0)],
          targets: [target],
          instruments: [laser({ readingU: 1.5, perMetreU: 0, levelU: 1e-6 })],
        },
        readings,
      );
      const at = (n: number) => network.find(keyOf.station('height', 'A', n))!;
      return standardUncertainty({ index: [at(6), at(1)], weight: [1, -1] });
    };
    expect(u(() => 'P')).toBeCloseTo(Math.sqrt(2 * (16 + 1.5 ** 2 / 3)), 3);
    expect(u((k) => `P${k}`)).toBeCloseTo(Math.sqrt((2 * (16 + 1.5 ** 2)) / 3), 3);
    expect(u(() => null)).toBeCloseTo(Math.sqrt((2 * (16 + 1.5 ** 2)) / 3), 3);
  });

  test('the level’s zero is common to three legs: 4.85 in place of 2.8 µm/m', () => {
    const zero = laser({ readingU: 1e-3, perMetreU: 0, levelU: 1e-3, levelZeroU: 4.85 });
    const own = laser({ readingU: 1e-3, perMetreU: 0, levelU: 4.85 });
    const level = (instrument: typeof own) => {
      const setups = [0, 4000, 8000].map((along, k) => setup(`S${k + 1}`, along, 0));
      const readings = setups.flatMap(({ id }) => A.stations.map(({ number }) => read(id, number, 0)));
      const { standardUncertainty, network } = straightRail(
        { rails: [A], setups, instruments: [instrument] },
        readings,
      );
      const at = (n: number) => network.find(keyOf.station('height', 'A', n))!;
      return standardUncertainty({ index: [at(6), at(1)], weight: [0.1, -0.1] });
    };
    expect(level(zero)).toBeCloseTo(4.85, 2);
    expect(level(own)).toBeCloseTo(2.8, 2);
  });
});
