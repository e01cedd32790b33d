/** The surveys and rail shapes of the coverage study. */
import type { Question } from '../../src/solution/characteristics/question.js';
import type { Axis, Job, Rail } from '../../src/survey/job/job.js';
import type { Reading } from '../../src/survey/readings/readings.js';
import { crossRail, job, laser, localTolerance, rail, setup, tolerance } from '../support/jobs.js';

/** What tells the questions of drawings from those that every job is asked. */
export const conditionsOf = (q: Question): string[] =>
  [q.rails && 'group', q.against && `against ${q.against}`, q.between && 'working length', q.side].flatMap(
    (condition) => (condition === undefined ? [] : [condition]),
  );

/** Rows of a survey without their readings: the study fills those in from a true rail and noise. */
export interface PlannedSurvey {
  readonly name: string;
  readonly job: Job;
  readonly rows: readonly Reading[];
}

/** Stations, mm: evenly spaced; and with gaps, no two of them alike. */
export const even = (count: number, spacing = 600): number[] =>
  Array.from({ length: count }, (_, k) => spacing * k);
export const uneven = (count: number): number[] =>
  Array.from({ length: count }, (_, k) => 500 * k + 130 * (k % 3) + (k > count / 2 ? 1700 : 0));

class Plan {
  readonly rows: Reading[] = [];
  private common(pass: number) {
    return { source: { file: 'r.csv', row: this.rows.length + 2 }, pass: String(pass), time: null, note: '' };
  }
  station(id: string, rail: string, station: number, axis: Axis, pass: number) {
    this.rows.push({
      kind: 'offset',
      ...this.common(pass),
      setup: id,
      point: { kind: 'station', rail, station },
      target: 'T1',
      axis,
      um: 0,
    });
  }
  monument(id: string, monument: string, pass: number) {
    this.rows.push({
      kind: 'offset',
      ...this.common(pass),
      setup: id,
      point: { kind: 'monument', monument },
      target: 'T3',
      axis: 'along',
      um: 0,
    });
  }
  rail(id: string, on: Rail, axes: readonly Axis[], passes: number, from = 1, to = on.stations.length) {
    for (let pass = 1; pass <= passes; pass++) {
      for (let k = from; k <= to; k++) for (const axis of axes) this.station(id, on.id, k, axis, pass);
    }
  }
  slope(from: string, a: number, to: string, b: number, axis: Axis, sight: string | null) {
    this.rows.push({
      kind: 'slope',
      ...this.common(1),
      from: { rail: from, station: a },
      to: { rail: to, station: b },
      axis,
      umPerM: 0,
      instrument: 'E1',
      sight,
    });
  }
  span(station: number) {
    this.rows.push({
      kind: 'span',
      ...this.common(1),
      rail: 'A',
      other: 'B',
      station,
      otherStation: station,
      departureUm: 0,
      nominalMm: 3000,
      instrument: 'R1',
    });
  }
}

const railsAt = (at: readonly number[]): [Rail, Rail] => [
  rail('A', 0, [...at], { datum: true }),
  rail('B', 3000, [...at]),
];
const planes: readonly Axis[] = ['vertical', 'horizontal'];
const level = laser({ id: 'E1', measures: 'slope', readingU: 3, perMetreU: 0, levelU: null, squareU: null });
const tracker = laser({ id: 'R1', readingU: 4, perMetreU: 1, levelU: null, squareU: null });
const instruments = [laser(), level, tracker];
const toleranceSet = {
  name: null,
  source: null,
  file: null,
  grade: null,
  basedOn: [],
  tolerances: [localTolerance('vertical', 2400), localTolerance('horizontal', 2400)],
};

const of = (at: readonly number[]): string => (at.length === 11 ? '' : `, ${at.length} stations`);

export function oneShot(passes: number, at = even(11)): PlannedSurvey {
  const [A, B] = railsAt(at);
  const plan = new Plan();
  plan.rail('S1', A, planes, passes);
  plan.rail('S1', B, planes, passes);
  return {
    name: `both rails in one shot, ${passes} pass${passes === 1 ? '' : 'es'}${of(at)}`,
    job: job({ rails: [A, B], instruments, setups: [setup('S1', -600, 1500)], toleranceSet }),
    rows: plan.rows,
  };
}

