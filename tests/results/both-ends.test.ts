/**
 * One machine surveyed twice in uneven air that nobody measured, but whose size is stated rightly: from one end, and from
 * both. The two reports agree: their intervals meet, and either holds the true value, as often as they say.
 */
import { expect, test } from 'vitest';
import type { OffsetReading } from '../../src/survey/readings/readings.js';
import { adjustPhase } from '../../src/results/adjusted-phase.js';
import { phaseSection } from '../../src/results/phase-section.js';
import { bendPerGradient } from '../../src/solution/solve/refraction.js';
import { job, laser, normal, rail, seeded, setup } from '../support/jobs.js';

const AT = Array.from({ length: 9 }, (_, k) => 1500 * k);
const GRADIENT_U = 0.4;
const shape = AT.map((x) => 15 * Math.sin(x / 3000) + 4 * Math.cos(x / 700));

/** Straightness of the shape, about its least-squares line. */
const truth = (() => {
  const n = AT.length;
  const [mx, my] = [AT, shape].map((v) => v.reduce((a, b) => a + b, 0) / n) as [number, number];
  const slope =
    AT.reduce((s, x, i) => s + (x - mx) * (shape[i]! - my), 0) / AT.reduce((s, x) => s + (x - mx) ** 2, 0);
  const d = shape.map((y, i) => y - my - slope * (AT[i]! - mx));
  return Math.max(...d) - Math.min(...d);
})();

test('intervals of both surveys meet, and hold the truth', () => {
  const next = seeded(12);
  const bend = bendPerGradient({ conditions: { temperatureC: null, note: null } });
  const COUNT = 200;
  const tally = { meet: 0, one: 0, both: 0, narrower: 0 };
  for (let k = 0; k < COUNT; k++) {
    const [one, both] = [[-1000], [-1000, 13_000]].map((places) => {
      const setups = places.map((along, s) =>
        setup(`S${s + 1}`, along, 0, {
          air: [{ rail: null, vertical: { value: 0, u: GRADIENT_U }, sideways: null }],
        }),
      );
      const survey = job({
        rails: [rail('A', 0, AT, { datum: true })],
        instruments: [laser({ perMetreU: 0 })],
        setups,
      });
      const readings = setups.flatMap(({ id, alongMm }) => {
        // Still air without a gradient bends the light too, and is taken off (refraction.ts).
        const gradient = 0.0343 + GRADIENT_U * normal(next);
        return AT.map((x, i): OffsetReading => ({
          kind: 'offset',
          source: { file: 'r.csv', row: i + 2 },
          pass: '1',
          time: null,
          note: '',
          setup: id,
          point: { kind: 'station', rail: 'A', station: i + 1 },
          target: 'T1',
          axis: 'vertical',
          um: shape[i]! + bend * gradient * ((x - alongMm) / 1000) ** 2 + 1.5 * normal(next),
        }));
      });
      return phaseSection(survey, adjustPhase(survey, readings)).characteristics.find(
        ({ what, reference }) => what === 'straightness-vertical' && reference === 'least-squares',
      )!.interval!;
    }) as [[number, number], [number, number]];
    if (one[0] <= both[1] && both[0] <= one[1]) tally.meet++;
    if (one[0] <= truth && truth <= one[1]) tally.one++;
    if (both[0] <= truth && truth <= both[1]) tally.both++;
    if (both[1] - both[0] < one[1] - one[0]) tally.narrower++;
  }
  // 200 surveys: a standard deviation of 0.015 at 0.95.
  expect(tally.meet / COUNT).toBeGreaterThanOrEqual(0.95);
  expect(tally.one / COUNT).toBeGreaterThan(0.91);
  expect(tally.both / COUNT).toBeGreaterThan(0.91);
  expect(tally.narrower / COUNT).toBeGreaterThan(0.95);
});
