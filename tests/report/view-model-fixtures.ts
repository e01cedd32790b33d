/** Results documents made up for the report's tests: shapes that results-schema.ts allows, figures of a likely size. */
import type { CharacteristicName, PhaseName, ReferenceName } from '../../src/job/job-schema.js';
import { resultsSchema } from '../../src/results/results-schema.js';
import type { ChartSection, Figure } from '../../src/report/sections/pictures.js';
import type {
  CharacteristicResult,
  PhaseResults,
  Results,
  SetupResult,
  StationResult,
} from '../../src/results/results-schema.js';

/** A small seeded generator: the same documents on every machine. */
function random(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const measured = (value: number, u: number) => ({ value, u });

interface Shape {
  stations: number;
  spacingMm: number;
  /** Half height of the waves, µm. */
  waveUm: number;
  acrossMm: number;
  seed: number;
}

interface RailPhase {
  height: number[];
  offset: number[];
}

function profile(shape: Shape, scale: number, tilt: number): RailPhase {
  const next = random(shape.seed);
  const wave = (phase: number, turns: number) => (i: number) =>
    scale * shape.waveUm * Math.sin(phase + (turns * 2 * Math.PI * i) / shape.stations);
  const vertical = wave(next() * 6, 1.3);
  const horizontal = wave(next() * 6, 0.8);
  const noise = () => (next() - 0.5) * 6;
  const indices = Array.from({ length: shape.stations }, (_, i) => i);
  return {
    height: indices.map((i) => vertical(i) + tilt * i + noise()),
    offset: indices.map((i) => horizontal(i) - 0.6 * tilt * i + noise()),
  };
}

/** Residuals from the least-squares line over equally spaced places. */
function departures(y: readonly number[]): number[] {
  const n = y.length;
  const mean = y.reduce((a, b) => a + b, 0) / n;
  const middle = (n - 1) / 2;
  let sxy = 0;
  let sxx = 0;
  for (let i = 0; i < n; i++) {
    sxy += (i - middle) * (y[i]! - mean);
    sxx += (i - middle) ** 2;
  }
  const slope = sxx > 0 ? sxy / sxx : 0;
  return y.map((value, i) => value - mean - slope * (i - middle));
}

const range = (y: readonly number[]) => Math.max(...y) - Math.min(...y);
const mean = (y: readonly number[]) => y.reduce((a, b) => a + b, 0) / y.length;

interface Made {
  what: CharacteristicName;
  rail: string;
  value: number;
  u: number;
  limit: number | null;
  reference?: ReferenceName;
  over?: number;
  unit?: 'um' | 'um/m';
  signed?: boolean;
  at?: { rail: string; station: number }[];
  limitLength?: number;
}

/** A characteristic with the interval and verdict that simple acceptance gives it. */
export function characteristic(made: Made): CharacteristicResult {
  const { value, u, limit } = made;
  const outside = limit !== null && Math.abs(value) > limit;
  const margin = limit === null ? null : (limit - Math.abs(value)) / u;
  return {
    what: made.what,
    rail: made.rail,
    ...(made.reference && { reference: made.reference }),
    ...(made.over !== undefined && { over: made.over }),
    unit: made.unit ?? 'um',
    value,
    interval: [value - 2.1 * u, value + 1.8 * u],
    u,
    limit,
    verdict: limit === null ? 'reported' : outside ? 'does-not-conform' : 'conforms',
    probability: margin === null ? null : 1 / (1 + Math.exp(-1.7 * margin)),
    signed: made.signed ?? false,
    at: made.at ?? [
      { rail: made.rail, station: 3 },
      { rail: made.rail, station: 5 },
    ],
    limitLength: made.limitLength ?? null,
    budget: {
      readings: 0.55,
      distance: 0.1,
      level: 0.2,
      'direction-carry-over': 0.1,
      'target-assemblies': 0.05,
    },
  };
}

export function undeterminedCharacteristic(
  what: CharacteristicName,
  rail: string,
  limit: number | null,
): CharacteristicResult {
  return {
    what,
    rail,
    unit: 'um',
    value: null,
    why: 'rail B is not tied to rail A in height: no target assembly was read on both rails from one set-up',
    interval: null,
    u: null,
    limit,
    verdict: limit === null ? 'reported' : 'undecided',
    probability: null,
    signed: what === 'height-difference' || what === 'cross-level',
    at: [],
    limitLength: null,
    budget: {},
    ...(limit !== null && { settle: 'Read one target assembly on both rails from the same set-up.' }),
  };
}

function stationsOf(rail: string, shape: Shape, made: RailPhase, datum: RailPhase | null): StationResult[] {
  const vertical = departures(made.height);
  const horizontal = departures(made.offset);
  const middle = mean(datum ? datum.height : made.height);
  const datumOffset = datum ? datum.offset.map((y, i) => y - departures(datum.offset)[i]!) : null;
  return made.height.map((height, i) => ({
    rail,
    station: i + 1,
    along: i * shape.spacingMm,
    across: shape.acrossMm,
    height: measured(height - middle, 1.6 + 0.05 * i),
    offset: measured(
      datum ? made.offset[i]! - mean(made.offset) - (datumOffset![i]! - mean(datumOffset!)) : horizontal[i]!,
      1.9 + 0.06 * i,
    ),
    deviation: { vertical: measured(vertical[i]!, 1.2), horizontal: measured(horizontal[i]!, 1.4) },
    ...(datum && {
      difference: {
        height: measured(height - datum.height[i]!, 2.4 + 0.02 * i),
        offset: measured(made.offset[i]! - datum.offset[i]!, 3.1),
      },
    }),
  }));
}

export interface Options {
  job?: string;
  stations?: number;
  spacingMm?: number;
  acrossMm?: number;
  phases?: readonly PhaseName[];
  waveUm?: number;
  leftScale?: number;
  seed?: number;
}

/** The usual job: two rails, direction and height carried over, as found and as left. */
export function usualResults(options: Options = {}): Results {
  const count = options.stations ?? 25;
  const spacingMm = options.spacingMm ?? 500;
  const acrossMm = options.acrossMm ?? 3200;
  const base = { stations: count, spacingMm, waveUm: options.waveUm ?? 38 };
  const a: Shape = { ...base, acrossMm: 0, seed: options.seed ?? 7 };
  const b: Shape = { ...base, acrossMm, seed: (options.seed ?? 7) + 4 };
  const phases: Partial<Record<PhaseName, PhaseResults>> = {};
  for (const name of options.phases ?? (['as-found', 'as-left'] as const)) {
    const scale = name === 'as-found' ? 1 : (options.leftScale ?? 0.3);
    const tilt = name === 'as-found' ? 4 : 0.5;
    phases[name] = phaseOf(a, b, profile(a, scale, tilt), profile(b, scale, -tilt), name === 'as-left');
  }
  const last = phases['as-left'] ?? phases['as-found']!;
  const railStations = (shape: Shape) =>
    Array.from({ length: count }, (_, i) => ({
      station: i + 1,
      along: i * spacingMm,
      across: shape.acrossMm,
    }));
  const lengthMm = (count - 1) * spacingMm;
  const sights = (shape: Shape, rail: string) => [
    { rail, monument: null, along: 0, across: shape.acrossMm },
    { rail, monument: null, along: lengthMm, across: shape.acrossMm },
    { rail: null, monument: 'M1', along: lengthMm + 700, across: 700 },
  ];
  return resultsSchema.parse({
    format: 'waysheet-results/1',
    job: options.job ?? 'GM-2031',
    verdict: last.verdict,
    software: { name: 'waysheet', version: '0.1.0', method: '2026-11' },
    inputs: [
      { path: 'job.json', bytes: 4312, sha256: 'a3'.repeat(32), read: 'JSON' },
      {
        path: 'readings/as-found.csv',
        bytes: 5211,
        sha256: '5e'.repeat(32),
        read: 'UTF-8, comma, decimal point',
      },
      {
        path: 'readings/as-left.csv',
        bytes: 5308,
        sha256: '0f'.repeat(32),
        read: 'UTF-8, comma, decimal point',
      },
    ],
    settings: { rule: 'simple', coverage: 0.95, draws: 4000, seed: 'GM-2031' },
    subject: {
      title: 'Gantry mill, bed rails after regrout',
      issuer: 'Example Alignment Workshop (invented)',
      customer: 'Northfield Test Works (invented)',
      site: 'Hall 4, bay 2',
      machine: { name: 'Gantry mill 2', serial: '77-0192' },
      surveyed: { by: 'R. Example', on: '2026-03-14' },
      prepared: { by: 'J. Sample', on: '2026-03-16' },
      readingsTaken: { from: '2026-03-14', to: '2026-03-15' },
      temperatureC: { from: 19.4, to: 20.8 },
      conditionsNote: 'Machine idle for 14 h; coolant off; bridge parked at the far end.',
    },
    style: { length: 'mm', deviation: 'um', slope: 'um/m', paper: 'A4' },
    survey: {
      rails: [
        { id: 'A', name: 'Column-side rail', datum: true, direction: 'along', stations: railStations(a) },
        { id: 'B', name: 'Aisle-side rail', datum: false, direction: 'along', stations: railStations(b) },
      ],
      monuments: [
        { id: 'M1', along: lengthMm + 700, across: 700 },
        { id: 'M2', along: lengthMm + 700, across: 2600 },
      ],
      instruments: [
        {
          id: 'L1',
          description: 'rotating-plane laser with position-sensing targets',
          serial: '40117',
          certificate: 'C-2025-881',
          calibrationDue: '2026-09-30',
          overdue: false,
          measures: 'length',
          readingU: 1.5,
          perMetreU: 0.3,
          levelU: 4.848,
          squareU: 4.848,
          driftU: null,
          rangeLimit: 12700,
        },
      ],
      setups: [
        {
          id: 'S1',
          instrument: 'L1',
          along: -600,
          across: 400,
          levelled: true,
          plus: { vertical: 'up', horizontal: 'left', along: 'ahead' },
          note: null,
          sights: sights(a, 'A'),
        },
        {
          id: 'S2',
          instrument: 'L1',
          along: -600,
          across: 2800,
          levelled: true,
          plus: { vertical: 'up', horizontal: 'right', along: 'ahead' },
          note: 'moved over by crane, re-levelled',
          sights: sights(b, 'B'),
        },
      ],
    },
    toleranceSet: {
      name: 'Bed rails, finish class',
      source: 'Customer specification 118, sheet 4',
      file: null,
    },
    phases,
    excluded: [
      {
        file: 'readings/as-left.csv',
        row: 44,
        phase: 'as-left',
        what: 'S2 on B:11, pass 1',
        note: 'target knocked, read again in row 45',
      },
    ],
    warnings: [
      {
        code: 'READING_NEAR_RANGE',
        file: 'readings/as-found.csv',
        row: 31,
        column: 'horizontal',
        message:
          'the reading 10.4 mm is 82 % of the target range 12.7 mm of L1: a target’s error grows away from its centre',
      },
    ],
    curvature: { lengthMm, sagittaUm: ((lengthMm / 1000) ** 2 / (8 * 6371000)) * 1e6 },
    corrections: { earthCurvature: false, spanAt20: null, thermalBow: [] },
  });
}

function phaseOf(a: Shape, b: Shape, railA: RailPhase, railB: RailPhase, isLast: boolean): PhaseResults {
  const stations = [...stationsOf('A', a, railA, null), ...stationsOf('B', b, railB, railA)];
  const characteristics: CharacteristicResult[] = [];
  const straight = (rail: string, made: RailPhase) => {
    for (const plane of ['vertical', 'horizontal'] as const) {
      const value = range(departures(plane === 'vertical' ? made.height : made.offset));
      const what = `straightness-${plane}` as const;
      characteristics.push(
        characteristic({ what, rail, value, u: 1.7, limit: 40, reference: 'least-squares' }),
        characteristic({ what, rail, value: value * 0.94, u: 1.6, limit: null, reference: 'minimum-zone' }),
        characteristic({ what, rail, value: value * 1.09, u: 2.2, limit: null, reference: 'end-points' }),
      );
    }
    const local = range(departures(made.height)) * 0.35;
    characteristics.push(
      characteristic({
        what: 'straightness-vertical-local',
        rail,
        value: local,
        u: 1.5,
        limit: rail === 'A' ? 15 : null,
        over: 1000,
      }),
      characteristic({
        what: 'level-along',
        rail,
        value: (railA.height.at(-1)! - railA.height[0]!) / 10,
        u: 1.1,
        limit: null,
        unit: 'um/m',
        signed: true,
        at: [],
      }),
    );
  };
  straight('A', railA);
  straight('B', railB);
  const height = railB.height.map((z, i) => z - railA.height[i]!);
  const offset = railB.offset.map((y, i) => y - railA.offset[i]!);
  const widest = height.reduce((most, z) => (Math.abs(z) > Math.abs(most) ? z : most), 0);
  characteristics.push(
    characteristic({
      what: 'parallelism-vertical',
      rail: 'B',
      value: range(height),
      u: 2.3,
      limit: 50,
      limitLength: 10000,
    }),
    characteristic({ what: 'parallelism-horizontal', rail: 'B', value: range(offset), u: 2.9, limit: 50 }),
    characteristic({
      what: 'height-difference',
      rail: 'B',
      value: widest,
      u: 3.4,
      limit: null,
      signed: true,
      at: [{ rail: 'B', station: 21 }],
    }),
    characteristic({
      what: 'cross-level',
      rail: 'B',
      value: widest / 3.2,
      u: 1.1,
      limit: 20,
      unit: 'um/m',
      signed: true,
      at: [{ rail: 'B', station: 21 }],
    }),
    characteristic({ what: 'twist', rail: 'B', value: range(height) / 3.2, u: 0.7, limit: 20, unit: 'um/m' }),
  );
  const worst = (['does-not-conform', 'undecided', 'conforms', 'reported'] as const).find((verdict) =>
    characteristics.some((c) => c.verdict === verdict),
  )!;
  const setup = (id: string, yaw: number): SetupResult => ({
    id,
    readings: 47,
    yaw: measured(yaw, 1.2),
    pitch: measured(0.2, 4.8),
    roll: measured(-1.4, 4.8),
    largest: { vertical: 812.3, horizontal: 10400, along: id === 'S1' ? 212 : null },
    rangeLimit: 12700,
  });
  const file = isLast ? 'readings/as-left.csv' : 'readings/as-found.csv';
  return {
    verdict: worst,
    adjustment: {
      readings: 97,
      priors: 5,
      unknowns: 58,
      rank: 56,
      redundancy: 41,
      sigma0: isLast ? 0.97 : 1.43,
      scale: isLast ? 1 : 1.43,
      chiSquare: { statistic: isLast ? 38.6 : 83.8, upperTail: isLast ? 0.58 : 0.0001 },
      suspects: isLast
        ? []
        : [
            {
              file,
              row: 17,
              axis: 'vertical',
              prior: null,
              what: 'S1 on A:7, pass 1',
              residual: 14.2,
              standardised: 5.1,
            },
            {
              file,
              row: 22,
              axis: 'horizontal',
              prior: null,
              what: 'S1 on A:12, pass 1',
              residual: -9.3,
              standardised: -4.02,
            },
            {
              file,
              row: 23,
              axis: 'horizontal',
              prior: null,
              what: 'S1 on A:12, pass 2',
              residual: 9.3,
              standardised: 4.02,
            },
          ],
      repeatability: [
        { instrument: 'L1', axis: 'vertical', unit: 'um', s: 1.31, claimed: 1.62, degreesOfFreedom: 21 },
      ],
    },
    setups: [setup('S1', 3.1), setup('S2', -412.6)],
    ties: [
      {
        what: 'direction',
        from: 'S1',
        to: 'S2',
        by: ['monument M1', 'monument M2'],
        baselineMm: 1900,
        difference: measured(-415.7, 1.7),
      },
      {
        what: 'height',
        from: 'S1',
        to: 'S2',
        by: ['target T1 on A:1 and B:1'],
        baselineMm: null,
        difference: measured(220.4, 2.9),
      },
    ],
    closures: [
      {
        setup: 'S1',
        point: 'A:1',
        target: 'T1',
        axis: 'vertical',
        looks: 2,
        first: { time: '2026-03-14T08:12', reading: 3.1, row: { file, row: 2 } },
        last: { time: '2026-03-14T10:02', reading: isLast ? 1.9 : 11.4, row: { file, row: 40 } },
        closure: isLast ? -1.2 : 8.3,
        allowed: 4.2,
        exceeded: !isLast,
      },
    ],
    stations,
    offsetTied: { A: true, B: false },
    characteristics,
    residuals: [],
    residualsLeftOut: 0,
    undetermined: isLast
      ? []
      : [
          {
            what: 'distance across between rail A and rail B',
            why: 'no span was read; a tape or tracker distance at one station would give it',
          },
        ],
  };
}

/** Next to nothing recorded: one rail, three stations, no tolerance, no reading checked by another. */
export function sparseResults(): Results {
  return resultsSchema.parse({
    format: 'waysheet-results/1',
    job: 'X1',
    verdict: 'reported',
    software: { name: 'waysheet', version: '0.1.0', method: '2026-11' },
    inputs: [{ path: 'job.json', bytes: 10, sha256: '00'.repeat(32), read: '' }],
    settings: { rule: 'simple', coverage: 0.95, draws: 1000, seed: 'X1' },
    subject: {
      title: null,
      issuer: null,
      customer: null,
      site: null,
      machine: { name: null, serial: null },
      surveyed: { by: null, on: null },
      prepared: { by: null, on: null },
      readingsTaken: { from: null, to: null },
      temperatureC: null,
      conditionsNote: null,
    },
    style: { length: 'mm', deviation: 'mm', slope: 'mm/m', paper: 'A4' },
    survey: {
      rails: [
        {
          id: 'A',
          name: null,
          datum: true,
          direction: 'along',
          stations: [0, 1, 2].map((i) => ({ station: i + 1, along: i * 400, across: 0 })),
        },
      ],
      monuments: [],
      instruments: [
        {
          id: 'E',
          description: null,
          serial: null,
          certificate: null,
          calibrationDue: null,
          overdue: null,
          measures: 'slope',
          readingU: 2,
          perMetreU: 0,
          levelU: null,
          squareU: null,
          driftU: null,
          rangeLimit: null,
        },
      ],
      setups: [],
    },
    toleranceSet: { name: null, source: null, file: null },
    phases: {
      'as-found': {
        verdict: 'reported',
        adjustment: {
          readings: 2,
          priors: 0,
          unknowns: 3,
          rank: 2,
          redundancy: 0,
          sigma0: null,
          scale: 1,
          chiSquare: null,
          suspects: [],
          repeatability: [],
        },
        setups: [],
        ties: [],
        closures: [],
        stations: [0, 1, 2].map((i) => ({
          rail: 'A',
          station: i + 1,
          along: i * 400,
          across: 0,
          height: { value: null, why: 'its tilt is not determined' },
          deviation: { vertical: measured([-1, 2, -1][i]!, 0.7) },
        })),
        offsetTied: { A: true },
        characteristics: [
          {
            ...characteristic({
              what: 'straightness-vertical',
              rail: 'A',
              value: 3,
              u: 1.4,
              limit: null,
              reference: 'least-squares',
            }),
            at: [],
            budget: {},
          },
          undeterminedCharacteristic('level-along', 'A', null),
        ],
        residuals: [],
        residualsLeftOut: 0,
        undetermined: [
          { what: 'the tilt of rail A', why: 'the file is read against a sight line of its own' },
        ],
      },
    },
    excluded: [],
    warnings: [],
    curvature: { lengthMm: 800, sagittaUm: 0.0126 },
    corrections: { earthCurvature: false, spanAt20: null, thermalBow: [] },
  });
}

/** Inch job on Letter paper; one rail pair that does not conform. */
export function inchResults(): Results {
  const results = usualResults({
    job: 'IN-07',
    spacingMm: 609.6,
    acrossMm: 2438.4,
    stations: 13,
    leftScale: 0.7,
  });
  results.style = { length: 'in', deviation: 'thou', slope: 'thou/ft', paper: 'Letter' };
  results.settings.rule = 'guarded';
  return resultsSchema.parse(results);
}

/** Texts that would break a page, a style sheet, a table or a spreadsheet. */
export function hostileResults(): Results {
  const evil = '<script>alert("1")</script>&amp;"\'`=';
  const long = 'Rail-with-a-name-without-any-place-to-break-it-'.repeat(3);
  const results = usualResults({ job: 'EV\\"}</style><b>', stations: 5 });
  results.subject.title = evil;
  results.subject.customer = evil + long;
  results.subject.site = '{{constructor}} {{{x}}}';
  results.subject.conditionsNote = evil;
  results.software.version = '0"; } </style><i>';
  results.excluded[0]!.note = `=HYPERLINK("x")${long}`;
  results.warnings[0]!.message = evil;
  results.survey.rails[0]!.name = long;
  for (const phase of Object.values(results.phases)) {
    for (const station of phase.stations) if (station.rail === 'A') station.rail = '=A1';
    for (const made of phase.characteristics) if (made.rail === 'A') made.rail = '=A1';
  }
  results.survey.rails[0]!.id = '=A1';
  results.survey.instruments[0]!.description = evil;
  results.survey.instruments[0]!.overdue = true;
  return resultsSchema.parse(results);
}

/** The usual job with a cross rail, tied spans, and a second instrument. */
export function crossRailResults(): Results {
  const results = usualResults({ job: 'CR-12', stations: 9, phases: ['as-left'] });
  const phase = results.phases['as-left']!;
  const along = 4500;
  const places = [0, 800, 1600, 2400, 3200];
  results.survey.rails.push({
    id: 'C',
    name: 'Cross rail',
    datum: false,
    direction: 'across',
    stations: places.map((across, i) => ({ station: i + 1, along, across })),
  });
  places.forEach((across, i) =>
    phase.stations.push({
      rail: 'C',
      station: i + 1,
      along,
      across,
      height: measured(4 - 2 * i, 2.2),
      ahead: measured(3 * i - 8, 1.8),
      deviation: {
        vertical: measured([6, -3, 0.4, 2, -3][i]!, 1.1),
        along: measured([-6, 5, 0.2, -2, 3][i]!, 1.2),
      },
    }),
  );
  phase.offsetTied = { B: true };
  phase.setups[0]!.drift = [
    { axis: 'vertical', rate: measured(3.42, 0.8), significant: true },
    { axis: 'horizontal', rate: measured(-0.4, 0.9), significant: false },
    { axis: 'along', rate: { value: null, why: 'no point was read twice' }, significant: false },
  ];
  results.survey.instruments[0]!.driftU = 2;
  results.corrections = {
    earthCurvature: true,
    spanAt20: { temperatureC: 22.4, machine: 11.5e-6, instrument: 11.5e-6 },
    thermalBow: [{ rail: 'A', topWarmerByK: 1.2, bowUm: 8.31 }],
  };
  phase.characteristics.push(
    characteristic({
      what: 'squareness',
      rail: 'C',
      value: -12.4,
      u: 2.1,
      limit: 20,
      unit: 'um/m',
      signed: true,
      at: [],
    }),
    characteristic({
      what: 'span',
      rail: 'B',
      value: 21.2,
      u: 4.4,
      limit: 40,
      signed: true,
      at: [{ rail: 'B', station: 4 }],
    }),
    characteristic({
      what: 'coplanarity',
      rail: 'B',
      value: 28.2,
      u: 2.4,
      limit: null,
      reference: 'minimum-zone',
    }),
  );
  results.survey.instruments.push({
    ...results.survey.instruments[0]!,
    id: 'T1',
    description: 'inside micrometer with extension tubes',
    readingU: 3,
    perMetreU: 1.5,
    levelU: null,
    squareU: null,
    rangeLimit: null,
  });
  return resultsSchema.parse(results);
}

/** Guarded acceptance with one characteristic near its limit and one without a value. */
export function undecidedResults(): Results {
  const results = usualResults({ job: 'UD-3', phases: ['as-left'] });
  results.settings.rule = 'guarded';
  const phase = results.phases['as-left']!;
  const near = phase.characteristics.find((c) => c.what === 'parallelism-horizontal')!;
  Object.assign(near, {
    value: 48.6,
    u: 2.9,
    interval: [43.1, 53.2],
    verdict: 'undecided',
    probability: 0.68,
    settle: 'Three more passes over both rails would narrow the interval enough.',
  });
  phase.characteristics = phase.characteristics.filter((c) => c.what !== 'height-difference');
  phase.characteristics.push(undeterminedCharacteristic('height-difference', 'B', 30));
  phase.verdict = 'undecided';
  results.verdict = 'undecided';
  return resultsSchema.parse(results);
}

/** A plain picture in the place of a chart. */
export function fixtureCharts(results: Results): Figure[] {
  const svg = (label: string, height = 190) =>
    `<svg xmlns="http://www.w3.org/2000/svg" width="640" height="${height}" viewBox="0 0 640 ${height}"><rect x="40" y="8" width="590" height="${height - 40}" fill="none" stroke="#888"/><polyline fill="none" stroke="#222" points="40,90 140,60 240,110 340,70 440,95 540,80 630,100"/><text x="60" y="30" font-size="12">${label}</text></svg>`;
  const list: Figure[] = [];
  const add = (key: string, title: string, section: ChartSection, height?: number, rail?: string) =>
    list.push({
      key,
      title,
      caption: `${title}. Drawn 1 : 4 000 taller than true.`,
      alt: `${title}: a picture`,
      section,
      role: 'annex',
      of: [],
      stations: [],
      spec: {},
      svg: svg(key, height),
      ...(rail && { rail }),
    });
  for (const rail of results.survey.rails)
    for (const plane of ['vertical', 'horizontal'])
      add(`straightness-${plane}-rail`, `Straightness, ${plane}`, 'straightness', 190, rail.id);
  if (results.survey.rails.length > 1) {
    add('parallelism-vertical', 'Height of rail B above rail A', 'parallelism');
    add('parallelism-horizontal', 'Distance across', 'parallelism');
    add('cross-level', 'Cross-level', 'cross-level');
  }
  add('plan', 'Plan view of the survey', 'plan', 240);
  add('residuals', 'Residuals', 'residuals');
  add('budget', 'Uncertainty by source', 'budget');
  return list;
}
