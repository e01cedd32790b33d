/**
 * Honest surveys and surveys with one gross mistake, made at random: what the front door asks to be confirmed. Invented
 * rails; noise, levelling and steps of the display as the job states them.
 */
import { rm } from 'node:fs/promises';
import { inspectJob } from '../../../src/solution/intake/load-job.js';
import type { Diagnostic } from '../../../src/base/diagnostics/diagnostic.js';
import type { Axis, Job, Rail, Setup } from '../../../src/survey/job/job.js';
import type { PhaseName } from '../../../src/survey/job/job-schema.js';
import type { OffsetReading, Reading } from '../../../src/survey/readings/readings.js';
import { adjust } from '../../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { createGenerator, type RandomGenerator } from '../../../src/base/statistics/random.js';
import { filesOf } from '../../support/job-files.js';
import { folderOf } from '../../survey/job/made-up-job.js';
import { job as jobOf, laser, rail as railOf, setup as setupOf } from '../../support/jobs.js';

export interface Survey {
  readonly job: Job;
  readonly phases: Map<PhaseName, Reading[]>;
  readonly passes: number;
}

type Profile = (t: number) => number;

/** How rails lie: sags, waves, a joint, wear, all at once and of any size between a good and a bad rail. */
function profileOf(random: RandomGenerator, size: number): Profile {
  const bays = 2 + Math.floor(4 * random.nextUniform());
  const [a, b, c, d] = [random.nextNormal(), random.nextNormal(), random.nextNormal(), random.nextUniform()];
  const joint = random.nextUniform() < 0.2 ? size * 0.6 * random.nextNormal() : 0;
  const phase = 6 * random.nextUniform();
  return (t) =>
    size *
      (a * 4 * t * (1 - t) +
        0.4 * b * Math.abs(Math.sin(bays * Math.PI * t)) +
        0.5 * c * Math.sin(5 * t + phase)) +
    (t > d ? joint : 0);
}

/** A survey of two rails: in one shot, in two legs, or carried over by monuments; one to three passes; one or two phases. */
export function honestSurvey(seed: number): Survey {
  const random = createGenerator(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(list.length * random.nextUniform())]!;
  const n = 9 + Math.floor(24 * random.nextUniform());
  const spacing = pick([250, 400, 500, 750]);
  const kind = pick(['one shot', 'legs', 'carried']);
  const passes = 1 + Math.floor(3 * random.nextUniform());
  const u = pick([1, 1.5, 3]);
  const display = pick([0.1, 0.5, 1, 2.54]);
  const at = Array.from({ length: n }, (_, k) => spacing * k);
  const A = railOf('A', 0, at, { datum: true });
  const B = railOf('B', 2400, at);
  const length = spacing * (n - 1);
  const side = () => (random.nextUniform() < 0.5 ? 1 : -1) as 1 | -1;
  const place = (id: string, along: number, across: number): Setup => ({
    ...setupOf(id, along, across),
    sign: { vertical: side(), horizontal: side(), along: 1 },
  });
  const setups =
    kind === 'one shot'
      ? [place('S1', -600, 1200)]
      : kind === 'legs'
        ? [place('S1', -600, 1200), place('S2', length + 600, 1200)]
        : [place('S1', -600, 300), place('S2', -600, 2100)];
  const monuments =
    kind === 'carried'
      ? [
          { id: 'M1', alongMm: length + 800, acrossMm: 400 },
          { id: 'M2', alongMm: length + 800, acrossMm: 2000 },
        ]
      : [];
  // An honest instrument is up to a third better than it claims, or a tenth worse.
  const quality = 0.67 + 0.43 * random.nextUniform();
  const job = jobOf({
    rails: [A, B],
    setups,
    monuments,
    instruments: [laser({ readingU: u, perMetreU: 0.2 })],
  });
  const phases = new Map<PhaseName, Reading[]>();
  const names: PhaseName[] = random.nextUniform() < 0.6 ? ['as-found', 'as-left'] : ['as-left'];
  for (const phase of names) {
    const size = phase === 'as-found' ? 30 + 100 * random.nextUniform() : 3 + 20 * random.nextUniform();
    phases.set(phase, readPhase(job, phase, { kind, passes, u: u * quality, display, size }, random));
  }
  return { job, phases, passes };
}

interface How {
  readonly kind: string;
  readonly passes: number;
  readonly u: number;
  readonly display: number;
  readonly size: number;
}

