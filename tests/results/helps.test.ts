/**
 * What would make an undecided interval narrower. The independent value is the survey itself: read as the remedy says,
 * and judged; or, where no reading checks another, the share of the variance that the budget gives to its source.
 */
import { describe, expect, test } from 'vitest';
import type { Job, Setup } from '../../src/survey/job/job.js';
import type { OffsetReading } from '../../src/survey/readings/readings.js';
import { adjustPhase } from '../../src/results/adjusted-phase.js';
import { phaseSection } from '../../src/results/phase-section.js';
import type { CharacteristicResult, Remedy } from '../../src/results/results-schema.js';
import { job, laser, limitUm, normal, rail, seeded, setup, tolerance } from '../support/jobs.js';

const STATIONS = Array.from({ length: 11 }, (_, k) => 1000 * k);

const straight = (limit: number) =>
  tolerance({ what: 'straightness-vertical', rail: 'A', limit: limitUm(limit) });

function read(setups: readonly Setup[], passes: number, placing: string | null = null): OffsetReading[] {
  const next = seeded(5);
  const shape = STATIONS.map((x) => 20 * Math.sin(x / 1500) + normal(next));
  return setups.flatMap(({ id }) =>
    Array.from({ length: passes }, (_, p) =>
      (['vertical', 'horizontal'] as const).flatMap((axis) =>
        STATIONS.map((_x, k): OffsetReading => ({
          kind: 'offset',
          source: { file: 'r.csv', row: k + 2 },
          pass: String(p),
          time: null,
          note: '',
          setup: id,
          point: { kind: 'station', rail: 'A', station: k + 1 },
          target: 'T1',
          ...(placing !== null && { placing: `${placing}${k}` }),
          axis,
          um: axis === 'vertical' ? shape[k]! : 300 + 60 * shape[k]!,
        })),
      ),
    ).flat(),
  );
}

function survey(parts: Partial<Job>, passes = 1, placing: string | null = null): CharacteristicResult {
  const setups = parts.setups ?? [setup('S1', -1000, 500)];
  const all = job({
    rails: [rail('A', 0, STATIONS, { datum: true, ...parts.rails?.[0] })],
    decision: { rule: 'guarded', coverage: 0.95, guardBand: 1 },
    ...parts,
    setups,
  });
  // The limit is the value itself, so that the verdict is undecided.
  const value = phaseSection(all, adjustPhase(all, read(setups, passes, placing))).characteristics.find(
    ({ what }) => what === 'straightness-vertical',
  )!.value!;
  const judged = { ...all, toleranceSet: { ...all.toleranceSet, tolerances: [straight(value)] } };
  return phaseSection(judged, adjustPhase(judged, read(setups, passes, placing))).characteristics.find(
    ({ limit }) => limit !== null,
  )!;
}

const by = ({ helps }: CharacteristicResult, way: Remedy): number =>
  helps!.ways.find((one) => one.way === way)?.narrower ?? Number.NaN;

describe('each remedy beside the survey that it asks for', () => {
  const air = [{ rail: null, vertical: { value: 0, u: 0.2 }, sideways: null }];
  const atEnd = setup('S1', -1000, 500, { air });

  test('readings alone: twice as many passes take 1 − 1/√2', () => {
    const now = survey({
      setups: [setup('S1', -1000, 500)],
      instruments: [laser({ perMetreU: 0, levelU: 5 })],
    });
    expect(by(now, 'more-passes')).toBeCloseTo(1 - Math.SQRT1_2, 10);
    expect(
      survey({ setups: [setup('S1', -1000, 500)], instruments: [laser({ perMetreU: 0 })] }, 2).u,
    ).toBeCloseTo(now.u! * Math.SQRT1_2, 10);
    expect(now.helps!.needed).toBeCloseTo(1, 10);
  });

  test('the other end', () => {
    const now = survey({ setups: [atEnd] });
    const then = survey({ setups: [atEnd, setup('S2', 11_000, 500, { air })] });
    expect(by(now, 'other-end')).toBeGreaterThan(0.3);
    expect(by(now, 'other-end')).toBeCloseTo(1 - then.u! / now.u!, 8);
  });

  test('the middle', () => {
    const now = survey({ setups: [atEnd] });
    const then = survey({ setups: [setup('S1', 5000, 500, { air })] });
    expect(by(now, 'middle')).toBeCloseTo(1 - then.u! / now.u!, 8);
    expect(then.helps!.ways.map(({ way }) => way)).not.toContain('middle');
  });

  test('the one that helps most stands first, and none that helps little is told', () => {
    const { ways } = survey({ setups: [atEnd] }).helps!;
    expect(ways.length).toBeGreaterThan(1);
    const shares = ways.map(({ narrower }) => narrower);
    expect(shares).toEqual([...shares].sort((a, b) => b - a));
    expect(Math.min(...shares)).toBeGreaterThanOrEqual(0.05);
  });
});

describe('where no reading checks another, a halved source leaves a quarter of its share', () => {
  const share = (now: CharacteristicResult, source: keyof CharacteristicResult['budget']) =>
    now.budget[source] ?? Number.NaN;
  const target = { id: 'T1', serial: null, scaleU: null, rollU: null, seatU: null, rodMm: null };

  test('air', () => {
    const air = [{ rail: null, vertical: { value: 0, u: 0.5 }, sideways: null }];
    const now = survey({ setups: [setup('S1', -1000, 500, { air })] });
    expect(by(now, 'even-air')).toBeCloseTo(1 - Math.sqrt(1 - 0.75 * share(now, 'air')), 8);
  });

  test('scale of the target, taken away', () => {
    const now = survey({ targets: [{ ...target, scaleU: 0.2 }] });
    expect(share(now, 'target-scale')).toBeGreaterThan(0.5);
    expect(by(now, 'centred-target')).toBeCloseTo(1 - Math.sqrt(1 - share(now, 'target-scale')), 8);
  });

  test('roll of the target: turned over, it is gone and every reading is there twice', () => {
    const now = survey({ targets: [{ ...target, rollU: 5000 }] });
    const left = 1 - share(now, 'target-roll');
    expect(left).toBeLessThan(0.9);
    expect(by(now, 'turned-target')).toBeCloseTo(1 - Math.sqrt(left / 2), 8);
  });

  test('seating shared by three passes, against one for each', () => {
    const one = { targets: [{ ...target, seatU: 4 }], instruments: [laser({ perMetreU: 0 })] };
    const now = survey(one, 3, 'P');
    const then = survey(one, 3);
    expect(by(now, 'own-placings')).toBeCloseTo(1 - then.u! / now.u!, 8);
  });

  test('a bow of the rail', () => {
    const thermal = { heightMm: 300, topWarmerByK: 0, expansion: 11.5e-6, u: 0.3 };
    const now = survey({ rails: [rail('A', 0, STATIONS, { datum: true, thermal })] });
    expect(by(now, 'known-temperature')).toBeCloseTo(1 - Math.sqrt(1 - 0.75 * share(now, 'temperature')), 8);
  });
});

test('nothing is told of what is decided, or has no limit', () => {
  const all = job({ rails: [rail('A', 0, STATIONS, { datum: true })], setups: [setup('S1', -1000, 500)] });
  const judged = { ...all, toleranceSet: { ...all.toleranceSet, tolerances: [straight(1000)] } };
  const { characteristics } = phaseSection(judged, adjustPhase(judged, read(all.setups, 1)));
  expect(characteristics.filter(({ helps }) => helps !== undefined)).toEqual([]);
});
