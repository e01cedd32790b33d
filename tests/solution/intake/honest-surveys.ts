/**
 * Honest surveys of the other kinds: levels there and back, autocollimators, legs, one shot, one rail, cross rails, turned instruments,
 * placings, inches, steps across, spans, outliers left out with a note. Nothing is wrong with any of them. Sizes are common practice, no source.
 */
import { createGenerator, type RandomGenerator } from '../../../src/base/statistics/random.js';

/* eslint-disable @typescript-eslint/no-explicit-any -- a job as people write it */
export interface HonestSurvey {
  readonly kind: string;
  readonly files: Record<string, string>;
}

export const kinds = [
  'level there and back',
  'autocollimator forth and back',
  'two legs',
  'one shot',
  'one rail',
  'cross rail',
  'turned instrument',
  'own placings',
  'autocollimator with backward steps',
  'level across two rails',
  'spans by tape',
] as const;

const UM_PER_M_PER_ARCSEC = 4.848;
const ROWS = 'setup,rail,station,target,placing,pass,vertical,horizontal,along,use,note';

class Maker {
  readonly random: RandomGenerator;
  readonly count: number;
  readonly spacing: number;
  readonly isInch: boolean;
  readonly u: number;
  readonly seat: number;
  readonly shapes = new Map<string, readonly number[]>();
  readonly rows: string[] = [];
  readonly setups: any[] = [];
  private placed = 0;

  constructor(seed: number) {
    this.random = createGenerator(seed);
    this.count = 8 + Math.floor(8 * this.random.nextUniform());
    this.isInch = this.random.nextUniform() < 0.3;
    this.spacing = this.isInch ? 508 : 500;
    this.u = this.pick([1.5, 2, 3]);
    this.seat = this.random.nextUniform() < 0.5 ? this.pick([2, 4]) : 0;
  }

  pick<T>(list: readonly T[]): T {
    return list[Math.floor(list.length * this.random.nextUniform())]!;
  }

  normal(sigma = 1): number {
    return sigma * this.random.nextNormal();
  }

  mm = (v: number) => (this.isInch ? v / 25.4 : v);
  um = (v: number) => (this.isInch ? (v / 25.4).toFixed(2) : v.toFixed(1));

  /** How a rail lies at a station, µm. */
  lies(key: string, k: number): number {
    const shape = this.shapes.get(key) ?? Array.from({ length: 5 }, () => this.normal());
    this.shapes.set(key, shape);
    const t = k / (this.count - 1);
    const [a, b, c, d, e] = shape as [number, number, number, number, number];
    return 25 * (a * t * (1 - t) * 2 + 0.3 * b * Math.sin(6 * t + c) + 0.4 * d * t + 0.4 * e);
  }

  /** A set-up, and what reads from it. Heading in degrees; the level's own zero is fixed to the instrument. */
  setUp(id: string, along: number, across: number, heading: number, zero: readonly [number, number]) {
    const plus = {
      vertical: this.pick(['up', 'down']),
      horizontal: this.pick(['left', 'right']),
      along: 'ahead',
    };
    this.setups.push({
      id,
      instrument: 'L1',
      along: this.mm(along),
      across: this.mm(across),
      levelled: true,
      ...(heading !== 0 && { heading }),
      plus,
    });
    const turn = (heading * Math.PI) / 180;
    const arc = UM_PER_M_PER_ARCSEC;
    const [p, q] = [
      this.normal(arc) + Math.cos(turn) * zero[0] - Math.sin(turn) * zero[1],
      this.normal(arc) + Math.sin(turn) * zero[0] + Math.cos(turn) * zero[1],
    ];
    const [h, c, a, yaw, square] = [
      this.normal(200),
      this.normal(100),
      this.normal(200),
      this.normal(20),
      this.normal(arc),
    ];
    const [v, s] = [plus.vertical === 'up' ? 1 : -1, plus.horizontal === 'left' ? 1 : -1];
    return (rail: string, k: number, pass: number, isCross = false, axes = 'vh', note = '') => {
      const [x, y] = isCross
        ? [this.count * this.spacing, 250 + 300 * k]
        : [k * this.spacing, rail === 'A' ? 0 : 2000];
      const [dx, dy] = [(x - along) / 1000, (y - across) / 1000];
      const noise = () =>
        this.normal(Math.hypot(0.9 * this.u, 0.3 * Math.hypot(dx, dy))) + this.normal(this.seat);
      this.placed++;
      const read = (value: number) => this.um(value + noise());
      const vertical = axes.includes('v') ? read(v * (this.lies(`${rail}v`, k) - h - p * dx - q * dy)) : '';
      const horizontal =
        !isCross && axes.includes('h') ? read(s * (this.lies(`${rail}h`, k) - c - yaw * dx)) : '';
      const ahead = isCross ? read(this.lies(`${rail}a`, k) - a + (yaw + square) * dy) : '';
      this.rows.push(
        [id, rail, k + 1, 'T1', '', pass, vertical, horizontal, ahead, note === '' ? '' : 'no', note].join(
          ',',
        ),
      );
    };
  }

