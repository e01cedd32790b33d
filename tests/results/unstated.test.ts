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

/** Readings of one rail twice over, so that placings can be shared; seating may be stated for the target. */
function seated(limit: number, seatU: number | null, isShared: boolean) {
  const next = seeded(21);
  const readings = [1, 2].flatMap((pass) =>
    STATIONS.map((x, k): OffsetReading => ({
      kind: 'offset',
      source: { file: 'r.csv', row: pass * 100 + k },
      pass: `${pass}`,
      time: null,
      note: '',
      setup: 'S1',
      point: { kind: 'station', rail: 'A', station: k + 1 },
      target: 'T1',
      axis: 'vertical',
      um: 12 * Math.sin(x / 2500) + normal(next),
      ...(isShared && { placing: `P${k}` }),
    })),
  );
  const base = job({ rails: [rail('A', 0, STATIONS, { datum: true })] });
  const survey = job({
    rails: [rail('A', 0, STATIONS, { datum: true })],
    instruments: [laser({ perMetreU: 0 })],
    setups: [setup('S1', place.x, place.y)],
    targets: [{ id: 'T1', scaleU: null, rollU: null, rodUm: null, seatU }] as never,
    decision: { rule: 'guarded', coverage: 0.95, guardBand: 1 },
    toleranceSet: {
      ...base.toleranceSet,
      tolerances: [tolerance({ what: 'straightness-vertical', rail: 'A', limit: limitUm(limit) })],
    },
  });
  const section = phaseSection(survey, adjustPhase(survey, readings));
  return { section, made: section.characteristics.find((c) => c.limit !== null)! };
}

test.each([false, true])(
  'seating that is not stated adds what it would add if it were (placings shared: %s)',
  (isShared) => {
    const { section, made } = seated(60, null, isShared);
    const entry = section.unstated!.find(({ source }) => source === 'seating')!;
    expect(entry).toMatchObject({ unit: 'um', rail: 'A', station: 1 });
    const [does] = entry.does!;
    // One target everywhere and equal noise: its weights do not change when the seating is stated, so the uncertainties add in quadrature.
    const stated = seated(60, entry.size, isShared);
    expect(does!.by).toBeCloseTo(Math.sqrt(stated.made.u! ** 2 - made.u! ** 2), 6);
    expect(stated.section.unstated?.some(({ source }) => source === 'seating') ?? false).toBe(false);
    // Set down anew for each of two passes it averages, left in place it does not.
    if (!isShared)
      expect(does!.by).toBeLessThan(
        seated(60, null, true).section.unstated!.find(({ source }) => source === 'seating')!.does![0]!.by,
      );
  },
);

test('a verdict holds up to the stated size of seating and is undecided beyond it, and the entry says the least of them', () => {
  const { made } = seated(1e6, null, true);
  const limit = made.interval![1] + 8;
  const { section, made: judgedOne } = seated(limit, null, true);
  const { upTo } = judgedOne.holdsUpTo!.find(({ source }) => source === 'seating')!;
  const entry = section.unstated!.find(({ source }) => source === 'seating')!;
  expect(entry.turnsAt).toBe(upTo);
  expect(judgedOne.verdict).toBe('conforms');
  expect(seated(limit, 0.8 * upTo, true).made.verdict).toBe('conforms');
  expect(seated(limit, 1.25 * upTo, true).made.verdict).toBe('undecided');
  for (const { source, turnsAt } of section.unstated!) {
    const sizes = section.characteristics.flatMap(({ holdsUpTo = [] }) =>
      holdsUpTo.filter((h) => h.source === source).map((h) => h.upTo),
    );
    expect(turnsAt).toBe(sizes.length === 0 ? null : Math.min(...sizes));
  }
});
