/** Resolved jobs for tests, with everything that a test does not care about filled in. */
import type { Limit } from '../../src/survey/job/job.js';
import type { Instrument, Job, Rail, Setup, Tolerance } from '../../src/survey/job/job.js';

export const rail = (
  id: string,
  acrossMm: number,
  atMm: readonly number[],
  more: Partial<Rail> = {},
): Rail => ({
  id,
  name: null,
  datum: false,
  direction: 'along',
  thermal: null,
  tiltU: null,
  jointsMm: [],
  nominal: null,
  stiffness: null,
  weight: null,
  stations: atMm.map((alongMm, k) => ({ number: k + 1, alongMm, acrossMm })),
  ...more,
});

export const crossRail = (id: string, alongMm: number, atMm: readonly number[]): Rail => ({
  id,
  name: null,
  datum: false,
  direction: 'across',
  thermal: null,
  tiltU: null,
  jointsMm: [],
  nominal: null,
  stiffness: null,
  weight: null,
  stations: atMm.map((acrossMm, k) => ({ number: k + 1, alongMm, acrossMm })),
});

export const laser = (more: Partial<Instrument> = {}): Instrument => ({
  id: 'L1',
  description: null,
  serial: null,
  certificate: null,
  calibrationDue: null,
  calibrated: { by: null, on: null },
  readingU: 1.5,
  resolution: null,
  perMetreU: 0.3,
  measures: 'length',
  levelU: 5,
  levelZeroU: null,
  coneU: null,
  squareU: 5,
  driftU: null,
  rangeLimit: null,
  ...more,
});

export const setup = (id: string, alongMm: number, acrossMm: number, more: Partial<Setup> = {}): Setup => ({
  id,
  instrument: 'L1',
  alongMm,
  acrossMm,
  levelled: true,
  drift: false,
  sign: { vertical: 1, horizontal: 1, along: 1 },
  signAssumed: [],
  headingDeg: 0,
  air: [],
  note: null,
  ...more,
});

export function job(parts: Partial<Job> & Pick<Job, 'rails'>): Job {
  const rails = parts.rails;
  return {
    id: 'T-1',
    language: 'en',
    title: null,
    issuer: null,
    customer: null,
    site: null,
    machine: { name: null, serial: null },
    surveyed: { by: null, on: null },
    prepared: { by: null, on: null },
    approved: { by: null, on: null, role: null },
    contacts: { issuer: null, customer: null },
    revision: null,
    procedure: null,
    externalProviders: [],
    conditions: { temperatureC: null, note: null },
    phases: ['as-found', 'as-left'].map((name) => ({
      name,
      surveyed: { by: null, on: null },
      temperatureC: null,
      note: null,
      machineState: null,
      instruments: [],
    })),
    lengthUnit: 'mm',
    readingUnit: 'um',
    style: { length: 'mm', deviation: 'um', slope: 'um/m', paper: 'A4' },
    datum: rails.find((r) => r.datum) ?? rails[0]!,
    monuments: [],
    instruments: [laser()],
    setups: [],
    targets: null,
    readingsFiles: [],
    toleranceSet: { name: null, source: null, file: null, grade: null, basedOn: [], tolerances: [] },
    corrections: { earthCurvature: false, spanAt20: null },
    confirmed: [],
    adjusters: [],
    rods: [],
    aim: {
      want: 'fewest-moves',
      margin: 0,
      untouched: [],
      timeLimitS: null,
      responseU: null,
      leastUm: 10,
      datum: 'stays',
    },
    decision: { rule: 'simple', coverage: 0.95, guardBand: 1 },
    ...parts,
  };
}

export const limitUm = (limit: number): Limit => ({ stated: limit, unit: 'um', lengthUnit: 'mm' });

/** A tolerance with a limit that nothing exceeds, where `parts` say no other. */
export const tolerance = (parts: Partial<Tolerance> & Pick<Tolerance, 'what'>): Tolerance => ({
  rail: null,
  reference: null,
  limit: limitUm(1000),
  zone: null,
  against: null,
  rails: null,
  betweenMm: null,
  side: null,
  rule: null,
  overMm: null,
  at: { file: 'job.json', column: 'tolerances' },
  ...parts,
});

/** Local straightness of every rail. */
export const localTolerance = (plane: 'vertical' | 'horizontal', overMm: number): Tolerance =>
  tolerance({ what: `straightness-${plane}-local`, overMm });

/** A small seeded generator for test data; the product's own generator is under test itself. */
export function seeded(seed: number): () => number {
  let s = seed >>> 0;
  return () => {
    s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
    return s / 2 ** 32;
  };
}

export const normal = (next: () => number): number => {
  let sum = 0;
  for (let i = 0; i < 12; i++) sum += next();
  return sum - 6;
};
