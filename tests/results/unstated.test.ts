/**
 * Up to which gradient of temperature a verdict would hold: the same survey read in such air, with light that bends by the
 * handbook's formula, keeps its verdict a little below the stated gradient, one way and the other, and loses it a little
 * above.
 */
import { expect, test } from 'vitest';
import type { OffsetReading } from '../../src/survey/readings/readings.js';
import { adjustPhase } from '../../src/results/adjusted-phase.js';
import { phaseSection } from '../../src/results/phase-section.js';
import { job, laser, limitUm, normal, rail, seeded, setup, tolerance } from '../support/jobs.js';

const STATIONS = Array.from({ length: 13 }, (_, k) => 1000 * k);
const place = { x: -1000, y: 700 };

/** k/R with k = 503·p/T²·dT/dh at 20 °C and 1013.25 hPa: half of it times the squared distance, µm. */
const bend = (gradient: number, mm: number): number =>
  ((0.5 * 503 * 1013.25 * gradient) / 293.15 ** 2 / 6_371_000) * (mm / 1000) ** 2 * 1e6;

function read(gradient: number): OffsetReading[] {
  const next = seeded(8);
  return STATIONS.map((x, k) => ({
    kind: 'offset',
    source: { file: 'r.csv', row: k + 2 },
    pass: '1',
    time: null,
    note: '',
    setup: 'S1',
    point: { kind: 'station', rail: 'A', station: k + 1 },
    target: 'T1',
    axis: 'vertical',
    um: 12 * Math.sin(x / 2500) + normal(next) + bend(gradient, Math.hypot(x - place.x, place.y)),
  }));
}

function judged(limit: number, gradient: number, rule: 'simple' | 'guarded') {
  const survey = job({
    rails: [rail('A', 0, STATIONS, { datum: true })],
    instruments: [laser({ perMetreU: 0 })],
    setups: [setup('S1', place.x, place.y)],
    decision: { rule, coverage: 0.95, guardBand: 1 },
    toleranceSet: {
      ...job({ rails: [rail('A', 0, STATIONS, { datum: true })] }).toleranceSet,
      tolerances: [tolerance({ what: 'straightness-vertical', rail: 'A', limit: limitUm(limit) })],
    },
  });
  return phaseSection(survey, adjustPhase(survey, read(gradient))).characteristics.find(
    (c) => c.limit !== null,
  )!;
}

test.each([
  ['a hair below the limit', 1e-4, 'simple'],
  ['well below it', 8, 'simple'],
  ['the whole interval inside', 12, 'guarded'],
  ['far below it', 60, 'guarded'],
] as const)('%s', (_, margin, rule) => {
  const { value, interval } = judged(1e6, 0, rule);
  const limit = (rule === 'simple' ? value! : interval![1]) + margin;
  const made = judged(limit, 0, rule);
  expect(made.verdict).toBe('conforms');
  const { upTo } = made.holdsUpTo!.find(({ source }) => source === 'air')!;
  expect(upTo).toBeGreaterThan(0);
  const verdicts = (gradient: number) => [gradient, -gradient].map((g) => judged(limit, g, rule).verdict);
  expect(verdicts(0.98 * upTo)).toEqual(['conforms', 'conforms']);
  expect(new Set(verdicts(1.02 * upTo + 1e-9)).size).toBe(2);
});
