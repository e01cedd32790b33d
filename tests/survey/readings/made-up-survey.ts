/** Invented surveys with everything that a crew does right, for tests to spoil one thing at a time. */
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import { normal, seeded } from '../../support/jobs.js';

export interface SurveyRow {
  setup: string;
  rail: string;
  station: number;
  target: string;
  pass: string;
  time: string;
  vertical: number;
  horizontal: number;
}

export interface MadeUpSurvey {
  readonly job: JobInput;
  rows: SurveyRow[];
}

const day = '2026-03-14';
const clock = (minutes: number): string =>
  `${day}T${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;

export interface Circumstances {
  /** True noise in units of what the instrument claims. */
  readonly noise?: number;
  /** Least step of the display, µm. */
  readonly display?: number;
  /** A step of the rails themselves, half-way, µm. */
  readonly joint?: number;
  /** Share of readings that were not taken. */
  readonly gaps?: number;
}

/**
 * Two rails read twice from each of two set-ups of one laser, in µm to a tenth, on one day. The rails bend over
 * metres, by tens of µm at most; the noise is what the instrument claims.
 */
export function madeUpSurvey(
  seed: number,
  count = 21,
  { noise = 1, display = 0.1, joint = 0, gaps = 0 }: Circumstances = {},
): MadeUpSurvey {
  const next = seeded(seed * 2654435761 + 97);
  const uniform = (from: number, to: number) => from + (to - from) * next();
  const wave = () => {
    const [a, l, f] = [uniform(2, 25), uniform(4, 14), uniform(0, 6)];
    const [b, m, g] = [uniform(0, 5), uniform(1.8, 4), uniform(0, 6)];
    const slope = uniform(-8, 8);
    const step = (x: number) => (x > count / 4 ? joint : 0);
    return (x: number) =>
      a * Math.sin(x / l + f) + b * Math.sin((2 * Math.PI * x) / m + g) + slope * x + step(x);
  };
  const rails = { A: { y: 0, z: wave(), o: wave() }, B: { y: 3.2, z: wave(), o: wave() } };
  const setups = [
    { id: 'S1', x: -0.6, y: 0.4, right: 1 },
    { id: 'S2', x: -0.6, y: 2.8, right: -1 },
  ];
  const rows: SurveyRow[] = [];
  let minutes = 8 * 60;
  for (const { id, x, y, right } of setups) {
    const [h, p, yaw] = [uniform(-60, 60), uniform(-5, 5), uniform(-5, 5)];
    for (const pass of ['1', '2']) {
      for (const [rail, { y: across, z, o }] of Object.entries(rails)) {
        const order = Array.from({ length: count }, (_, k) => k);
        for (const k of pass === '1' ? order : order.reverse()) {
          const at = k * 0.5;
          const u = Math.hypot(1.5, 0.3 * Math.hypot(at - x, across - y));
          const read = (value: number) =>
            Number((Math.round((value + noise * u * normal(next)) / display) * display).toFixed(3));
          if (next() < gaps) continue;
          rows.push({
            setup: id,
            rail,
            station: k + 1,
            target: 'T1',
            pass,
            time: clock(++minutes),
            vertical: read(z(at) - h - p * at),
            horizontal: read(right * (o(at) + 12 - yaw * at)),
          });
        }
      }
    }
    minutes += 30;
  }
  return { job: surveyJob(count), rows };
}

const surveyJob = (count: number): JobInput => ({
  format: 'waysheet-job/1',
  id: 'T-2',
  units: { length: 'mm', reading: 'um' },
  surveyed: { on: day },
  rails: [
    { id: 'A', name: 'North rail', datum: true, across: 0, stations: { first: 0, spacing: 500, count } },
    { id: 'B', name: 'South rail', across: 3200, stations: { first: 0, spacing: 500, count } },
  ],
  instruments: [
    {
      id: 'L1',
      calibrationDue: '2026-09-30',
      reading: { u: 1.5, perMetre: 0.3, unit: 'um' },
      level: { u: 1, unit: 'arcsec' },
      range: { limit: 12.7, unit: 'mm' },
    },
  ],
  setups: [
    { id: 'S1', instrument: 'L1', along: -600, across: 400, levelled: true },
    { id: 'S2', instrument: 'L1', along: -600, across: 2800, levelled: true, plus: { horizontal: 'right' } },
  ],
  readings: [{ file: 'readings/as-left.csv', phase: 'as-left' }],
});

export const COLUMNS = [
  'setup',
  'rail',
  'station',
  'target',
  'pass',
  'time',
  'vertical',
  'horizontal',
] as const;

export const csvOf = (rows: readonly SurveyRow[]): string =>
  [COLUMNS.join(','), ...rows.map((row) => COLUMNS.map((column) => String(row[column])).join(','))].join(
    '\n',
  ) + '\n';
