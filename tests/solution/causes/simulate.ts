/**
 * Surveys with a known truth and, at will, one fault: planned designs of invented rails, read by instruments that are as good as they
 * claim. Independent of the hypotheses: faults are planted in the planes, in the targets or in the typed sheet.
 */
import type { Axis, Job, Rail, Setup, Target } from '../../../src/survey/job/job.js';
import type { CauseKind } from '../../../src/solution/causes/hypothesis.js';
import type {
  OffsetReading,
  PointRef,
  Reading,
  SlopeReading,
} from '../../../src/survey/readings/readings.js';
import { createGenerator, type RandomGenerator } from '../../../src/base/statistics/random.js';
import { job as jobOf, laser, rail as railOf, setup as setupOf } from '../../support/jobs.js';

export interface Simulated {
  readonly job: Job;
  readonly readings: Reading[];
  /** Ids of hypotheses that are the planted fault, as patterns; any of them named is right. */
  readonly truth: readonly RegExp[];
  readonly kind: CauseKind | 'none' | 'two';
}

/** One look at a target: what the crew planned. */
export interface Look {
  readonly setup: string;
  readonly point: PointRef;
  readonly target: string;
  readonly axes: readonly Axis[];
  readonly pass: number;
}

interface Design {
  readonly job: (random: RandomGenerator) => Job;
  readonly looks: (job: Job) => Look[];
}

const ARCSEC = 4.848;
const at = (point: PointRef, job: Job) => {
  const place =
    point.kind === 'station'
      ? job.rails.find(({ id }) => id === point.rail)!.stations[point.station - 1]!
      : job.monuments.find(({ id }) => id === point.monument)!;
  return { x: place.alongMm / 1000, y: place.acrossMm / 1000 };
};
const station = (rail: string, n: number): PointRef => ({ kind: 'station', rail, station: n });
const monument = (id: string): PointRef => ({ kind: 'monument', monument: id });

/** Forth in odd passes, back in even ones. */
const run = (setup: string, rail: Rail, pass: number, from = 1, to = rail.stations.length): Look[] => {
  const numbers = rail.stations.map((s) => s.number).filter((n) => n >= from && n <= to);
  if (pass % 2 === 0) numbers.reverse();
  return numbers.map((n) => ({
    setup,
    point: station(rail.id, n),
    target: 'T1',
    axes: ['vertical', 'horizontal'],
    pass,
  }));
};
const tie = (setup: string, rail: string, n: number, pass: number, target = 'T1'): Look => ({
  setup,
  point: station(rail, n),
  target,
  axes: ['vertical'],
  pass,
});
const sight = (setup: string, id: string, pass: number): Look => ({
  setup,
  point: monument(id),
  target: 'T3',
  axes: ['along'],
  pass,
});

const PLACES = Array.from({ length: 12 }, (_, k) => 800 * k);
const LENGTH = PLACES.at(-1)!;
const rails = () => [railOf('A', 0, PLACES, { datum: true }), railOf('B', 2800, PLACES)];
const side = (random: RandomGenerator) => (random.nextUniform() < 0.5 ? 1 : -1) as 1 | -1;
const signsOf = (random: RandomGenerator): Setup['sign'] => ({
  vertical: side(random),
  horizontal: side(random),
  along: side(random),
});
const far = [
  { id: 'M1', alongMm: LENGTH + 900, acrossMm: 400 },
  { id: 'M2', alongMm: LENGTH + 900, acrossMm: 2500 },
];
const near = [
  { id: 'M3', alongMm: LENGTH + 1100, acrossMm: -500 },
  { id: 'M4', alongMm: LENGTH + 700, acrossMm: 3500 },
];
const meter = () => laser({ readingU: 1.5, perMetreU: 0.3, levelU: ARCSEC, squareU: ARCSEC });

/** A rail from each of two set-ups, with ties and monuments. */
function carried(more: { passes: number; turned: boolean; monuments: number }): Design {
  return {
    job: (random) =>
      jobOf({
        rails: rails(),
        monuments: more.monuments === 4 ? [...far, ...near] : far,
        instruments: [meter()],
        setups: [
          setupOf('S1', -700, 500, { sign: signsOf(random) }),
          setupOf('S2', more.turned ? LENGTH + 700 : -700, 2500, {
            sign: signsOf(random),
            headingDeg: more.turned ? 180 : 0,
          }),
        ],
      }),
    looks: (job) =>
      job.setups.flatMap(({ id }, k) =>
        Array.from({ length: more.passes }, (_, p) => p + 1).flatMap((pass) => [
          ...job.monuments.map((m) => sight(id, m.id, pass)),
          ...(k === 1 ? [1, 6, 12].map((n) => tie(id, 'A', n, pass)) : []),
          ...(k === 1 && more.monuments === 4 ? [3, 9].map((n) => tie(id, 'A', n, pass, 'T2')) : []),
          ...run(id, job.rails[k]!, pass),
          ...(k === 0 && more.monuments === 4 ? [3, 9].map((n) => tie(id, 'A', n, pass, 'T2')) : []),
        ]),
      ),
  };
}