export function carriedOver(at = even(11)): PlannedSurvey {
  const [A, B] = railsAt(at);
  const plan = new Plan();
  for (const m of ['M1', 'M2']) for (const pass of [1, 2]) plan.monument('S1', m, pass);
  plan.rail('S1', A, planes, 2);
  for (const m of ['M1', 'M2']) for (const pass of [1, 2]) plan.monument('S2', m, pass);
  for (const pass of [1, 2]) plan.station('S2', 'A', 1, 'vertical', pass);
  plan.rail('S2', B, planes, 2);
  const monuments = [
    { id: 'M1', alongMm: 1500, acrossMm: -1500 },
    { id: 'M2', alongMm: 1500, acrossMm: 4500 },
  ];
  return {
    name: `two set-ups, direction by monuments, height by one target${of(at)}`,
    job: job({
      rails: [A, B],
      monuments,
      instruments,
      setups: [setup('S1', -600, 400), setup('S2', -600, 2600)],
      toleranceSet,
    }),
    rows: plan.rows,
  };
}

export function legs(at = even(11)): PlannedSurvey {
  const [A, B] = railsAt(at);
  const n = at.length;
  // The legs share two fifths of the stations.
  const [end, start] = [Math.ceil(0.6 * n), Math.floor(0.4 * n) + 1];
  const plan = new Plan();
  for (const on of [A, B]) plan.rail('S1', on, planes, 2, 1, end);
  for (const on of [A, B]) plan.rail('S2', on, planes, 2, start, n);
  for (const k of [1, (n + 1) >> 1, n]) plan.span(k);
  return {
    name: `overlapping legs, with spans${of(at)}`,
    job: job({
      rails: [A, B],
      instruments,
      setups: [setup('S1', -600, 1500), setup('S2', at[start - 1]!, 1500)],
      toleranceSet,
    }),
    rows: plan.rows,
  };
}

export function levels(at = even(11)): PlannedSurvey {
  const [A, B] = railsAt(at);
  const n = at.length;
  const plan = new Plan();
  for (const on of [A, B]) for (let k = 1; k < n; k++) plan.slope(on.id, k, on.id, k + 1, 'vertical', null);
  for (const k of [1, n]) plan.slope('A', k, 'B', k, 'vertical', null);
  for (const on of [A, B])
    for (let k = 1; k < n; k++) plan.slope(on.id, k, on.id, k + 1, 'horizontal', `${on.id} horizontal`);
  return {
    name: `level steps along and across, autocollimator steps${of(at)}`,
    job: job({ rails: [A, B], instruments, toleranceSet }),
    rows: plan.rows,
  };
}

export function withCrossRail(): PlannedSurvey {
  const [A] = railsAt(even(11));
  const C = crossRail('C', 6500, [200, 600, 1000, 1400, 1800, 2200, 2600]);
  const plan = new Plan();
  plan.rail('S1', A, planes, 1);
  plan.rail('S1', C, ['vertical', 'along'], 2);
  return {
    name: 'rail and cross rail in one shot',
    job: job({ rails: [A, C], instruments, setups: [setup('S1', -600, 1500)], toleranceSet }),
    rows: plan.rows,
  };
}

/** A hall with still air, a plane that is a cone, and targets with a scale and a roll: all of it stated. */
function hall(at: number[], airKPerM: number): PlannedSurvey {
  const { job: plain, rows } = oneShot(2, at);
  const middle = at[at.length >> 1]!;
  const air = { rail: null, vertical: { value: 0, u: airKPerM }, sideways: { value: 0, u: airKPerM / 3 } };
  return {
    name: `both rails in one shot from the middle, air of ±${airKPerM} K/m, cone, scale, roll, ${at.length} stations`,
    job: {
      ...plain,
      instruments: [laser({ coneU: 3 }), level, tracker],
      targets: [{ id: 'T1', serial: null, scaleU: 0.003, rollU: 2000, seatU: 2, rodMm: null }],
      setups: [setup('S1', middle, 1500, { air: [air] })],
    },
    rows,
  };
}

