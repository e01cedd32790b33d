/** Surveys of any length with the usual set-ups, for scale: two rails, two set-ups, carried over. */
import type { Job } from '../../src/survey/job/job.js';
import type { OffsetReading, Reading, SlopeReading } from '../../src/survey/readings/readings.js';
import { job, laser, normal, rail, seeded, setup } from './jobs.js';

/** @param stations On each of two rails. */
export function longSurvey(stations: number, passes: number): { job: Job; readings: Reading[] } {
  const next = seeded(stations + passes);
  const at = Array.from({ length: stations }, (_, k) => k * 100);
  const survey = job({
    rails: [rail('A', 0, at, { datum: true }), rail('B', 3200, at)],
    monuments: [
      { id: 'M1', alongMm: 1000, acrossMm: -1600 },
      { id: 'M2', alongMm: 1000, acrossMm: 4800 },
    ],
    instruments: [laser({ perMetreU: 0.01 })],
    setups: [setup('S1', -600, 400), setup('S2', -600, 2800)],
  });
  const readings: OffsetReading[] = [];
  const read = (
    id: string,
    point: OffsetReading['point'],
    axis: OffsetReading['axis'],
    pass: number,
    um: number,
  ) =>
    readings.push({
      kind: 'offset',
      source: { file: 'readings/long.csv', row: readings.length + 2 },
      pass: String(pass),
      time: null,
      note: '',
      setup: id,
      point,
      target: 'T1',
      axis,
      um: um + 1.5 * normal(next),
    });
  for (let pass = 1; pass <= passes; pass++) {
    for (const [id, on] of [
      ['S1', 'A'],
      ['S2', 'B'],
    ] as const) {
      for (let k = 1; k <= stations; k++) {
        const shape = 20 * Math.sin((9 * k) / stations);
        for (const axis of ['vertical', 'horizontal'] as const)
          read(id, { kind: 'station', rail: on, station: k }, axis, pass, shape);
      }
      for (const monument of ['M1', 'M2']) read(id, { kind: 'monument', monument }, 'along', pass, 0);
    }
    read('S2', { kind: 'station', rail: 'A', station: 1 }, 'vertical', pass, 0);
  }
  return { job: survey, readings };
}

/**
 * Two rails stepped along with a level and an autocollimator, and levelled across at their ends.
 *
 * @param stations On each rail.
 */
export function longSlopeSurvey(stations: number): { job: Job; readings: Reading[] } {
  const next = seeded(stations);
  const at = Array.from({ length: stations }, (_, k) => k * 100);
  const readings: SlopeReading[] = [];
  type End = SlopeReading['from'];
  const step = (from: End, to: End, axis: SlopeReading['axis'], sight: string | null) =>
    readings.push({
      kind: 'slope',
      source: { file: 'readings/slopes.csv', row: readings.length + 2 },
      pass: '1',
      time: null,
      note: '',
      from,
      to,
      axis,
      umPerM: 3 * normal(next),
      instrument: 'E1',
      sight,
    });
  for (const id of ['A', 'B']) {
    for (let k = 1; k < stations; k++) {
      const [here, ahead] = [
        { rail: id, station: k },
        { rail: id, station: k + 1 },
      ];
      step(here, ahead, 'vertical', null);
      step(here, ahead, 'horizontal', `${id} horizontal`);
    }
  }
  for (const k of [1, stations]) step({ rail: 'A', station: k }, { rail: 'B', station: k }, 'vertical', null);
  const level = laser({
    id: 'E1',
    measures: 'slope',
    readingU: 3,
    perMetreU: 0,
    levelU: null,
    squareU: null,
  });
  return {
    job: job({
      rails: [rail('A', 0, at, { datum: true }), rail('B', 3200, at)],
      instruments: [laser(), level],
    }),
    readings,
  };
}

/** The same survey, its job stating everything that is common to many readings. */
export function statingEffects(plain: Job, readings: readonly Reading[]): Job {
  const targets = new Set(readings.flatMap((r) => (r.kind === 'offset' ? [r.target] : [])));
  return {
    ...plain,
    targets: [...targets].map((id) => ({
      id,
      serial: null,
      scaleU: 0.001,
      rollU: 500,
      seatU: 0.5,
      rodMm: 100,
    })),
    instruments: plain.instruments.map((one) => ({ ...one, coneU: 1, levelZeroU: 2 })),
    setups: plain.setups.map((one) => ({
      ...one,
      air: [{ rail: null, vertical: { value: 0.1, u: 0.1 }, sideways: { value: 0, u: 0.05 } }],
    })),
    rails: plain.rails.map((one) => ({
      ...one,
      tiltU: 5,
      thermal: { heightMm: 300, topWarmerByK: 0.1, expansion: 1.15e-5, u: 0.1 },
    })),
  };
}
