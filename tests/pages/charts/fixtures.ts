/** Results documents for the charts' tests: invented surveys with plausible figures, made the same each time. */
import { leastSquaresLine, lineBasis, rangeAbout, endPointLine } from '../../../src/base/geometry/line.js';
import { minimumZoneLine } from '../../../src/base/geometry/minimum-zone-line.js';
import type { CharacteristicName, PhaseName, ReferenceName } from '../../../src/survey/job/job-schema.js';
import { resultsSchema } from '../../../src/results/results-schema.js';
import type {
  CharacteristicResult,
  Determined,
  PhaseResults,
  ResidualResult,
  Results,
  StationResult,
} from '../../../src/results/results-schema.js';

export interface FixtureOptions {
  readonly stations?: number;
  readonly spacingMm?: number;
  readonly railIds?: readonly [string, string];
  readonly railNames?: readonly [string | null, string | null];
  /** Place across of the second rail, mm. */
  readonly acrossMm?: number;
  readonly phases?: readonly PhaseName[];
  readonly style?: Partial<Results['style']>;
  readonly rule?: 'simple' | 'guarded';
  readonly coverage?: number;
  /** Size of the as-found shape beside as left. */
  readonly roughness?: number;
  /** [phase, rail index, station number] not read at all. */
  readonly missing?: readonly (readonly [PhaseName, number, number])[];
  /** Every difference to the datum rail is null with this reason. */
  readonly untied?: string;
  readonly reference?: ReferenceName;
  readonly withLocal?: boolean;
  readonly withCrossRail?: boolean;
  readonly noLimits?: boolean;
  readonly setupsEveryMm?: number;
  readonly monuments?: boolean;
  readonly limitUm?: number;
  readonly blunder?: boolean;
}