function readPhase(job: Job, phase: PhaseName, how: How, random: RandomGenerator): Reading[] {
  const { kind, passes, u, display, size } = how;
  const list: Reading[] = [];
  const monumentPlaces = new Map(job.monuments.map(({ id }) => [id, 500 * random.nextNormal()]));
  const profiles = new Map<string, Profile>();
  for (const rail of job.rails)
    for (const axis of ['vertical', 'horizontal'])
      profiles.set(`${rail.id}${axis}`, profileOf(random, axis === 'vertical' ? size : 0.7 * size));
  let row = 1;
  for (const setup of job.setups) {
    const [height, pitch, roll] = [
      300 * random.nextNormal(),
      4 * random.nextNormal(),
      4 * random.nextNormal(),
    ];
    const [yaw, square] = [30 * random.nextNormal(), 300 * random.nextNormal()];
    const rails = kind === 'carried' ? [job.rails[setup.id === 'S1' ? 0 : 1]!] : job.rails;
    const push = (
      reading: Omit<OffsetReading, 'kind' | 'source' | 'time' | 'note' | 'setup' | 'um'>,
      value: number,
      far: number,
    ) => {
      const noise = Math.hypot(u, 0.2 * far) * random.nextNormal();
      const um = display * Math.round((setup.sign[reading.axis] * (value + noise)) / display);
      row++;
      list.push({
        kind: 'offset',
        source: { file: `readings/${phase}.csv`, row },
        time: null,
        note: '',
        setup: setup.id,
        um,
        ...reading,
      });
    };
    const far = (alongMm: number, acrossMm: number) =>
      Math.hypot(alongMm - setup.alongMm, acrossMm - setup.acrossMm) / 1000;
    const readStation = (rail: Rail, k: number, axis: Axis, pass: string) => {
      const { alongMm, acrossMm } = rail.stations[k]!;
      const t = k / (rail.stations.length - 1);
      const [dx, dy] = [(alongMm - setup.alongMm) / 1000, (acrossMm - setup.acrossMm) / 1000];
      const lies =
        profiles.get(`${rail.id}${axis}`)!(t) + (rail.id === 'B' && axis === 'vertical' ? size : 0);
      const value = axis === 'vertical' ? lies - height - pitch * dx - roll * dy : lies - 100 - yaw * dx;
      push(
        { point: { kind: 'station', rail: rail.id, station: k + 1 }, target: 'T1', axis, pass },
        value,
        far(alongMm, acrossMm),
      );
    };
    for (let pass = 1; pass <= passes; pass++) {
      if (kind === 'carried') {
        for (const m of job.monuments) {
          const dy = (m.acrossMm - setup.acrossMm) / 1000;
          push(
            { point: { kind: 'monument', monument: m.id }, target: 'T3', axis: 'along', pass: String(pass) },
            monumentPlaces.get(m.id)! - square + yaw * dy,
            far(m.alongMm, m.acrossMm),
          );
        }
        if (setup.id === 'S2') readStation(job.rails[0]!, 0, 'vertical', String(pass));
      }
      for (const rail of rails) {
        const n = rail.stations.length;
        const [from, to] =
          kind !== 'legs' ? [0, n] : setup.id === 'S1' ? [0, Math.ceil(0.65 * n)] : [Math.floor(0.35 * n), n];
        for (let k = from; k < to; k++)
          for (const axis of ['vertical', 'horizontal'] as const) readStation(rail, k, axis, String(pass));
      }
    }
  }
  return list;
}

export interface Mistake {
  readonly name: string;
  /** null: this survey cannot have it. */
  readonly plant: (survey: Survey, random: RandomGenerator) => Survey | null;
  /** What is said if the right cause is named: of a finding, its code and words. */
  readonly named: RegExp;
}

const last = ({ phases }: Survey): Reading[] => phases.get('as-left')!;
const isSame = (a: readonly Reading[], b: readonly Reading[]): boolean =>
  a.length === b.length && a.every((r, i) => r === b[i]);
const withLast = (survey: Survey, list: Reading[]): Survey => ({
  ...survey,
  phases: new Map([...survey.phases].map(([name, own]) => [name, name === 'as-left' ? list : own])),
});
const each = (list: readonly Reading[], change: (r: OffsetReading) => OffsetReading | null): Reading[] =>
  list.flatMap((r) => {
    const changed = r.kind === 'offset' ? change(r) : r;
    return changed === null ? [] : [changed];
  });
const ofPass = (r: OffsetReading, pass: string, rail: string, axis: Axis, setup: string) =>
  r.pass === pass &&
  r.setup === setup &&
  r.axis === axis &&
  r.point.kind === 'station' &&
  r.point.rail === rail;

/** One pass of one rail and axis, in the last set-up that reads it. */
function onePass(
  survey: Survey,
  random: RandomGenerator,
  change: (r: OffsetReading) => OffsetReading | null,
): Survey | null {
  if (survey.passes < 2) return null;
  const axis: Axis = random.nextUniform() < 0.5 ? 'vertical' : 'horizontal';
  const setup = survey.job.setups.at(-1)!.id;
  const pass = String(1 + Math.floor(survey.passes * random.nextUniform()));
  const changed = each(last(survey), (r) => (ofPass(r, pass, 'B', axis, setup) ? change(r) : r));
  return isSame(changed, last(survey)) ? null : withLast(survey, changed);
}