/** Four rails, two of them of two parts, with what drawings ask of them: groups, sides, joints, working lengths. */
export function fourRails(): PlannedSurvey {
  const at = even(11);
  const jointsMm = [3300];
  const rails = [
    rail('A', 0, at, { datum: true }),
    rail('B', 2500, at, { jointsMm }),
    rail('C', 5200, at),
    rail('D', 7600, at, { jointsMm }),
  ];
  const group = { rails: ['A', 'B', 'C', 'D'] };
  const plan = new Plan();
  for (const on of rails) plan.rail('S1', on, planes, 2);
  return {
    name: 'four rails in one shot, as drawings ask',
    job: job({
      rails,
      instruments,
      setups: [setup('S1', 3000, 3800)],
      toleranceSet: {
        ...toleranceSet,
        tolerances: [
          tolerance({ what: 'coplanarity', ...group }),
          tolerance({ what: 'coplanarity', reference: 'minimum-zone', ...group }),
          tolerance({ what: 'parallelism-vertical', ...group }),
          tolerance({ what: 'height-difference', ...group }),
          tolerance({ what: 'parallelism-horizontal', rail: 'D', against: 'B' }),
          tolerance({ what: 'straightness-vertical', rail: 'A', side: 'convex' }),
          tolerance({ what: 'straightness-horizontal', rail: 'C', betweenMm: [1000, 5000] }),
          tolerance({ what: 'joint-step-vertical', rail: 'B' }),
          tolerance({ what: 'joint-slope-horizontal', rail: 'D' }),
          tolerance({ what: 'rate-of-change-vertical', rail: 'C', overMm: 1200 }),
        ],
      },
    }),
    rows: plan.rows,
  };
}

export const surveys: readonly PlannedSurvey[] = [
  oneShot(1),
  oneShot(3),
  carriedOver(),
  legs(),
  levels(),
  withCrossRail(),
];

/** Of the enlarged part of the study. */
export const longerSurveys: readonly PlannedSurvey[] = [
  oneShot(1, even(25)),
  carriedOver(even(25)),
  legs(even(41)),
  oneShot(2, uneven(17)),
  hall(even(41), 0.3),
  hall(even(41), 1),
  fourRails(),
];

/** True departures (µm) of a rail from straight, by share along its length; `roll` seeds what is random in it. */
export interface Shape {
  readonly name: string;
  readonly profile: (n: number, normal: () => number) => number[];
}

const along = (n: number, f: (t: number) => number): number[] =>
  Array.from({ length: n }, (_, k) => f(k / (n - 1)));

export const shapes: readonly Shape[] = [
  { name: 'perfect', profile: (n) => along(n, () => 0) },
  { name: 'slight bow, 2 µm', profile: (n) => along(n, (t) => 8 * t * (1 - t)) },
  { name: 'ordinary wave, ±5 µm', profile: (n) => along(n, (t) => 5 * Math.sin(2.6 * Math.PI * t + 0.7)) },
  {
    name: 'rough, 4 µm at random',
    profile: (n, normal) => along(n, () => 4 * normal()),
  },
  {
    name: 'random walk',
    profile: (n, normal) => {
      let sum = 0;
      return along(n, () => (sum += 5 * normal()));
    },
  },
  {
    name: 'bad: bow of 60 µm and a bump',
    profile: (n) => along(n, (t) => 240 * t * (1 - t) + (Math.abs(t - 0.7) < 0.06 ? 25 : 0)),
  },
];

/** Shapes that rails have from how they lie; of the enlarged part of the study. */
export const laidShapes: readonly Shape[] = [
  {
    name: 'sags between five supports, 20 µm',
    profile: (n) => along(n, (t) => 20 * Math.abs(Math.sin(4 * Math.PI * t))),
  },
  { name: 'teeth, 12 µm', profile: (n) => Array.from({ length: n }, (_, k) => (k % 5 === 2 ? 12 : 0)) },
  { name: 'one step of 15 µm', profile: (n) => along(n, (t) => (t > 0.55 ? 15 : 0)) },
  {
    name: 'bow of 30 µm and one bad station',
    profile: (n) => along(n, (t) => 120 * t * (1 - t)).map((v, k) => (k === n >> 1 ? v + 15 : v)),
  },
];
