/** The values of one machine over its surveys, for each characteristic. */
import { phasesOf } from '../../pages/report/figures.js';
import { identityKey, identityOf, type Identity } from '../../results/identity.js';
import type { CharacteristicResult, Results } from '../../results/results-schema.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { marginOf } from './register-row.js';

/** A survey with its results. */
export interface Surveyed {
  /** 2026-03-14 */
  readonly day: string;
  readonly results: Results;
}

export interface TrendPoint extends Pick<CharacteristicResult, 'value' | 'interval' | 'limit' | 'verdict'> {
  readonly day: string;
  readonly phase: PhaseName;
}

export interface Trend extends Identity, Pick<CharacteristicResult, 'unit' | 'signed'> {
  /** In order of time; in one survey, as found comes before as left. */
  readonly points: readonly TrendPoint[];
}

/**
 * Characteristics with values on two days or more. First comes the one whose last value is closest to its limit, or farthest
 * beyond it. Those without a limit come last, in the order of the report.
 *
 * @param surveys In order of time.
 */
export function trendsOf(surveys: readonly Surveyed[]): Trend[] {
  const trends = new Map<string, Trend & { points: TrendPoint[] }>();
  for (const { day, results } of surveys) {
    for (const { name, phase } of phasesOf(results)) {
      for (const made of phase.characteristics.filter(isUsual)) {
        const { unit, signed, value, interval, limit, verdict } = made;
        const key = identityKey(made);
        let trend = trends.get(key);
        if (trend === undefined) trends.set(key, (trend = { ...identityOf(made), unit, signed, points: [] }));
        trend.points.push({ day, phase: name, value, interval, limit, verdict });
      }
    }
  }
  return [...trends.values()]
    .filter((trend) => new Set(known(trend).map(({ day }) => day)).size > 1)
    .sort((a, b) => lastMargin(a) - lastMargin(b) || 0);
}

/** Straightness by another reference is shown only if a tolerance asks for it. */
const isUsual = ({ limit, reference = 'least-squares' }: CharacteristicResult): boolean =>
  limit !== null || reference === 'least-squares';

const known = ({ points }: Trend) => points.filter(({ value }) => value !== null);

/** Infinity: the last value has no limit. */
function lastMargin(trend: Trend): number {
  const last = known(trend).at(-1);
  if (last === undefined || last.limit === null) return Infinity;
  return marginOf({ value: last.value, limit: last.limit }) ?? Infinity;
}