/** Both rails from either end. */
const bothEnds: Design = {
  job: (random) =>
    jobOf({
      rails: rails(),
      monuments: [
        { id: 'M1', alongMm: -1500, acrossMm: -600 },
        { id: 'M2', alongMm: -1500, acrossMm: 3300 },
        { id: 'M3', alongMm: LENGTH + 1500, acrossMm: -500 },
        { id: 'M4', alongMm: LENGTH + 1500, acrossMm: 3200 },
      ],
      instruments: [meter()],
      setups: [
        setupOf('S1', -800, 1100, { sign: signsOf(random) }),
        setupOf('S2', LENGTH + 800, 1700, { sign: signsOf(random), headingDeg: 180 }),
      ],
    }),
  looks: (job) =>
    job.setups.flatMap(({ id }) =>
      [1, 2].flatMap((pass) => [
        ...job.monuments.map((m) => sight(id, m.id, pass)),
        ...job.rails.flatMap((rail) => run(id, rail, pass)),
      ]),
    ),
};

/** A long pair of rails in three legs. */
const legs: Design = {
  job: (random) =>
    jobOf({
      rails: [0, 2400].map((across, k) =>
        railOf(
          k === 0 ? 'A' : 'B',
          across,
          Array.from({ length: 24 }, (_, n) => 750 * n),
          k === 0 ? { datum: true } : {},
        ),
      ),
      instruments: [meter()],
      setups: [-500, 6500, 12500].map((along, k) =>
        setupOf(`S${k + 1}`, along, 1200, { sign: signsOf(random), headingDeg: k === 2 ? 180 : 0 }),
      ),
    }),
  looks: (job) =>
    job.setups.flatMap(({ id }, k) =>
      [1, 2].flatMap((pass) =>
        job.rails.flatMap((rail) => run(id, rail, pass, 1 + 7 * k, Math.min(24, 10 + 7 * k))),
      ),
    ),
};

/** Two rails in one shot from the middle, three passes. */
const oneShot: Design = {
  job: (random) =>
    jobOf({
      rails: rails(),
      instruments: [meter()],
      setups: [setupOf('S1', LENGTH / 2, 1400, { sign: signsOf(random) })],
    }),
  looks: (job) => [1, 2, 3].flatMap((pass) => job.rails.flatMap((rail) => run('S1', rail, pass))),
};

/** The two-monument survey with everything stated: zero of the level, seating, cone, air, scale. */
const stated: Design = {
  job: (random) => {
    const plain = carried({ passes: 2, turned: true, monuments: 4 }).job(random);
    return {
      ...plain,
      instruments: [{ ...plain.instruments[0]!, levelZeroU: 10, coneU: 1 }],
      targets: ['T1', 'T2', 'T3'].map((id): Target => ({
        id,
        serial: null,
        scaleU: 0.002,
        rollU: null,
        seatU: 2,
        rodMm: null,
      })),
      setups: plain.setups.map((s) => ({
        ...s,
        air: [{ rail: null, vertical: { value: 0, u: 0.1 }, sideways: null }],
      })),
    };
  },
  looks: (job) => carried({ passes: 2, turned: true, monuments: 4 }).looks(job),
};

/** A level there and back, both rails and across; three passes. */
const slopes: Design = {
  job: () =>
    jobOf({
      rails: rails(),
      instruments: [
        laser({ id: 'E1', measures: 'slope', readingU: 2, perMetreU: 0, levelU: null, squareU: null }),
      ],
      setups: [],
    }),
  looks: () => [],
};

export const designs = {
  'two monuments': carried({ passes: 2, turned: false, monuments: 2 }),
  'four monuments': carried({ passes: 2, turned: true, monuments: 4 }),
  'both ends': bothEnds,
  legs,
  'one shot': oneShot,
  stated,
  'one pass': carried({ passes: 1, turned: false, monuments: 2 }),
  slopes,
} as const;
export type DesignName = keyof typeof designs;

const K503 = (503 * 1013.25) / 293.15 ** 2;

/** A survey as it went, without a fault but those that `planted` puts into it while it is read. */
interface Plan {
  readonly job: Job;
  readonly looks: readonly Look[];
  readonly random: RandomGenerator;
}