  order(pass: number, from = 0, to = this.count): number[] {
    const list = Array.from({ length: to - from }, (_, k) => from + k);
    return pass % 2 === 1 ? list : list.reverse();
  }
}

export function honestSurvey(seed: number): HonestSurvey {
  const m = new Maker(seed);
  const kind = m.pick(kinds);
  const hasB = kind !== 'one rail';
  const rails = hasB ? ['A', 'B'] : ['A'];
  const passes = kind === 'one shot' ? 1 : m.pick([2, 2, 3]);
  const length = m.spacing * (m.count - 1);
  const zero = [m.normal(UM_PER_M_PER_ARCSEC), m.normal(UM_PER_M_PER_ARCSEC)] as const;
  const isTurned = kind === 'turned instrument';
  const first = m.setUp('S1', -600, hasB ? 1000 : 500, 0, zero);
  const last = kind === 'two legs' ? m.count - Math.floor(m.count / 4) : m.count;
  for (let pass = 1; pass <= passes; pass++)
    for (const rail of rails) {
      for (const k of m.order(pass, 0, last)) first(rail, k, pass);
      if (kind === 'cross rail' && rail === 'B')
        for (const k of m.order(pass, 0, 6)) first('C', k, pass, true);
    }
  if (kind === 'two legs' || isTurned) {
    const second = m.setUp('S2', isTurned ? length + 700 : length / 2 - 300, 900, isTurned ? 180 : 0, zero);
    const from = isTurned ? 0 : Math.floor(m.count / 2);
    for (let pass = 1; pass <= passes; pass++)
      for (const rail of rails) for (const k of m.order(pass, from)) second(rail, k, pass);
  }
  if (m.random.nextUniform() < 0.3) {
    // A knocked target, left out and read again.
    const at = Math.floor(m.rows.length / 2);
    const cells = m.rows[at]!.split(',');
    cells[6] = m.um(Number(cells[6]) * (m.isInch ? 25.4 : 1) + 400);
    m.rows.splice(at, 0, [...cells.slice(0, 9), 'no', 'knocked; read again'].join(','));
  }
  if (kind === 'own placings')
    m.rows.forEach((row, i) => {
      const cells = row.split(',');
      cells[4] = `P${i}`;
      m.rows[i] = cells.join(',');
    });
  const files: Record<string, string> = { 'readings/as-left.csv': `${[ROWS, ...m.rows].join('\n')}\n` };
  const slopes: any[] = [];
  const slopeFile = (name: string, axis: string, u: number, isTurnedBack: boolean) => {
    const rows: string[] = [];
    for (const rail of rails)
      for (let pass = 1; pass <= passes; pass++) {
        const sight = axis === 'vertical' ? 0 : m.normal(30);
        const steps = m.order(pass, 0, m.count - 1);
        for (const k of steps) {
          const key = `${rail}${axis === 'vertical' ? 'v' : 'h'}`;
          const slope = (m.lies(key, k + 1) - m.lies(key, k)) / (m.spacing / 1000) - sight + m.normal(u);
          // On the way back a level is read from the far end of each step: the slope has the other sign.
          const isBack = isTurnedBack && pass % 2 === 0;
          const [from, to] = isBack ? [k + 2, k + 1] : [k + 1, k + 2];
          rows.push([rail, from, rail, to, axis, (isBack ? -slope : slope).toFixed(1), pass].join(','));
        }
      }
    files[`readings/${name}.csv`] =
      `from_rail,from_station,to_rail,to_station,axis,slope,pass\n${rows.join('\n')}\n`;
    slopes.push({
      file: `readings/${name}.csv`,
      phase: 'as-left',
      kind: 'slope',
      instrument: 'E1',
      unit: 'um/m',
    });
    if (axis !== 'vertical') slopes.at(-1).against = 'sight';
  };
  const across = (name: string, row: (k: number, pass: number) => string, head: string, entry: any) => {
    const rows: string[] = [];
    for (let pass = 1; pass <= passes; pass++) for (const k of m.order(pass)) rows.push(row(k, pass));
    files[`readings/${name}.csv`] = `${head}\n${rows.join('\n')}\n`;
    slopes.push({ file: `readings/${name}.csv`, phase: 'as-left', ...entry });
  };
  const apart = (key: 'v' | 'h', k: number) => m.lies(`B${key}`, k) - m.lies(`A${key}`, k);
  if (kind === 'level across two rails') {
    slopeFile('level', 'vertical', 1.8, true);
    across(
      'across',
      (k, pass) => {
        const slope = apart('v', k) / 2 + m.normal(1.8);
        // Every second time it is read from B to A.
        return pass % 2 === 1
          ? ['A', k + 1, 'B', k + 1, 'vertical', slope.toFixed(1), pass].join(',')
          : ['B', k + 1, 'A', k + 1, 'vertical', (-slope).toFixed(1), pass].join(',');
      },
      'from_rail,from_station,to_rail,to_station,axis,slope,pass',
      { kind: 'slope', instrument: 'E1', unit: 'um/m' },
    );
  }
  if (kind === 'spans by tape')
    across(
      'span',
      (k, pass) =>
        ['A', 'B', k + 1, ((2_000_000 + apart('h', k) + m.normal(9)) / 1000).toFixed(3), pass].join(','),
      'rail,other,station,span,pass',
      { kind: 'span', instrument: 'E2', unit: 'mm' },
    );
  if (kind === 'autocollimator with backward steps') slopeFile('autocollimator', 'horizontal', 1.8, true);
  if (kind === 'level there and back') slopeFile('level', 'vertical', 1.8, true);
  if (kind === 'autocollimator forth and back') slopeFile('autocollimator', 'horizontal', 1.8, false);
  const arcsec = (u: number) => ({ u, unit: 'arcsec' });
  const stations = { first: 0, spacing: m.mm(m.spacing), count: m.count };
  const limit = (what: string, um: number, rail?: string) => ({
    what,
    ...(rail !== undefined && { rail }),
    limit: m.mm(um),
    unit: m.isInch ? 'thou' : 'um',
  });
  files['job.json'] = JSON.stringify({
    format: 'waysheet-job/1',
    id: `HON-${seed}`,
    units: m.isInch ? { length: 'in', reading: 'thou' } : { length: 'mm', reading: 'um' },
    surveyed: { by: 'the test', on: '2026-03-16' },
    rails: [
      { id: 'A', datum: true, across: 0, stations },
      ...(hasB ? [{ id: 'B', across: m.mm(2000), stations }] : []),
      ...(kind === 'cross rail'
        ? [
            {
              id: 'C',
              direction: 'across',
              along: m.mm(m.count * m.spacing),
              stations: { first: m.mm(250), spacing: m.mm(300), count: 6 },
            },
          ]
        : []),
    ],
    instruments: [
      {
        id: 'L1',
        reading: m.isInch
          ? { u: m.u / 25.4, perMetre: 0.3 / 25.4, unit: 'thou' }
          : { u: m.u, perMetre: 0.3, unit: 'um' },
        level: { ...arcsec(1), zero: arcsec(1) },
        square: arcsec(1),
      },
      ...(slopes.some(({ instrument }) => instrument === 'E1')
        ? [{ id: 'E1', reading: { u: 2, unit: 'um/m' } }]
        : []),
      ...(kind === 'spans by tape' ? [{ id: 'E2', reading: { u: 10, unit: 'um' } }] : []),
    ],
    targets: [{ id: 'T1', ...(m.seat > 0 && { seat: { u: m.seat, unit: 'um' } }) }],
    setups: m.setups,
    readings: [{ file: 'readings/as-left.csv', phase: 'as-left' }, ...slopes],
    tolerances: [
      limit('straightness-vertical', 40),
      ...(hasB ? [limit('parallelism-vertical', 60, 'B')] : []),
    ],
  });
  return { kind, files };
}