export const mistakes: readonly Mistake[] = [
  {
    name: 'as left typed in mm under a job in µm',
    plant: (s) =>
      withLast(
        s,
        each(last(s), (r) => ({ ...r, um: r.um / 1000 })),
      ),
    named: /UNIT_IMPLAUSIBLE.* in mm \(|1000 times too small|PHASE_UNIT_SUSPECT.*mm and µm/,
  },
  {
    name: 'as left typed in thou under a job in µm',
    plant: (s) =>
      withLast(
        s,
        each(last(s), (r) => ({ ...r, um: r.um / 25.4 })),
      ),
    named: /UNIT_IMPLAUSIBLE.* in thou \(|25\.4 times too small|PHASE_UNIT_SUSPECT.*thou and µm/,
  },
  {
    name: 'as left in µm under a job in thou',
    plant: (s) => ({
      ...withLast(
        s,
        each(last(s), (r) => ({ ...r, um: r.um * 25.4 })),
      ),
      job: { ...s.job, readingUnit: 'thou' },
    }),
    named:
      /UNIT_IMPLAUSIBLE.* in µm \(|25\.4 times too large, as if they were in µm|PHASE_UNIT_SUSPECT.*µm and thou/,
  },
  {
    name: 'one pass with its sign turned',
    plant: (s, random) => onePass(s, random, (r) => ({ ...r, um: -r.um })),
    named: /have the other sign/,
  },
  {
    name: 'one pass in another unit',
    plant: (s, random) => onePass(s, random, (r) => ({ ...r, um: r.um / 25.4 })),
    named: /25\.4 times too small, as if they were in thou|UNIT_SUSPECT.*thou and µm/,
  },
  {
    name: 'one pass copied from another',
    plant: (s, random) => {
      if (s.passes < 2) return null;
      const values = new Map<string, number>();
      const key = (r: OffsetReading) => `${r.setup}|${r.axis}|${JSON.stringify(r.point)}`;
      void random;
      for (const r of last(s)) if (r.kind === 'offset' && r.pass === '1') values.set(key(r), r.um);
      return withLast(
        s,
        each(last(s), (r) => (r.pass === '2' ? { ...r, um: values.get(key(r)) ?? r.um } : r)),
      );
    },
    named: /PASSES_IDENTICAL|ROWS_COPIED/,
  },
  {
    name: 'as left is the mirror of as found',
    plant: (s, random) => {
      const found = s.phases.get('as-found');
      if (found === undefined) return null;
      // What is straight is no mirror of anything.
      const copied = each(found, (r) => ({
        ...r,
        um: -r.um + random.nextNormal(),
        source: { ...r.source, file: 'readings/as-left.csv' },
      }));
      return withLast(s, copied);
    },
    named: /PHASES_MIRRORED/,
  },
  {
    name: 'as left is as found once more',
    plant: (s) => {
      const found = s.phases.get('as-found');
      if (found === undefined) return null;
      return withLast(
        s,
        each(found, (r) => ({ ...r, source: { ...r.source, file: 'readings/as-left.csv' } })),
      );
    },
    named: /ROWS_COPIED|FILES_IDENTICAL/,
  },
  {
    name: 'a set-up’s plus is wrong, where legs overlap',
    plant: (s) => {
      if (s.job.monuments.length > 0 || s.job.setups.length < 2) return null;
      const wrong = each(last(s), (r) =>
        r.setup === 'S2' && r.axis === 'vertical' ? { ...r, um: -r.um } : r,
      );
      // Where the legs overlap too little, or where the rail is too straight, the readings do not tell.
      const misfit = (list: readonly Reading[]) =>
        adjust(buildNetwork(s.job, list)).chiSquare?.statistic ?? 0;
      return misfit(wrong) - misfit(last(s)) > 60 ? withLast(s, wrong) : null;
    },
    named: /vertical readings from S2 have the other sign/,
  },
  {
    name: 'one pass all zeros',
    plant: (s, random) => onePass(s, random, (r) => ({ ...r, um: 0 })),
    named: /READINGS_CONSTANT/,
  },
  {
    name: 'knocked by 80 µm half way along one pass',
    plant: (s, random) => {
      const from = 3 + Math.floor((s.job.rails[0]!.stations.length - 6) * random.nextUniform());
      return onePass(s, random, (r) =>
        r.point.kind === 'station' && r.point.station > from ? { ...r, um: r.um + 80 } : r,
      );
    },
    named: /READINGS_STEP|READING_STANDS_OUT|was re-set or slipped|all off by one amount/,
  },
  {
    name: 'station 6 typed as 7',
    plant: (s, random) =>
      onePass(s, random, (r) =>
        r.point.kind === 'station' && r.point.station === 6 ? { ...r, point: { ...r.point, station: 7 } } : r,
      ) ?? null,
    named: /STATIONS_MISSING/,
  },
  {
    name: 'a target mistyped in one row',
    plant: (s) => {
      const row = last(s).find(
        (r) => r.kind === 'offset' && r.point.kind === 'station' && r.point.station === 4,
      )!.source.row;
      return withLast(
        s,
        each(last(s), (r) => (r.source.row === row ? { ...r, target: 'T9' } : r)),
      );
    },
    named: /TARGET_ONCE/,
  },
];

/** All that the front door says of a survey, written as a job folder. */
export async function lookAt({ job, phases }: Survey): Promise<readonly Diagnostic[]> {
  const folder = await folderOf(filesOf(job, phases));
  const { diagnostics } = await inspectJob(folder);
  await rm(folder, { recursive: true });
  return diagnostics;
}
