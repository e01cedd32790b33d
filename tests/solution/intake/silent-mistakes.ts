/**
 * An invented survey of two rails as a job folder holds it, honest and with one mistake each that leaves every cell
 * readable; what a person would want to be asked or told. Sizes are common practice, no source.
 */
import { createGenerator } from '../../../src/base/statistics/random.js';

/* eslint-disable @typescript-eslint/no-explicit-any -- tests change job files at will */
export interface Folder {
  job: any;
  /** Rows by file. */
  rows: Map<string, Row[]>;
}

export interface Row {
  setup: string;
  rail: string;
  station: number | '';
  monument: string;
  target: string;
  pass: number;
  time: string;
  vertical: number | '';
  horizontal: number | '';
  along: number | '';
  use: string;
  note: string;
}

const STATIONS = 13;
const SPACING = 500;

/** Two set-ups, both rails from either, one or two passes forth and back, two phases, an outlier that was left out and read again. */
export function honestFolder(seed: number): Folder {
  const random = createGenerator(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(list.length * random.nextUniform())]!;
  const passes = pick([2, 2, 3]);
  const u = pick([1.5, 2, 3]);
  const seat = random.nextUniform() < 0.3 ? pick([2, 4]) : 0;
  const side = () => pick([1, -1]);
  const signs = { S1: { v: side(), h: side() }, S2: { v: side(), h: side() } };
  const phases = ['as-found', 'as-left'];
  const stations = { first: 0, spacing: SPACING, count: STATIONS };
  const plus = (s: { v: number; h: number }) => ({
    vertical: s.v > 0 ? 'up' : 'down',
    horizontal: s.h > 0 ? 'left' : 'right',
    along: 'ahead',
  });
  const job: any = {
    format: 'waysheet-job/1',
    id: `SIL-${seed}`,
    units: { length: 'mm', reading: 'um' },
    surveyed: { by: 'the test', on: '2026-03-16' },
    rails: [
      { id: 'A', datum: true, across: 0, stations: { ...stations } },
      { id: 'B', across: 2000, stations: { ...stations } },
    ],
    monuments: [
      { id: 'M1', along: 6800, across: 400 },
      { id: 'M2', along: 6800, across: 1600 },
    ],
    instruments: [
      {
        id: 'L1',
        reading: { u, perMetre: 0.3, unit: 'um' },
        level: { u: 1, unit: 'arcsec' },
        square: { u: 1, unit: 'arcsec' },
        range: { limit: 12.7, unit: 'mm' },
      },
    ],
    targets: [{ id: 'T1', ...(seat > 0 && { seat: { u: seat, unit: 'um' } }) }, { id: 'T3' }],
    setups: [
      { id: 'S1', instrument: 'L1', along: -600, across: 300, levelled: true, plus: plus(signs.S1) },
      { id: 'S2', instrument: 'L1', along: -600, across: 1700, levelled: true, plus: plus(signs.S2) },
    ],
    readings: phases.map((phase) => ({ file: `readings/${phase}.csv`, phase })),
    tolerances: [
      { what: 'straightness-vertical', limit: 40, unit: 'um' },
      { what: 'straightness-horizontal', limit: 40, unit: 'um' },
      { what: 'parallelism-vertical', rail: 'B', limit: 60, unit: 'um' },
      { what: 'parallelism-horizontal', rail: 'B', limit: 60, unit: 'um' },
      { what: 'level-along', limit: 60, unit: 'um/m' },
    ],
  };
  const rows = new Map<string, Row[]>();
  const places = new Map(['M1', 'M2'].map((id) => [id, 400 * random.nextNormal()]));
  for (const phase of phases) {
    const size = phase === 'as-found' ? 60 : 12;
    const day = phase === 'as-found' ? '2026-03-14' : '2026-03-16';
    const shape = new Map(
      ['Av', 'Ah', 'Bv', 'Bh'].map((key) => [
        key,
        [random.nextNormal(), random.nextNormal(), random.nextNormal(), random.nextNormal()] as const,
      ]),
    );
    const lies = (key: string, k: number) => {
      const t = k / (STATIONS - 1);
      const [a, b, c, d] = shape.get(key)!;
      return size * (0.3 * a * 4 * t * (1 - t) + 0.2 * b * Math.sin(6 * t + c) + 0.2 * d * t);
    };
    const list: Row[] = [];
    let minute = 0;
    const time = () => {
      minute++;
      return `${day}T${String(8 + Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
    };
    const row = (parts: Partial<Row>): Row => ({
      setup: '',
      rail: '',
      station: '',
      monument: '',
      target: 'T1',
      pass: 1,
      time: time(),
      vertical: '',
      horizontal: '',
      along: '',
      use: '',
      note: '',
      ...parts,
    });
    const round = (v: number) => Math.round(10 * v) / 10;
    for (const [setup, rail, x] of [
      ['S1', 'A', 300],
      ['S2', 'B', 1700],
    ] as const) {
      const sign = signs[setup];
      const [h, p, q, yaw, square, c] = [
        200 * random.nextNormal(),
        4 * random.nextNormal(),
        4 * random.nextNormal(),
        20 * random.nextNormal(),
        200 * random.nextNormal(),
        100 * random.nextNormal(),
      ];
      const noise = (d: number, seats: number) =>
        Math.hypot(0.9 * u, 0.3 * d) * random.nextNormal() + seats * random.nextNormal();
      const vertical = (of: string, k: number) => {
        const [dx, dy] = [(SPACING * k + 600) / 1000, ((of === 'A' ? 0 : 2000) - x) / 1000];
        return round(sign.v * (lies(`${of}v`, k) - h - p * dx - q * dy + noise(dx, seat)));
      };
      for (let pass = 1; pass <= passes; pass++) {
        for (const [id, y] of [
          ['M1', 400],
          ['M2', 1600],
        ] as const)
          list.push(
            row({
              setup,
              monument: id,
              target: 'T3',
              pass,
              along: round(places.get(id)! - square + (yaw * (y - x)) / 1000 + noise(7.4, 0)),
            }),
          );
        if (setup === 'S2')
          list.push(row({ setup, rail: 'A', station: 1, pass, vertical: vertical('A', 0) }));
        // Forth and back.
        const order = Array.from({ length: STATIONS }, (_, k) => (pass % 2 === 1 ? k : STATIONS - 1 - k));
        for (const k of order) {
          const dx = (SPACING * k + 600) / 1000;
          const horizontal = round(sign.h * (lies(`${rail}h`, k) - c - yaw * dx + noise(dx, seat)));
          list.push(row({ setup, rail, station: k + 1, pass, vertical: vertical(rail, k), horizontal }));
        }
      }
    }
    // A knocked target, left out and read again.
    const knocked = list.findIndex((r) => r.rail === 'B' && r.station === 7);
    const was = list[knocked]!;
    list.splice(knocked, 0, {
      ...was,
      vertical: Number(was.vertical) + 300,
      use: 'no',
      note: 'knocked, read again',
    });
    rows.set(`readings/${phase}.csv`, list);
  }
  return { job, rows };
}

export const csvOf = (rows: readonly Row[]): string => {
  const keys = [
    'setup',
    'rail',
    'station',
    'monument',
    'target',
    'pass',
    'time',
    'vertical',
    'horizontal',
    'along',
    'use',
    'note',
  ] as const;
  return `${[
    keys.join(','),
    ...rows.map((r) =>
      keys
        .map((key) => `${r[key]}`)
        .map((t) => (t.includes(',') ? `"${t}"` : t))
        .join(','),
    ),
  ].join('\n')}\n`;
};

export interface Silent {
  readonly mistake: string;
  readonly make: (f: Folder) => void;
  /** How the worst of what names it is graded, and its code (one of). */
  readonly ends: readonly ['asked' | 'told', ...string[]];
}

const LEFT = 'readings/as-left.csv';
const left = (f: Folder): Row[] => f.rows.get(LEFT)!;
const keep = (f: Folder, isKept: (r: Row) => boolean) => f.rows.set(LEFT, left(f).filter(isKept));
const isOf = (r: Row, rail: string, setup: string) => r.rail === rail && r.setup === setup;
const unread = (mistake: string, isGone: (r: Row) => boolean): Silent => ({
  mistake,
  make: (f) => keep(f, (r) => !isGone(r)),
  ends: ['asked', 'STATIONS_UNREAD'],
});
const limit = (mistake: string, what: string, value: number, unit: string): Silent => ({
  mistake,
  make: (f) =>
    Object.assign(
      f.job.tolerances.find((t: any) => t.what === what),
      { limit: value, unit },
    ),
  ends: ['asked', 'LIMIT_IMPLAUSIBLE'],
});
const spacing = (mistake: string, a: number, b: number): Silent => ({
  mistake,
  make: (f) => {
    f.job.rails[0].stations.spacing = a;
    f.job.rails[1].stations.spacing = b;
  },
  ends: ['asked', 'GEOMETRY_IMPLAUSIBLE'],
});
const setupAt = (mistake: string, parts: object): Silent => ({
  mistake,
  make: (f) => Object.assign(f.job.setups[1], parts),
  ends: ['asked', 'GEOMETRY_IMPLAUSIBLE'],
});
const ofPass2 = (
  mistake: string,
  change: (r: Row, k: number, first: Row) => void,
  ...ends: string[]
): Silent => ({
  mistake,
  make: (f) => {
    const own = left(f).filter((r) => isOf(r, 'B', 'S2') && r.use === '');
    const [first, second] = [own.filter((r) => r.pass === 1), own.filter((r) => r.pass === 2)];
    second.forEach((r, k) =>
      change(
        r,
        k,
        first.find((one) => one.station === r.station)!,
      ),
    );
  },
  ends: ['asked', ...ends],
});
const monumentLost = (monument: string, setup: string): Silent => ({
  mistake: `all rows of ${monument} lost in ${setup}`,
  make: (f) => keep(f, (r) => !(r.monument === monument && r.setup === setup)),
  ends: ['told', 'MONUMENT_UNREAD'],
});
const timesOf = (f: Folder, file: string, change: (time: string) => string) => {
  for (const r of f.rows.get(file)!) r.time = change(r.time);
};

export const silentMistakes: readonly Silent[] = [
  unread('rail B read at 3 of its 13 stations', (r) => r.rail === 'B' && Number(r.station) > 3),
  unread('the last two stations of A never read', (r) => r.rail === 'A' && Number(r.station) > 11),
  unread('the first station of B never read', (r) => r.rail === 'B' && r.station === 1),
  unread('one station in the middle of B never read', (r) => r.rail === 'B' && r.station === 6),
  unread('every second station of A only', (r) => r.rail === 'A' && Number(r.station) % 2 === 0),
  {
    mistake: 'half of rail B left out with a note',
    make: (f) => {
      for (const r of left(f))
        if (r.rail === 'B' && Number(r.station) > 6) Object.assign(r, { use: 'no', note: 'looked odd' });
    },
    ends: ['asked', 'STATIONS_UNREAD'],
  },
  {
    mistake: 'sideways of B read at 4 stations only',
    make: (f) => {
      for (const r of left(f)) if (r.rail === 'B' && Number(r.station) > 4) r.horizontal = '';
    },
    ends: ['asked', 'STATIONS_UNREAD'],
  },
  {
    mistake: 'a station more in job.json than there is',
    make: (f) => (f.job.rails[1].stations.count = 14),
    ends: ['asked', 'STATIONS_UNREAD'],
  },
  {
    mistake: 'one station in the middle of B left out with a note in every pass',
    make: (f) => {
      for (const r of left(f))
        if (r.rail === 'B' && r.station === 9) Object.assign(r, { use: 'no', note: 'weld spatter' });
    },
    ends: ['told', 'STATIONS_UNREAD'],
  },
  monumentLost('M2', 'S2'),
  monumentLost('M1', 'S2'),
  monumentLost('M1', 'S1'),
  {
    mistake: 'pass 2 of B broken off after 5 stations',
    make: (f) => keep(f, (r) => !(r.rail === 'B' && r.pass === 2 && Number(r.station) < 9)),
    ends: ['told', 'STATIONS_MISSING'],
  },
  {
    mistake: 'the file of as left under a second name in the same phase',
    make: (f) => {
      f.rows.set('readings/as-left (2).csv', left(f));
      f.job.readings.push({ file: 'readings/as-left (2).csv', phase: 'as-left' });
    },
    ends: ['asked', 'FILES_IDENTICAL'],
  },
  {
    mistake: 'the same under a second name, rows in another order',
    make: (f) => {
      f.rows.set('readings/more.csv', [...left(f)].reverse());
      f.job.readings.push({ file: 'readings/more.csv', phase: 'as-left' });
    },
    ends: ['asked', 'FILES_IDENTICAL'],
  },
  {
    mistake: 'the same under a second name, some rows dropped',
    make: (f) => {
      f.rows.set(
        'readings/more.csv',
        left(f).filter((_, k) => k % 4 !== 1),
      );
      f.job.readings.push({ file: 'readings/more.csv', phase: 'as-left' });
    },
    ends: ['asked', 'FILES_IDENTICAL'],
  },
  {
    mistake: 'as found under the name of as left',
    make: (f) => f.rows.set(LEFT, f.rows.get('readings/as-found.csv')!),
    ends: ['asked', 'FILES_IDENTICAL'],
  },
  {
    mistake: 'a station twice in one pass with another value',
    make: (f) => {
      const one = left(f).find((r) => isOf(r, 'B', 'S2') && r.station === 8 && r.pass === 1)!;
      left(f).splice(left(f).indexOf(one) + 1, 0, { ...one, vertical: Number(one.vertical) + 150 });
    },
    ends: ['asked', 'READING_REPEATED'],
  },
  {
    mistake: 'the same, off by a little more than noise makes',
    make: (f) => {
      const one = left(f).find((r) => isOf(r, 'A', 'S1') && r.station === 5 && r.pass === 1)!;
      const seat = f.job.targets[0].seat?.u ?? 0;
      const by = 8 * Math.SQRT2 * Math.hypot(f.job.instruments[0].reading.u, 0.8, seat);
      left(f).splice(left(f).indexOf(one) + 1, 0, { ...one, horizontal: Number(one.horizontal) + by });
    },
    ends: ['told', 'READING_REPEATED'],
  },
  ofPass2('a pass of equal values to eight decimals', (r) => (r.vertical = 12.34567891), 'READINGS_CONSTANT'),
  {
    mistake: 'a pass of zeros, on a display of tenths of a thou',
    make: (f) => {
      for (const r of left(f)) {
        if (r.vertical !== '') r.vertical = 2.54 * Math.round(Number(r.vertical) / 2.54);
        if (r.pass === 2 && isOf(r, 'B', 'S2')) r.vertical = 0;
      }
    },
    ends: ['asked', 'READINGS_CONSTANT'],
  },
  ofPass2(
    'a pass that is the other to the last digit',
    (r, _, one) => Object.assign(r, { vertical: one.vertical, horizontal: one.horizontal }),
    'PASSES_IDENTICAL',
  ),
  ofPass2(
    'a pass that is the other and a constant',
    (r, _, one) => (r.vertical = Math.round(10 * (Number(one.vertical) + 3.7)) / 10),
    'PASSES_IDENTICAL',
  ),
  ofPass2(
    'a pass that is the other but for the ninth digit',
    (r, k, one) => (r.horizontal = Number(one.horizontal) + (k % 2) * 1e-8),
    'PASSES_IDENTICAL',
  ),
  limit('limit 40 mm for 40 µm', 'straightness-vertical', 40, 'mm'),
  limit('limit 0.04 µm for 40 µm', 'straightness-vertical', 0.04, 'um'),
  limit('limit 40 in for 40 µm', 'straightness-horizontal', 40, 'in'),
  limit('limit 0.06 µm for 60 µm', 'parallelism-vertical', 0.06, 'um'),
  limit('limit 60 mm for 60 µm', 'parallelism-horizontal', 60, 'mm'),
  limit('limit 60 mm/m for 60 µm/m', 'level-along', 60, 'mm/m'),
  limit('limit 0.001 µm/m', 'level-along', 0.001, 'um/m'),
  spacing('spacing 50 for 500', 50, 50),
  spacing('spacing 5000 for 500', 5000, 5000),
  spacing('rail B 600 next to A 500', 500, 600),
  spacing('rail A 50 next to B 500', 50, 500),
  setupAt('a set-up 30 m along a 6 m rail', { along: 30000 }),
  setupAt('a set-up 60 m before a 6 m rail', { along: -60000 }),
  setupAt('a set-up 28 m to the side', { across: 30000 }),
  {
    mistake: 'rail B on the wrong side of rail A',
    make: (f) => (f.job.rails[1].across = -2000),
    ends: ['told', 'GEOMETRY_IMPLAUSIBLE'],
  },
  {
    mistake: 'a set-up on the wrong side of rail A',
    make: (f) => (f.job.setups[1].across = -1700),
    ends: ['told', 'GEOMETRY_IMPLAUSIBLE'],
  },
  {
    mistake: 'lengths in inches under a job in mm',
    make: (f) => {
      for (const rail of f.job.rails) rail.stations.spacing = 19.685;
    },
    ends: ['asked', 'GEOMETRY_IMPLAUSIBLE'],
  },
  {
    mistake: 'as left dated before as found',
    make: (f) => timesOf(f, LEFT, (t) => t.replace('2026-03-16', '2026-03-12')),
    ends: ['asked', 'PHASES_REVERSED'],
  },
  {
    mistake: 'the files of the two phases exchanged',
    make: (f) => {
      const found = f.rows.get('readings/as-found.csv')!;
      f.rows.set('readings/as-found.csv', left(f));
      f.rows.set(LEFT, found);
    },
    ends: ['asked', 'PHASES_REVERSED'],
  },
  {
    mistake: 'phases dated the wrong way round, readings without times',
    make: (f) => {
      for (const file of f.rows.keys()) timesOf(f, file, () => '');
      f.job.phases = {
        'as-found': { surveyed: { on: '2026-03-16' } },
        'as-left': { surveyed: { on: '2026-03-14' } },
      };
    },
    ends: ['asked', 'PHASES_REVERSED'],
  },
  {
    mistake: 'surveyed in 2062',
    make: (f) => (f.job.surveyed.on = '2062-03-16'),
    ends: ['asked', 'DATE_IMPLAUSIBLE'],
  },
  {
    mistake: 'readings of 2062',
    make: (f) => timesOf(f, LEFT, (t) => t.replace('2026', '2062')),
    ends: ['asked', 'DATE_IMPLAUSIBLE'],
  },
  {
    mistake: 'surveyed in 1926',
    make: (f) => (f.job.surveyed.on = '1926-03-16'),
    ends: ['asked', 'DATE_IMPLAUSIBLE'],
  },
  {
    mistake: 'a row left out without a reason',
    make: (f) => {
      const one = left(f).find((r) => isOf(r, 'A', 'S1') && r.station === 4)!;
      one.use = 'no';
    },
    ends: ['told', 'LEFT_OUT_WITHOUT_NOTE'],
  },
];

/** Mistakes between an earlier phase and a further one that job.json names itself. */
export const roundMistakes: readonly Silent[] = [
  {
    mistake: 'round-2 with the signs of the earlier round turned',
    make: (f) => {
      const found = f.rows.get('readings/as-found.csv')!;
      rename(f);
      f.rows.set(
        'readings/round-2.csv',
        found.map((r) => {
          const turned = (v: number | '') => (v === '' ? '' : -v);
          return { ...r, vertical: turned(r.vertical), horizontal: turned(r.horizontal), time: '' };
        }),
      );
    },
    ends: ['asked', 'PHASES_MIRRORED'],
  },
  {
    mistake: 'round-2 is the earlier round once more',
    make: (f) => {
      const found = f.rows.get('readings/as-found.csv')!;
      rename(f);
      f.rows.set('readings/round-2.csv', found);
    },
    ends: ['asked', 'FILES_IDENTICAL'],
  },
];

/** The two phases as rounds that the job names. */
function rename(f: Folder): void {
  f.rows.set('readings/round-1.csv', f.rows.get('readings/as-found.csv')!);
  f.rows.delete('readings/as-found.csv');
  f.rows.delete(LEFT);
  f.job.phases = { 'round-1': {}, 'round-2': {} };
  f.job.readings = ['round-1', 'round-2'].map((phase) => ({ file: `readings/${phase}.csv`, phase }));
}
