/**
 * The deviation of greatest magnitude, with its sign: height difference, cross-level, span. Its magnitude is the greatest
 * of the linear functionals ±δ_i.
 */
import type { Errors } from './errors.js';
import {
  endAt,
  Ends,
  factorOf,
  partsAt,
  type CoverageResult,
  type EndParts,
  type GreatestOf,
} from './greatest.js';
import { Distribution } from '../../base/statistics/distribution.js';
import { leastOf, mostOf } from '../../base/statistics/extent.js';

/**
 * Coverage interval of the signed extreme. It is on one side of zero if the other side is certainly smaller: the upper end of
 * that side is below the lower end of the magnitude. Else it is [−U₋, U₊], the upper ends of both sides.
 *
 * It is on the wrong side only if one of the two ends is wrong: with L ≤ |θ| ≤ U the side of θ reaches at least L.
 *
 * @param d Observed deviations, shape (n), n ≥ 1. @param errors Errors of d.
 * @returns interval of the signed value; `probabilityAtMost(limit)` is for the magnitude.
 */
export function signedInterval(d: Float64Array, errors: Errors, coverage: number): CoverageResult {
  const of = greatestMagnitude(d, errors);
  const ends = new Ends(of, coverage);
  const p = (1 - coverage) / 2;
  // For one side alone the plain factor is used: the noise of the magnitude does not depend on the side.
  const z = factorOf(p, errors.degrees);
  const u = uOfEach(errors);
  const reachOf = (side: 1 | -1) =>
    partsAt((factor) => d.reduce((most, v, i) => Math.max(most, side * v + factor * u[i]!), -Infinity), z);
  const [upper, below] = [reachOf(1), reachOf(-1)];
  const [up, down] = [endAt(upper), endAt(below)];
  const least = ends.lowerOf(p);
  const magnitude = endAt(least) <= Math.max(up, down) ? least : up > down ? upper : below;
  const L = endAt(magnitude);
  const turned = ({ reads, factor, u: of }: EndParts): EndParts => ({
    reads: -reads,
    factor: -factor,
    u: of,
  });
  const parts: readonly [EndParts, EndParts] =
    down < L ? [magnitude, upper] : up < L ? [turned(below), turned(magnitude)] : [turned(below), upper];
  return {
    interval: [endAt(parts[0]), endAt(parts[1])],
    ends: parts,
    reach: ends.reach,
    probabilityAtMost: (limit) => ends.confidenceAtMost(limit),
  };
}

const uOfEach = (errors: Errors): Float64Array =>
  Float64Array.from({ length: errors.n }, (_, i) => Math.sqrt(Math.max(0, errors.covariance(i, i))));

/** Greatest magnitude of the errors of each draw, and the difference of its ends. */
function noiseOf({ n, count, draws }: Errors): Record<'noise' | 'ranges', Distribution> {
  const magnitudes = new Float64Array(count);
  const widths = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    let [most, least] = [-Infinity, Infinity];
    for (let i = b * n; i < (b + 1) * n; i++) {
      const v = draws[i]!;
      if (v > most) most = v;
      if (v < least) least = v;
    }
    magnitudes[b] = Math.max(most, -least);
    widths[b] = most - least;
  }
  return { noise: new Distribution(magnitudes), ranges: new Distribution(widths) };
}

/** max (±e_i − ĝ)/u_i of every draw. */
function excessesOf(
  { n, count, draws }: Errors,
  above: Float64Array,
  below: Float64Array,
  u: Float64Array,
): Distribution {
  const out = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    let most = -Infinity;
    for (let i = 0; i < n; i++) {
      const e = draws[b * n + i]!;
      const v = Math.max(e - above[i]!, -e - below[i]!) / u[i]!;
      if (v > most) most = v;
    }
    out[b] = most;
  }
  return new Distribution(out);
}

/** The magnitude as the greatest of linear functionals. */
export function greatestMagnitude(d: Float64Array, errors: Errors): GreatestOf {
  const { n } = errors;
  const u = uOfEach(errors);
  let at = 0;
  for (let i = 1; i < n; i++) if (Math.abs(d[i]!) > Math.abs(d[at]!)) at = i;
  const { noise, ranges } = errors.once('magnitudes', () => noiseOf(errors));
  const farthest = (factor: number) =>
    d.reduce((most, v, i) => Math.max(most, Math.abs(v) + factor * u[i]!), -Infinity);
  return {
    value: Math.abs(d[at]!),
    degrees: errors.degrees,
    upper: farthest,
    lower: (c) => farthest(-c),
    share: 1,
    excesses: (confidence) => {
      // Half of the allowed probability for each: the difference of two points, and the deviation of a single point.
      const reach = ranges.quantile((1 + confidence) / 2);
      const twice = 2 * noise.quantile((1 + confidence) / 2);
      const [high, low] = [mostOf(d), leastOf(d)];
      const above = d.map((v) => Math.max(0, high - v - reach, -low - v - twice));
      const below = d.map((v) => Math.max(0, v - low - reach, high + v - twice));
      const isOpen = above.every((g) => g === 0) && below.every((g) => g === 0);
      const make = () => excessesOf(errors, above, below, u);
      return isOpen ? errors.once('magnitudes over u', make) : make();
    },
  };
}
