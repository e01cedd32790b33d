/** How well readings repeat each other, compared with what their instruments claim. */
import { groupBy } from '../../base/lists.js';
import type { Axis, Job } from '../../survey/job/job.js';
import { SURVEY_LEVEL } from '../../base/statistics/normal.js';
import { chiSquareUpperTail } from '../../base/statistics/student-chi-square.js';
import type { Adjustment } from './adjustment.js';
import type { Observation } from './network.js';
import { effectOf } from './unknowns.js';

export interface Repeatability {
  readonly instrument: string;
  readonly axis: Axis;
  readonly unit: 'um' | 'um/m';
  /** Pooled standard deviation, and the root mean square of what the instrument claims. */
  readonly s: number;
  readonly claimed: number;
  readonly degreesOfFreedom: number;
}

/**
 * Those that repeat worse than chance explains, at the level of the survey for all of them together. Rows whose seating or drift is an
 * unknown of the model are not counted: their repeats hold more than the noise.
 */
export function tooRough(job: Job, adjustment: Adjustment): Repeatability[] {
  const { start, column, unknowns } = adjustment.network;
  const isNoiseOnly = (_: Observation, i: number) => {
    for (let k = start[i]!; k < start[i + 1]!; k++) {
      const unknown = unknowns[column[k]!]!;
      if (unknown.kind === 'drift' || effectOf(unknown)?.isInRepeats === true) return false;
    }
    return true;
  };
  const all = repeatability(job, adjustment, isNoiseOnly);
  return all.filter(
    ({ s, claimed, degreesOfFreedom: n }) =>
      chiSquareUpperTail(n * (s / claimed) ** 2, n) < SURVEY_LEVEL / all.length,
  );
}

export const instrumentIn = (job: Job): ((o: Observation) => string) => {
  const bySetup = new Map(job.setups.map((s) => [s.id, s.instrument]));
  return (o) => (o.kind === 'offset' ? bySetup.get(o.setup)! : o.instrument);
};

/**
 * Standard deviation pooled over rows that repeat one another (same set-up, point, target and axis; same step;
 * same span), next to the root mean square of what the instrument claims for those rows.
 */
export function repeatability(
  job: Job,
  adjustment: Adjustment,
  isCounted: (o: Observation, i: number) => boolean = () => true,
): Repeatability[] {
  const instrumentOf = instrumentIn(job);
  const { network } = adjustment;
  const groups = groupBy(network.observations.keys(), (i) => {
    const o = network.observations[i]!;
    return isCounted(o, i) ? repeatKey(o) : null;
  });
  interface Pool {
    instrument: string;
    axis: Axis;
    unit: 'um' | 'um/m';
    squares: number;
    degrees: number;
    claimed: number;
    rows: number;
  }
  const pools = new Map<string, Pool>();
  for (const group of groups.values()) {
    if (group.length < 2) continue;
    const o = network.observations[group[0]!]!;
    if (o.kind === 'prior') continue;
    const axis = o.kind === 'span' ? 'horizontal' : o.axis;
    const instrument = instrumentOf(o);
    const key = `${instrument}|${axis}|${o.kind}`;
    const pool = pools.get(key) ?? {
      instrument,
      axis,
      unit: o.kind === 'slope' ? 'um/m' : 'um',
      squares: 0,
      degrees: 0,
      claimed: 0,
      rows: 0,
    };
    const mean = group.reduce((sum, i) => sum + network.observed[i]! / group.length, 0);
    for (const i of group) {
      pool.squares += (network.observed[i]! - mean) ** 2;
      pool.claimed += network.sigma[i]! ** 2;
    }
    pool.degrees += group.length - 1;
    pool.rows += group.length;
    pools.set(key, pool);
  }
  return [...pools.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, p]) => ({
      instrument: p.instrument,
      axis: p.axis,
      unit: p.unit,
      s: Math.sqrt(p.squares / p.degrees),
      claimed: Math.sqrt(p.claimed / p.rows),
      degreesOfFreedom: p.degrees,
    }));
}

function repeatKey(o: Observation): string | null {
  switch (o.kind) {
    case 'prior':
      return null;
    case 'offset':
      return JSON.stringify(['offset', o.setup, o.point, o.target, o.axis]);
    case 'slope':
      // Against a sight line only the rows that share its unknown repeat one another.
      return JSON.stringify(['slope', o.from, o.to, o.axis, o.instrument, o.sight]);
    case 'span':
      return JSON.stringify(['span', o.rail, o.other, o.station, o.instrument]);
  }
}
