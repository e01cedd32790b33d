/**
 * The greatest difference of two points of a profile that are within one window, as the greatest of linear functionals: the
 * differences of all such pairs. Twist and parallelism over a length are such ranges.
 */
import type { WindowPlan } from '../../base/geometry/worst-window.js';
import { Distribution } from '../../base/statistics/distribution.js';
import { MOST_IN_MATRIX, ofEachDraw, uOfDifference, type Errors } from './errors.js';
import { Frontier } from './frontier.js';
import type { GreatestOf } from './greatest.js';

/** For profiles without a covariance matrix: only this many pairs, those with the greatest differences, make the upper end. */
const MAX_PAIRS = 3000;

/** The pair with the greatest difference; of equal ones the first along. @param slack µm. */
export function worstPair(d: Float64Array, { last }: WindowPlan, slack = 0): readonly [number, number] {
  let [at, to, most] = [0, 0, -Infinity];
  for (let i = 0; i < d.length; i++)
    for (let j = i + 1; j <= last[i]!; j++) {
      const size = Math.abs(d[j]! - d[i]!);
      if (size > most + slack) [at, to, most] = [i, j, size];
    }
  return [at, to];
}

/** @param d Shape (n). */
export function greatestWithin(d: Float64Array, errors: Errors, plan: WindowPlan): GreatestOf {
  const pairs: [number, number][] = [];
  for (let i = 0; i < d.length; i++) for (let j = i + 1; j <= plan.last[i]!; j++) pairs.push([i, j]);
  const size = ([i, j]: readonly [number, number]) => Math.abs(d[j]! - d[i]!);
  const used =
    errors.n <= MOST_IN_MATRIX ? pairs : pairs.sort((a, b) => size(b) - size(a)).slice(0, MAX_PAIRS);
  const frontier = new Frontier();
  for (const pair of used) frontier.add(size(pair), uOfDifference(errors, ...pair));
  const value = used.reduce((most, pair) => Math.max(most, size(pair)), 0);
  const sizeOf = (profile: Float64Array): number => {
    const [i, j] = worstPair(profile, plan);
    return Math.abs(profile[j]! - profile[i]!);
  };
  return {
    value,
    degrees: errors.degrees,
    upper: (z) => frontier.upper(z),
    lower: (c) => value - c,
    share: frontier.u,
    excesses: () =>
      errors.once(`within ${plan.last.join()}`, () => new Distribution(ofEachDraw(errors, sizeOf))),
  };
}