/** A small generator of numbers in [0, 1): mulberry32. */
function random(seed: number): () => number {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const phaseVerdict = (characteristics: readonly CharacteristicResult[]): Results['verdict'] => {
  for (const verdict of ['does-not-conform', 'undecided', 'conforms'] as const) {
    if (characteristics.some((c) => c.verdict === verdict)) return verdict;
  }
  return 'reported';
};

export function fixture(options: FixtureOptions = {}): Results {
  const count = options.stations ?? 21;
  const spacing = options.spacingMm ?? 500;
  const [a, b] = options.railIds ?? ['A', 'B'];
  const [aName, bName] = options.railNames ?? ['Column-side rail', 'Aisle-side rail'];
  const across = options.acrossMm ?? 3200;
  const phases = options.phases ?? ['as-found', 'as-left'];
  const railStations = (y: number) =>
    Array.from({ length: count }, (_, i) => ({ station: i + 1, along: i * spacing, across: y }));
  const length = (count - 1) * spacing;
  const rails: Results['survey']['rails'] = [
    { id: a, name: aName, datum: true, direction: 'along', stations: railStations(0) },
    { id: b, name: bName, datum: false, direction: 'along', stations: railStations(across) },
  ];
  if (options.withCrossRail) {
    rails.push({
      id: 'C',
      name: 'Beam',
      datum: false,
      direction: 'across',
      stations: Array.from({ length: 9 }, (_, i) => ({
        station: i + 1,
        along: length * 0.8,
        across: 200 + i * 350,
      })),
    });
  }
  const monuments =
    options.monuments === false
      ? []
      : [
          { id: 'M1', along: length + 1200, across: across * 0.22 },
          { id: 'M2', along: length + 1200, across: across * 0.81 },
        ];
  const setups = makeSetups(options, length, across, a, b, spacing, monuments);
  return resultsSchema.parse({
    format: 'waysheet-results/1',
    job: 'GM-0001',
    verdict: 'reported',
    software: { name: 'waysheet', version: '0.0.0', method: '1' },
    inputs: [],
    settings: { rule: options.rule ?? 'simple', coverage: options.coverage ?? 0.95, draws: 1000, seed: 'x' },
    subject: {
      title: 'Invented',
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
    style: { length: 'mm', deviation: 'um', slope: 'um/m', paper: 'A4', ...options.style },
    survey: { rails, monuments, instruments: [], setups },
    toleranceSet: { name: null, source: null, file: null },
    phases: Object.fromEntries(phases.map((name) => [name, makePhase(name, rails, options)])),
    excluded: [],
    warnings: [],
    curvature: { lengthMm: length, sagittaUm: 2 },
    corrections: { earthCurvature: false, spanAt20: null, thermalBow: [] },
  });
}

function makeSetups(
  options: FixtureOptions,
  length: number,
  across: number,
  a: string,
  b: string,
  spacing: number,
  monuments: Results['survey']['monuments'],
): Results['survey']['setups'] {
  const every = options.setupsEveryMm ?? Infinity;
  const setups: Results['survey']['setups'] = [];
  const plus = { vertical: 'up', horizontal: 'left', along: 'ahead' } as const;
  const add = (
    id: string,
    along: number,
    y: number,
    rail: string,
    railAcross: number,
    from: number,
    to: number,
  ) => {
    const ends = [Math.max(0, from), Math.min(length, to)];
    setups.push({
      id,
      instrument: 'L1',
      along,
      across: y,
      levelled: true,
      plus,
      note: null,
      sights: [
        ...ends.map((x) => ({
          rail,
          monument: null,
          along: Math.round(x / spacing) * spacing,
          across: railAcross,
        })),
        ...(every === Infinity
          ? monuments.map((m) => ({ rail: null, monument: m.id, along: m.along, across: m.across }))
          : []),
      ],
    });
  };
  if (every === Infinity) {
    add('S1', -900, across * 0.14, a, 0, 0, length);
    add('S2', -900, across * 0.86, b, across, 0, length);
  } else {
    for (let x = 0, i = 1; x < length; x += every, i++) {
      add(
        `S${i}`,
        x + every / 2,
        across * 0.45,
        i % 2 ? a : b,
        i % 2 ? 0 : across,
        x - every * 0.1,
        x + every * 1.1,
      );
    }
  }
  return setups;
}

function makePhase(
  name: PhaseName,
  rails: Results['survey']['rails'],
  options: FixtureOptions,
): PhaseResults {
  const isFound = name === 'as-found';
  const size = isFound ? (options.roughness ?? 4) : 1;
  const next = random(isFound ? 7 : 11);
  const stations: StationResult[] = [];
  const characteristics: CharacteristicResult[] = [];
  const missing = new Set((options.missing ?? []).filter(([p]) => p === name).map(([, r, s]) => `${r}/${s}`));
  const profiles = rails.map((rail, r) => {
    const n = rail.stations.length;
    const shape = (k: number) =>
      rail.stations.map((_, i) => {
        const t = i / Math.max(1, n - 1);
        return (
          size *
            (14 * Math.sin(2 * Math.PI * (1.3 * t + 0.17 * k + 0.4 * r)) * (1 - t) +
              9 * t * t +
              (next() - 0.5) * 6) +
          (isFound ? 25 * t : 0)
        );
      });
    return { rail, r, height: shape(1), offset: shape(2) };
  });
  const datum = profiles[0]!;
  const u = isFound ? 2.1 : 1.6;
  for (const { rail, r, height, offset } of profiles) {
    const isCross = rail.direction === 'across';
    const second = isCross ? 'along' : 'horizontal';
    const read = rail.stations.filter((s) => !missing.has(`${r}/${s.station}`));
    const positions = Float64Array.from(read, (s) => (isCross ? s.across : s.along) / 1000);
    const deviations = (values: readonly number[]) => {
      const d = Float64Array.from(read, (s) => values[s.station - 1]!);
      if (read.length < 3) return d;
      const line = leastSquaresLine(lineBasis(positions), d);
      return d.map((v, i) => v - line.intercept - line.slope * positions[i]!);
    };
    const vertical = deviations(height);
    const horizontal = deviations(offset);
    for (const [i, s] of read.entries()) {
      const difference = (own: readonly number[], of: readonly number[]) =>
        options.untied === undefined
          ? { value: own[s.station - 1]! - of[s.station - 1]! + (isFound ? 20 : 4), u: u * 1.7 }
          : { value: null, why: options.untied };
      stations.push({
        rail: rail.id,
        station: s.station,
        along: s.along,
        across: s.across,
        height: { value: height[s.station - 1]!, u },
        ...(isCross ? {} : { offset: { value: offset[s.station - 1]!, u } }),
        deviation: { vertical: { value: vertical[i]!, u }, [second]: { value: horizontal[i]!, u: u * 1.1 } },
        ...(r === 1
          ? {
              difference: {
                height: difference(height, datum.height),
                offset: difference(offset, datum.offset),
              },
            }
          : {}),
      });
    }
    const place = (i: number) => ({ rail: rail.id, station: read[i]!.station });
    for (const [plane, d] of [
      ['vertical', vertical],
      ['horizontal', horizontal],
    ] as const) {
      for (const reference of ['least-squares', 'minimum-zone', 'end-points'] as const) {
        const line =
          reference === 'least-squares'
            ? { intercept: 0, slope: 0 }
            : reference === 'end-points'
              ? endPointLine(positions, d)
              : minimumZoneLine(positions, d).line;
        const { range, high, low } = rangeAbout(line, positions, d);
        const isJudged = reference === (options.reference ?? 'least-squares') && !options.noLimits;
        characteristics.push(
          made(
            `straightness-${plane}`,
            rail.id,
            range,
            u * 1.1,
            isJudged ? (options.limitUm ?? 40) : null,
            [place(high), place(low)],
            options,
            { reference },
          ),
        );
      }
      if (options.withLocal && !isCross) {
        const start = Math.floor(read.length * 0.3);
        characteristics.push(
          made(
            `straightness-${plane}-local`,
            rail.id,
            7.9 * size,
            u * 0.9,
            10,
            [place(start), place(start + 2)],
            options,
            { reference: 'least-squares', over: 1000 },
          ),
        );
      }
    }
    characteristics.push(
      made('level-along', rail.id, 3.2 * size, 1.1, options.noLimits ? null : 20, [], options, {
        unit: 'um/m',
        signed: true,
      }),
    );
    if (r === 1) {
      const of = (own: readonly number[], other: readonly number[]) =>
        read.map((s) => own[s.station - 1]! - other[s.station - 1]! + (isFound ? 20 : 4));
      const dz = of(height, datum.height);
      const dy = of(offset, datum.offset);
      const least = (v: readonly number[]) => v.indexOf(Math.min(...v));
      const most = (v: readonly number[]) => v.indexOf(Math.max(...v));
      const worst = (v: readonly number[]) =>
        v.reduce((w, x, i) => (Math.abs(x) > Math.abs(v[w]!) ? i : w), 0);
      const limit = (value: number) => (options.noLimits ? null : value);
      const tied = options.untied === undefined;
      const range = (v: readonly number[]) => v[most(v)]! - v[least(v)]!;
      const per = 1000 / Math.abs(options.acrossMm ?? 3200);
      const add = (
        what: CharacteristicName,
        value: number,
        at: number[],
        l: number | null,
        over: Partial<Determined> = {},
      ) =>
        characteristics.push(
          tied
            ? made(
                what,
                rail.id,
                value,
                u * 1.8 * (over.unit === 'um/m' ? per : 1),
                l,
                at.map(place),
                options,
                over,
              )
            : {
                ...made(what, rail.id, 0, 1, l, [], options, over),
                value: null,
                why: options.untied,
                interval: null,
                u: null,
                verdict: l === null ? 'reported' : 'undecided',
                probability: null,
                budget: {},
              },
        );
      add('parallelism-vertical', range(dz), [most(dz), least(dz)], limit(50));
      add('parallelism-horizontal', range(dy), [most(dy), least(dy)], limit(50));
      add('height-difference', dz[worst(dz)]!, [worst(dz)], limit(60), { signed: true });
      add('cross-level', dz[worst(dz)]! * per, [worst(dz)], limit(20), { signed: true, unit: 'um/m' });
      add('twist', range(dz) * per, [most(dz), least(dz)], limit(15), { unit: 'um/m' });
    }
  }
  const residuals = makeResiduals(name, rails, options, next);
  return {
    verdict: phaseVerdict(characteristics),
    adjustment: {
      readings: 97,
      priors: 4,
      unknowns: 58,
      rank: 58,
      redundancy: 39,
      sigma0: 0.97,
      scale: 1,
      chiSquare: { statistic: 36.7, upperTail: 0.57 },
      suspects: residuals
        .filter((r) => Math.abs(r.standardised ?? 0) > 3.29)
        .map((r) => ({
          file: r.file,
          row: r.row,
          axis: r.axis,
          prior: null,
          what: `${r.setup} on ${r.rail}:${r.station}, pass 1`,
          residual: r.residual,
          standardised: r.standardised ?? 0,
        })),
      repeatability: [],
    },
    setups: [],
    ties: [],
    closures: [],
    stations,
    offsetTied: { [rails[1]!.id]: false },
    characteristics,
    residuals,
    residualsLeftOut: 0,
    undetermined: [],
  };
}

function made(
  what: CharacteristicName,
  rail: string,
  value: number,
  u: number,
  limit: number | null,
  at: CharacteristicResult['at'],
  options: FixtureOptions,
  over: Partial<Determined>,
): CharacteristicResult {
  const interval: [number, number] = [value - 2.3 * u, value + 1.8 * u];
  const judged = Math.abs(over.signed ? value : options.rule === 'guarded' ? interval[1] : value);
  const isBetween = over.unit === 'um/m' || what.startsWith('parallel') || what === 'height-difference';
  const budget = isBetween
    ? {
        readings: 0.31,
        distance: 0.08,
        level: 0.24,
        'direction-carry-over': 0.17,
        'height-carry-over': 0.14,
        'target-assemblies': 0.04,
        drift: 0.02,
      }
    : { readings: 0.72, distance: 0.26, level: 0.02 };
  return {
    what,
    rail,
    unit: 'um',
    value,
    interval,
    u,
    limit,
    verdict: limit === null ? 'reported' : judged <= limit ? 'conforms' : 'does-not-conform',
    probability: limit === null ? null : 0.97,
    signed: false,
    at,
    limitLength: null,
    budget,
    ...over,
  };
}

function makeResiduals(
  name: PhaseName,
  rails: Results['survey']['rails'],
  options: FixtureOptions,
  next: () => number,
): ResidualResult[] {
  const residuals: ResidualResult[] = [];
  const gauss = () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  let row = 1;
  for (const [r, rail] of rails.entries()) {
    for (const station of rail.stations) {
      for (const axis of ['vertical', rail.direction === 'across' ? 'along' : 'horizontal']) {
        const standardised =
          options.blunder && r === 1 && station.station === 7 && axis === 'vertical' ? 5.1 : gauss();
        residuals.push({
          file: `readings/${name}.csv`,
          row: ++row,
          kind: 'offset',
          setup: `S${r + 1}`,
          rail: rail.id,
          station: station.station,
          axis,
          pass: '1',
          residual: standardised * 1.6,
          standardised: station.station === 2 ? null : standardised,
          redundancy: 0.4,
        });
      }
    }
  }
  for (const s of ['S1', 'S2']) {
    residuals.push({
      file: null,
      row: null,
      kind: `level of ${s}`,
      setup: s,
      rail: null,
      station: null,
      axis: 'pitch',
      pass: null,
      residual: 0.3,
      standardised: gauss(),
      redundancy: 0.2,
    });
  }
  return residuals;
}