/** What a planted fault does, look by look. */
export interface Disturbance {
  /** Added to what the plane of a set-up gives (µm, before the sign), by the number of the look within the set-up. */
  readonly plane?: (where: {
    look: Look;
    axis: Axis;
    n: number;
    count: number;
    x: number;
    y: number;
    hours: number;
    dx: number;
    dy: number;
  }) => number;
  /** Of a set-up: its pitch and roll off, µm/m. */
  readonly level?: (setup: string) => readonly [number, number];
  readonly zero?: readonly [number, number];
  readonly noise?: number;
  /** Departure of a station, µm; left out: a bent rail is invented. */
  readonly place?: PlaceOf;
}
export type PlaceOf = (rail: string, station: number, axis: Axis) => number;

export function readAll({ job, looks, random }: Plan, how: Disturbance): OffsetReading[] {
  const z = new Map<string, number>();
  const keep = (map: Map<string, number>, key: string, size: number) => {
    const known = map.get(key);
    if (known !== undefined) return known;
    const value = size * random.nextNormal();
    map.set(key, value);
    return value;
  };
  const bends = job.rails.map(() => [random.nextNormal(), random.nextNormal(), random.nextNormal()] as const);
  const shape = (rail: string, x: number, axis: Axis) => {
    const k = job.rails.findIndex(({ id }) => id === rail);
    const t = x / 10;
    const [a, b, c] = bends[k]!;
    return axis === 'vertical'
      ? 60 * a * t * (1 - t) + 15 * b * Math.sin(7 * t) + 40 * c * t + keep(z, `h${rail}`, 40)
      : 40 * b * t * (1 - t) + 12 * c * Math.sin(5 * t + a);
  };
  const drawn = new Map<string, number>();
  const scaleOf = new Map((job.targets ?? []).map((t) => [t.id, t.scaleU === null ? 0 : t.scaleU]));
  let minute = 8 * 60;
  const counts = new Map<string, number>();
  const start = new Map<string, number>();
  const total = new Map<string, number>();
  for (const look of looks) total.set(look.setup, (total.get(look.setup) ?? 0) + 1);
  let row = 1;
  return looks.flatMap((look) => {
    minute += 1;
    row += 1;
    const setup = job.setups.find(({ id }) => id === look.setup)!;
    const instrument = job.instruments.find(({ id }) => id === setup.instrument)!;
    const n = counts.get(look.setup) ?? 0;
    counts.set(look.setup, n + 1);
    if (n === 0) start.set(look.setup, minute);
    const { x, y } = at(look.point, job);
    const dx = x - setup.alongMm / 1000;
    const dy = y - setup.acrossMm / 1000;
    const d = Math.hypot(dx, dy);
    const s = setup.id;
    const turn = (setup.headingDeg * Math.PI) / 180;
    const zp =
      how.zero?.[0] ?? (instrument.levelZeroU === null ? 0 : keep(drawn, 'zp', instrument.levelZeroU));
    const zr =
      how.zero?.[1] ?? (instrument.levelZeroU === null ? 0 : keep(drawn, 'zr', instrument.levelZeroU));
    const off = how.level?.(s) ?? [0, 0];
    const pitch =
      keep(drawn, `p${s}`, instrument.levelU!) + off[0] + Math.cos(turn) * zp - Math.sin(turn) * zr;
    const roll =
      keep(drawn, `q${s}`, instrument.levelU!) + off[1] + Math.sin(turn) * zp + Math.cos(turn) * zr;
    const yaw = keep(drawn, `y${s}`, 40);
    const line = look.point.kind === 'station' ? look.point.rail : look.point.monument;
    const gradient = setup.air[0]?.vertical ? keep(drawn, `g${s}`, setup.air[0].vertical.u) : 0;
    const bend = setup.air.length > 0 ? (0.5e6 * K503 * (gradient + 0.0343) * d * d) / 6.371e6 : 0;
    const mm = Math.floor(minute / 60);
    const time = `2031-05-06T${String(mm).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
    const hours = (minute - start.get(s)!) / 60;
    return look.axes.map((axis): OffsetReading => {
      const place =
        look.point.kind === 'station'
          ? (how.place?.(line, look.point.station, axis) ?? shape(line, x, axis))
          : keep(drawn, `m${line}${axis}`, 400);
      const plane =
        axis === 'vertical'
          ? keep(drawn, `H${s}`, 300) + pitch * dx + roll * dy - bend
          : axis === 'horizontal'
            ? keep(drawn, `C${s}${line}`, 300) + yaw * dx
            : keep(drawn, `D${s}`, 300) - (yaw + keep(drawn, `e${instrument.id}`, instrument.squareU!)) * dy;
      const cone = instrument.coneU === null ? 0 : keep(drawn, `cone${axis}`, instrument.coneU) * d;
      const target = keep(drawn, `${look.target}${axis}`, 200);
      const seat = (job.targets?.[0]?.seatU ?? 0) * random.nextNormal();
      const extra = how.plane?.({ look, axis, n, count: total.get(s)!, x, y, hours, dx, dy }) ?? 0;
      const scale = 1 + keep(drawn, `scale${look.target}`, scaleOf.get(look.target) ?? 0);
      const noise =
        Math.hypot(instrument.readingU, instrument.perMetreU * d) * (how.noise ?? 1) * random.nextNormal();
      const value = setup.sign[axis] * ((place + target - plane + cone + seat + extra) * scale + noise);
      return {
        kind: 'offset',
        source: { file: 'readings/as-left.csv', row },
        pass: String(look.pass),
        time,
        note: '',
        setup: s,
        point: look.point,
        target: look.target,
        axis,
        um: Math.round(value * 100) / 100,
      };
    });
  });
}

/** @param place Departure of a station, µm; left out: bent rails are invented. */
export function readSlopes(job: Job, random: RandomGenerator, place?: PlaceOf): SlopeReading[] {
  const heights = new Map(
    job.rails.flatMap((rail) =>
      rail.stations.map(
        (s) =>
          [
            [rail.id, s.number].join(''),
            place?.(rail.id, s.number, 'vertical') ?? 30 * Math.sin(s.number) + 20 * random.nextNormal(),
          ] as const,
      ),
    ),
  );
  let row = 1;
  const read = (from: [string, number], to: [string, number], pass: number): SlopeReading => {
    const [a, b] = [from, to].map(([rail, n]) => at(station(rail, n), job)) as [
      { x: number; y: number },
      { x: number; y: number },
    ];
    const distance = Math.hypot(b.x - a.x, b.y - a.y);
    const true1 = (heights.get(to.join(''))! - heights.get(from.join(''))!) / distance;
    row += 1;
    return {
      kind: 'slope',
      source: { file: 'readings/level.csv', row },
      pass: String(pass),
      time: null,
      note: '',
      from: { rail: from[0], station: from[1] },
      to: { rail: to[0], station: to[1] },
      axis: 'vertical',
      umPerM: Math.round(100 * (true1 + job.instruments[0]!.readingU * random.nextNormal())) / 100,
      instrument: 'E1',
      sight: null,
    };
  };
  return [1, 2, 3].flatMap((pass) => [
    ...job.rails.flatMap(({ id, stations }) => {
      const steps = stations.slice(1).map((s) => s.number);
      return pass % 2 === 1
        ? steps.map((n) => read([id, n - 1], [id, n], pass))
        : [...steps].reverse().map((n) => read([id, n], [id, n - 1], pass));
    }),
    ...[1, 4, 8, 12].map((n) => read(['A', n], ['B', n], pass)),
  ]);
}

/** µm, µm/m, arc seconds, µm/h at size 1. */
const SIZE = {
  amount: 60,
  tilt: [8, 4],
  turn: 8,
  level: 15 * ARCSEC,
  zero: [6 * ARCSEC, 3 * ARCSEC],
  drift: 25,
  reading: 40,
  noise: 1.6,
} as const;

export interface Fault {
  readonly name: string;
  readonly isSized: boolean;
  /** null: this design cannot have it. */
  readonly plant: (plan: Plan, size: number) => Planted | null;
}
interface Planted {
  readonly kind: CauseKind | 'two';
  readonly truth: readonly string[];
  readonly how?: Disturbance;
  readonly sheet?: (list: OffsetReading[]) => Reading[];
}

const pick = <T>(random: RandomGenerator, list: readonly T[]): T =>
  list[Math.floor(list.length * random.nextUniform())]!;
const passesOf = (looks: readonly Look[], setup: string) => [
  ...new Set(looks.filter((l) => l.setup === setup).map((l) => l.pass)),
];
const anySetup = ({ job, random }: Plan) => pick(random, job.setups).id;
/** A pass of a set-up that was read in several; null: the set-up that was drawn was not. */
const anyPassOfSeveral = (plan: Plan): { readonly id: string; readonly pass: string } | null => {
  const id = anySetup(plan);
  const passes = passesOf(plan.looks, id);
  return passes.length < 2 ? null : { id, pass: String(pick(plan.random, passes)) };
};
const each = (
  list: readonly OffsetReading[],
  is: (r: OffsetReading) => boolean,
  change: (r: OffsetReading) => OffsetReading | null,
): OffsetReading[] =>
  list.flatMap((r) => {
    const next = is(r) ? change(r) : r;
    return next === null ? [] : [next];
  });
const lineName = ({ point }: OffsetReading) =>
  point.kind === 'station' ? point.rail : `monument ${point.monument}`;

/** A middle place of a set-up's looks in one plane, not at the beginning of a pass. */
function middle(
  { looks, random }: Plan,
  setup: string,
  axis: Axis,
  only: (look: Look) => boolean = () => true,
): number | null {
  const own = looks.filter((l) => l.setup === setup);
  const possible = own.flatMap((look, n) => {
    const before = own.slice(0, n).filter((l) => l.axes.includes(axis) && only(l));
    const after = own.slice(n).filter((l) => l.axes.includes(axis) && only(l));
    return look.axes.includes(axis) &&
      only(look) &&
      before.length >= 3 &&
      after.length >= 3 &&
      own[n - 1]!.pass === look.pass
      ? [n]
      : [];
  });
  return possible.length === 0 ? null : pick(random, possible);
}

export const faults: readonly Fault[] = [
  {
    name: 'sign of a set-up, vertical',
    isSized: false,
    plant: (plan) => {
      const id = anySetup(plan);
      return {
        kind: 'sign',
        truth: [`^sign\\|${id}\\|vertical\\|\\|`],
        sheet: (list) =>
          each(
            list,
            (r) => r.setup === id && r.axis === 'vertical',
            (r) => ({ ...r, um: -r.um }),
          ),
      };
    },
  },
  {
    name: 'sign of a set-up, horizontal',
    isSized: false,
    plant: (plan) => {
      const id = anySetup(plan);
      return {
        kind: 'sign',
        truth: [`^sign\\|${id}\\|horizontal\\|\\|`],
        sheet: (list) =>
          each(
            list,
            (r) => r.setup === id && r.axis === 'horizontal',
            (r) => ({ ...r, um: -r.um }),
          ),
      };
    },
  },
  {
    name: 'sign of a pass',
    isSized: false,
    plant: (plan) => {
      const chosen = anyPassOfSeveral(plan);
      if (chosen === null) return null;
      const { id, pass } = chosen;
      const axis = pick(plan.random, ['vertical', 'horizontal'] as const);
      return {
        kind: 'sign',
        truth: [`^sign\\|${id}\\|${axis}\\|${pass}\\|`],
        sheet: (list) =>
          each(
            list,
            (r) => r.setup === id && r.axis === axis && r.pass === pass,
            (r) => ({ ...r, um: -r.um }),
          ),
      };
    },
  },
  ...[10, 1000, 25.4, 39.37].map((f): Fault => ({
    name: `unit of a pass, ${f}`,
    isSized: false,
    plant: (plan) => {
      const chosen = anyPassOfSeveral(plan);
      if (chosen === null) return null;
      const { id, pass } = chosen;
      const axis = pick(plan.random, ['vertical', 'horizontal'] as const);
      const by = plan.random.nextUniform() < 0.5 ? f : 1 / f;
      return {
        kind: 'unit',
        truth: [`^unit\\|${id}\\|${axis}\\|${pass}\\|`],
        sheet: (list) =>
          each(
            list,
            (r) => r.setup === id && r.axis === axis && r.pass === pass,
            (r) => ({ ...r, um: r.um * by }),
          ),
      };
    },
  })),
  {
    name: 'unit of a pass of a rail, both columns',
    isSized: false,
    plant: (plan) => {
      const chosen = anyPassOfSeveral(plan);
      if (chosen === null) return null;
      const { id, pass } = chosen;
      const rail = railOfSetup(plan, id);
      const by = pick(plan.random, [1000, 25.4, 10]);
      return {
        kind: 'unit',
        truth: [`^unit\\|${id}\\|\\|${pass}\\|`],
        sheet: (list) =>
          each(
            list,
            (r) => r.setup === id && r.pass === pass && lineName(r) === rail,
            (r) => ({ ...r, um: r.um / by }),
          ),
      };
    },
  },
  {
    name: 'whole file ten times too small',
    isSized: false,
    plant: () => ({
      kind: 'unit',
      truth: ['^unit\\|offsets$'],
      sheet: (list) =>
        each(
          list,
          () => true,
          (r) => ({ ...r, um: r.um / 10 }),
        ),
    }),
  },
  {
    name: 'constant of a pass',
    isSized: true,
    plant: (plan, size) => {
      const id = anySetup(plan);
      const passes = passesOf(plan.looks, id);
      if (passes.length < 2) return null;
      const pass = pick(plan.random, passes);
      const axis = pick(plan.random, ['vertical', 'horizontal'] as const);
      const amount = size * SIZE.amount * side(plan.random);
      return {
        kind: 'constant',
        truth: [`^constant\\|${id}\\|${axis}\\|${pass}\\|$`],
        how: { plane: (w) => (w.look.setup === id && w.look.pass === pass && w.axis === axis ? amount : 0) },
      };
    },
  },
  {
    name: 'rod re-set within a pass',
    isSized: true,
    plant: (plan, size) => {
      const id = anySetup(plan);
      const from = middle(plan, id, 'vertical', (l) => l.target === 'T1');
      if (from === null) return null;
      const amount = size * SIZE.amount * side(plan.random);
      return {
        kind: 'rod',
        truth: [`^rod\\|${id}\\|vertical\\|T1\\|`],
        how: {
          plane: (w) =>
            w.look.setup === id && w.n >= from && w.axis === 'vertical' && w.look.target === 'T1'
              ? amount
              : 0,
        },
      };
    },
  },
  {
    name: 'target knocked, until the end of the pass',
    isSized: true,
    plant: (plan, size) => {
      const id = anySetup(plan);
      const axis = pick(plan.random, ['vertical', 'horizontal'] as const);
      const from = middle(plan, id, axis, (l) => l.target === 'T1');
      if (from === null) return null;
      const { pass } = plan.looks.filter((l) => l.setup === id)[from]!;
      const left = plan.looks.filter((l) => l.setup === id).slice(from);
      // Of one or two that are left it is a slip of the pen, to these readings.
      if (left.filter((l) => l.pass === pass && l.axes.includes(axis)).length < 3) return null;
      const amount = size * SIZE.amount * side(plan.random);
      const isOff = (l: Look, n: number) =>
        l.setup === id && n >= from && l.pass === pass && l.target === 'T1';
      return {
        kind: 'rod',
        truth: [`^rod\\|${id}\\|${axis}\\|T1\\|`],
        how: { plane: (w) => (w.axis === axis && isOff(w.look, w.n) ? amount : 0) },
      };
    },
  },
  {
    name: 'rod re-set between set-ups',
    isSized: true,
    plant: (plan, size) => {
      const id = plan.job.setups[1]?.id;
      if (id === undefined) return null;
      const amount = size * SIZE.amount * side(plan.random);
      const place = (setup: string) => plan.job.setups.findIndex((s) => s.id === setup);
      return {
        kind: 'rod',
        truth: [`^rod\\|${id}\\|vertical\\|T1\\|0\\|on`],
        how: {
          plane: (w) =>
            place(w.look.setup) >= 1 && w.axis === 'vertical' && w.look.target === 'T1' ? amount : 0,
        },
      };
    },
  },
  {
    name: 'monument moved between set-ups',
    isSized: true,
    plant: (plan, size) => {
      if (plan.job.monuments.length === 0) return null;
      const m = pick(plan.random, plan.job.monuments).id;
      const amount = size * SIZE.amount * side(plan.random);
      return {
        kind: 'monument',
        truth: [`^monument\\|${m}\\|S2\\|$`],
        how: {
          plane: ({ look }) =>
            look.setup === 'S2' && look.point.kind === 'monument' && look.point.monument === m ? amount : 0,
        },
      };
    },
  },
  {
    name: 'set-up tilted within a pass',
    isSized: true,
    plant: (plan, size) => {
      const id = anySetup(plan);
      const from = middle(plan, id, 'vertical');
      if (from === null) return null;
      const [p, q] = SIZE.tilt.map((t) => t * size * side(plan.random)) as [number, number];
      return {
        kind: 'tilt',
        truth: [`^tilt\\|${id}\\|`],
        how: {
          plane: (w) =>
            w.look.setup === id && w.n >= from && w.axis === 'vertical' ? -p * w.dx - q * w.dy : 0,
        },
      };
    },
  },
  {
    name: 'set-up turned within a pass',
    isSized: true,
    plant: (plan, size) => {
      const id = anySetup(plan);
      const from = middle(plan, id, 'horizontal');
      if (from === null) return null;
      const t = SIZE.turn * size * side(plan.random);
      return {
        kind: 'turn',
        truth: [`^turn\\|${id}\\|`],
        how: {
          plane: (w) =>
            w.look.setup !== id || w.n < from || w.axis === 'vertical'
              ? 0
              : w.axis === 'horizontal'
                ? -t * w.dx
                : t * w.dy,
        },
      };
    },
  },
  {
    name: 'set-up not level',
    isSized: true,
    plant: (plan, size) => {
      const id = anySetup(plan);
      const angle = 6.283 * plan.random.nextUniform();
      const off = [SIZE.level * size * Math.cos(angle), SIZE.level * size * Math.sin(angle)] as const;
      return { kind: 'level', truth: [`^level\\|${id}$`], how: { level: (s) => (s === id ? off : [0, 0]) } };
    },
  },
  {
    name: 'zero of the level',
    isSized: true,
    plant: (plan, size) => {
      if (plan.job.setups.length < 2 || plan.job.setups.every((s) => s.headingDeg === 0)) return null;
      const stated1 = plan.job.instruments[0]!.levelZeroU === null ? 1 : 3;
      return {
        kind: 'level-zero',
        truth: ['^level-zero\\|L1$'],
        how: { zero: [SIZE.zero[0] * size * stated1, SIZE.zero[1] * size * stated1] },
      };
    },
  },
  {
    name: 'drift of a plane',
    isSized: true,
    plant: (plan, size) => {
      const id = anySetup(plan);
      const axis = pick(plan.random, ['vertical', 'horizontal'] as const);
      const rate = SIZE.drift * size * side(plan.random);
      return {
        kind: 'drift',
        truth: [`^drift\\|${id}\\|${axis}$`],
        how: { plane: (w) => (w.look.setup === id && w.axis === axis ? rate * w.hours : 0) },
      };
    },
  },
  {
    name: 'columns swapped in a pass',
    isSized: false,
    plant: (plan) => {
      const chosen = anyPassOfSeveral(plan);
      if (chosen === null) return null;
      const { id, pass } = chosen;
      return {
        kind: 'columns',
        truth: [`^columns\\|${id}\\|${pass}\\|`],
        sheet: (list) => {
          const own = (r: OffsetReading) => r.setup === id && r.pass === pass && r.axis !== 'along';
          const cells = new Map(list.filter(own).map((r) => [`${r.source.row}${r.axis}`, r.um]));
          return each(list, own, (r) => ({
            ...r,
            um: cells.get(`${r.source.row}${r.axis === 'vertical' ? 'horizontal' : 'vertical'}`) ?? r.um,
          }));
        },
      };
    },
  },
  {
    name: 'rails swapped in a pass',
    isSized: false,
    plant: (plan) => {
      const id = anySetup(plan);
      const passes = passesOf(plan.looks, id);
      const read = new Set(
        plan.looks
          .filter((l) => l.setup === id && l.axes.includes('horizontal'))
          .flatMap(({ point }) => (point.kind === 'station' ? [point.rail] : [])),
      );
      if (passes.length < 2 || read.size < 2) return null;
      const pass = String(pick(plan.random, passes));
      return {
        kind: 'rails',
        truth: [`^rails\\|${id}\\|${pass}\\|`],
        sheet: (list) =>
          each(
            list,
            (r) => r.setup === id && r.pass === pass && r.point.kind === 'station',
            (r) => ({
              ...r,
              point: station(
                lineName(r) === 'A' ? 'B' : 'A',
                r.point.kind === 'station' ? r.point.station : 0,
              ),
            }),
          ),
      };
    },
  },
  {
    name: 'monuments taken for each other',
    isSized: false,
    plant: (plan) => {
      const ids = plan.job.monuments.map((m) => m.id);
      if (ids.length < 2) return null;
      const [one, other] = plan.random.nextUniform() < 0.5 ? [ids[0]!, ids[1]!] : [ids.at(-2)!, ids.at(-1)!];
      const id = anySetup(plan);
      const pass = String(pick(plan.random, passesOf(plan.looks, id)));
      return {
        kind: 'monument-ids',
        truth: [`^monument-ids\\|${id}(\\|${pass})?\\|${one}\\|${other}$`],
        sheet: (list) =>
          each(
            list,
            (r) => r.setup === id && r.pass === pass && r.point.kind === 'monument',
            (r) => {
              const m = r.point.kind === 'monument' ? r.point.monument : '';
              return { ...r, point: monument(m === one ? other : m === other ? one : m) };
            },
          ),
      };
    },
  },
  {
    name: 'targets taken for each other',
    isSized: false,
    plant: (plan) => {
      if (!plan.looks.some((l) => l.target === 'T2')) return null;
      const id = anySetup(plan);
      const pass = String(pick(plan.random, passesOf(plan.looks, id)));
      const swap = (t: string) => (t === 'T1' ? 'T2' : t === 'T2' ? 'T1' : t);
      return {
        kind: 'target-ids',
        truth: [`^target-ids\\|${id}\\|${pass}\\|`],
        sheet: (list) =>
          each(
            list,
            (r) => r.setup === id && r.pass === pass,
            (r) => ({ ...r, target: swap(r.target) }),
          ),
      };
    },
  },
  {
    name: 'order of a pass reversed',
    isSized: false,
    plant: (plan) => {
      const chosen = anyPassOfSeveral(plan);
      if (chosen === null) return null;
      const { id, pass } = chosen;
      const rail = railOfSetup(plan, id);
      return {
        kind: 'order',
        truth: [`^order\\|${id}\\|${pass}\\|${rail}`],
        sheet: (list) => {
          const own = list.filter((r) => r.setup === id && r.pass === pass && lineName(r) === rail);
          const numbers = [
            ...new Set(own.map((r) => (r.point.kind === 'station' ? r.point.station : 0))),
          ].sort((a, b) => a - b);
          const other = new Map(numbers.map((n, k) => [n, numbers[numbers.length - 1 - k]!]));
          const set = new Set(own);
          return each(
            list,
            (r) => set.has(r),
            (r) =>
              r.point.kind === 'station' ? { ...r, point: station(rail, other.get(r.point.station)!) } : r,
          );
        },
      };
    },
  },
  {
    name: 'stations of a pass counted one off',
    isSized: false,
    plant: (plan) => {
      const chosen = anyPassOfSeveral(plan);
      if (chosen === null) return null;
      const { id, pass } = chosen;
      const rail = railOfSetup(plan, id);
      const step = side(plan.random);
      return {
        kind: 'shift',
        truth: [`^shift\\|${id}\\|${pass}\\|${rail}\\|${-step}$`],
        sheet: (list) =>
          each(
            list,
            (r) => r.setup === id && r.pass === pass && lineName(r) === rail,
            (r) => {
              const n = (r.point.kind === 'station' ? r.point.station : 0) + step;
              const count = plan.job.rails.find((x) => x.id === rail)!.stations.length;
              return n < 1 || n > count ? null : { ...r, point: station(rail, n) };
            },
          ),
      };
    },
  },
  {
    name: 'one reading',
    isSized: true,
    plant: (plan, size) => {
      const off = size * SIZE.reading * side(plan.random);
      const k = Math.floor(plan.looks.length * plan.random.nextUniform());
      const axis = plan.looks[k]!.axes[0]!;
      return {
        kind: 'reading',
        truth: [`^reading\\|readings/as-left.csv\\|${k + 2}\\|${axis}$`],
        sheet: (list) =>
          each(
            list,
            (r) => r.source.row === k + 2 && r.axis === axis,
            (r) => ({ ...r, um: r.um + off }),
          ),
      };
    },
  },
  {
    name: 'one reading ten times too large',
    isSized: false,
    plant: (plan) => {
      const k = Math.floor(plan.looks.length * plan.random.nextUniform());
      const axis = plan.looks[k]!.axes[0]!;
      return {
        kind: 'reading',
        truth: [`^reading\\|readings/as-left.csv\\|${k + 2}\\|${axis}$`],
        sheet: (list) =>
          each(
            list,
            (r) => r.source.row === k + 2 && r.axis === axis,
            (r) => ({ ...r, um: r.um * 10 }),
          ),
      };
    },
  },
  {
    name: 'noise 1.6 times as stated',
    isSized: false,
    plant: () => ({ kind: 'scatter', truth: ['^scatter\\|'], how: { noise: SIZE.noise } }),
  },
  {
    name: 'two at once: a constant and a turn',
    isSized: false,
    plant: (plan) => {
      const id = anySetup(plan);
      const passes = passesOf(plan.looks, id);
      const from = middle(plan, id, 'horizontal');
      if (passes.length < 2 || from === null) return null;
      const t = SIZE.turn * side(plan.random);
      return {
        kind: 'two',
        truth: [],
        how: {
          plane: (w) =>
            w.look.setup !== id
              ? 0
              : w.axis === 'vertical'
                ? w.look.pass === passes[0]
                  ? SIZE.amount
                  : 0
                : w.n < from
                  ? 0
                  : w.axis === 'horizontal'
                    ? -t * w.dx
                    : t * w.dy,
        },
      };
    },
  },
];

/** A rail that is read from a set-up. */
const railOfSetup = (plan: Plan, setup: string): string =>
  plan.job.setups.length === 2 && !isBoth(plan) && setup === 'S1' ? 'A' : 'B';

const isBoth = ({ looks }: Plan): boolean =>
  new Set(
    looks
      .filter((l) => l.setup === 'S1' && l.axes.includes('horizontal'))
      .flatMap(({ point }) => (point.kind === 'station' ? [point.rail] : [])),
  ).size > 1;

/** @param fault null: an honest survey. @returns null where the design cannot have the fault. */
export function simulate(
  design: DesignName,
  fault: Fault | null,
  size: number,
  seed: number,
): Simulated | null {
  const random = createGenerator(seed);
  const { job: make, looks: plan } = designs[design];
  const job = make(random);
  if (design === 'slopes') {
    if (fault !== null) return null;
    return { job, readings: readSlopes(job, random), truth: [], kind: 'none' };
  }
  const looks = plan(job);
  // What is planted is drawn by itself: without it the survey is the same to the last digit.
  const planted = fault?.plant({ job, looks, random: createGenerator(seed + 0x5eed) }, size) ?? null;
  if (fault !== null && planted === null) return null;
  const list = readAll({ job, looks, random }, planted?.how ?? {});
  return {
    job,
    readings: planted?.sheet?.(list) ?? list,
    truth: (planted?.truth ?? []).map((text) => new RegExp(text)),
    kind: planted?.kind ?? 'none',
  };
}
