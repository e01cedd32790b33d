/**
 * The range of a profile as a greatest of linear functionals: the differences of any two of its points. Parallelism and
 * twist are ranges, and so are straightness and coplanarity about a line or plane that is linear in the profile.
 */
import { MOST_IN_MATRIX, uOfDifference, type Errors } from './errors.js';
import { Frontier } from './frontier.js';
import { factorOf, type GreatestOf } from './greatest.js';
import { quantile } from '../statistics/quantile.js';

/** Of a profile longer than a matrix of covariances, the pairs of so many highest and so many lowest points. */
const SOME = 200;
/** Where the uncertainties of two pairs differ by more than this factor, each pair counts by its own. */
const UNEVEN = 1.5;

/**
 * @param d The profile about its reference, shape (n), n ≥ 2.
 * @param errors Of the same.
 */
export function greatestRange(d: Float64Array, errors: Errors): GreatestOf {
  const n = d.length;
  const order = Array.from(d.keys()).sort((a, b) => d[b]! - d[a]! || a - b);
  const [high, low] = [order[0]!, order[n - 1]!];
  const value = d[high]! - d[low]!;
  const frontier = new Frontier();
  let [least, most] = [Infinity, 0];
  forEachPair(order, (i, j) => {
    const u = uOfDifference(errors, i, j);
    frontier.add(d[i]! - d[j]!, u);
    if (u < least) least = u;
    if (u > most) most = u;
  });
  const even: GreatestOf = {
    value,
    degrees: errors.degrees,
    upper: (z) => frontier.upper(z),
    lower: (c) => value - c,
    share: uOfDifference(errors, high, low),
    excesses: (confidence) => {
      const noise = errors.once('ranges', () => rangesOf(errors));
      const reach = quantile(noise, confidence);
      const gapAbove = d.map((v) => Math.max(0, d[high]! - v - reach));
      const gapBelow = d.map((v) => Math.max(0, v - d[low]! - reach));
      return excessesOf(errors, gapAbove, gapBelow, reach, noise);
    },
  };
  return n <= MOST_IN_MATRIX && most > UNEVEN * least ? uneven(d, errors, order, even) : even;
}

/** Pairs of points, the one that reads more first. */
function forEachPair(order: readonly number[], use: (above: number, below: number) => void): void {
  const n = order.length;
  const isLong = n > MOST_IN_MATRIX;
  for (let k = 0; k < (isLong ? SOME : n); k++)
    for (let m = isLong ? n - SOME : k + 1; m < n; m++) use(order[k]!, order[m]!);
}

const rangesOf = ({ n, count, draws }: Errors): Float64Array =>
  Float64Array.from({ length: count }, (_, b) => rangeAt(draws, b * n, n)).sort();

/** Greatest less least of n numbers from `at` on. */
function rangeAt(values: Float64Array, at: number, n: number): number {
  let most = -Infinity;
  let least = Infinity;
  for (let i = at; i < at + n; i++) {
    const v = values[i]!;
    if (v > most) most = v;
    if (v < least) least = v;
  }
  return most - least;
}

/** max (e_i − ĝ_i) − min (e_j + ĥ_j) of every draw, ascending; points whose gap noise cannot close are passed over. */
function excessesOf(
  { n, count, draws }: Errors,
  above: Float64Array,
  below: Float64Array,
  reach: number,
  plain: Float64Array,
): Float64Array {
  if (above.every((g) => g === 0) && below.every((g) => g === 0)) return plain;
  const near = (gaps: Float64Array) => Int32Array.from([...gaps.keys()].filter((i) => gaps[i]! < reach));
  const [tops, bottoms] = [near(above), near(below)];
  const out = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    let most = -Infinity;
    let least = Infinity;
    for (let k = 0; k < tops.length; k++) {
      const v = draws[b * n + tops[k]!]! - above[tops[k]!]!;
      if (v > most) most = v;
    }
    for (let k = 0; k < bottoms.length; k++) {
      const v = draws[b * n + bottoms[k]!]! + below[bottoms[k]!]!;
      if (v < least) least = v;
    }
    out[b] = most - least;
  }
  return out.sort();
}

/** Each pair counts by its own uncertainty: where noise tilts the profile, neighbours say more than the far ends. */
function uneven(d: Float64Array, errors: Errors, order: readonly number[], even: GreatestOf): GreatestOf {
  const n = d.length;
  // Of those that are as sure, the one that reads most: the frontier of the other side.
  const surest = new Frontier();
  forEachPair(order, (i, j) => surest.add(d[i]! - d[j]!, -uOfDifference(errors, i, j)));
  return {
    ...even,
    lower: (c) => surest.upper(c),
    share: 1,
    excesses: (confidence) => {
      // What noise makes of any two points, with that confidence (Bonferroni): so many times their own uncertainty.
      const factor = factorOf((1 - confidence) / (n * (n - 1)), errors.degrees);
      const [gapAbove, gapBelow] = [new Float64Array(n), new Float64Array(n)];
      forEachPair(order, (i, j) => {
        const surely = d[i]! - d[j]! - factor * uOfDifference(errors, i, j);
        if (surely > gapAbove[j]!) gapAbove[j] = surely;
        if (surely > gapBelow[i]!) gapBelow[i] = surely;
      });
      return excessesOfPairs(errors, pairList(order, errors, gapAbove, gapBelow, factor));
    },
  };
}

/** Pairs of points that count with their sign, the surest first. */
interface PairList {
  readonly plus: Int32Array;
  readonly minus: Int32Array;
  readonly gap: Float64Array;
  /** 1/u. */
  readonly weight: Float64Array;
}

/** All pairs, either way round, less those whose gap noise cannot close. */
function pairList(
  order: readonly number[],
  errors: Errors,
  above: Float64Array,
  below: Float64Array,
  factor: number,
): PairList {
  const kept: [plus: number, minus: number, gap: number, weight: number][] = [];
  forEachPair(order, (i, j) => {
    const u = uOfDifference(errors, i, j);
    if (!(u > 0)) return;
    const [gap, turned] = [above[i]! + below[j]!, above[j]! + below[i]!];
    if (gap < factor * u) kept.push([i, j, gap, 1 / u]);
    if (turned < factor * u) kept.push([j, i, turned, 1 / u]);
  });
  kept.sort((a, b) => b[3] - a[3]);
  return {
    plus: Int32Array.from(kept, (k) => k[0]),
    minus: Int32Array.from(kept, (k) => k[1]),
    gap: Float64Array.from(kept, (k) => k[2]),
    weight: Float64Array.from(kept, (k) => k[3]),
  };
}

/** max (e_i − e_j − ĝ)/u of every draw, ascending. No pair that is less sure than R/max, R the draw's range, can be it. */
function excessesOfPairs({ n, count, draws }: Errors, { plus, minus, gap, weight }: PairList): Float64Array {
  const out = new Float64Array(count);
  const own = new Float64Array(n);
  const pairs = weight.length;
  for (let b = 0; b < count; b++) {
    for (let i = 0; i < n; i++) own[i] = draws[b * n + i]!;
    const range = rangeAt(own, 0, n);
    let most = -Infinity;
    for (let k = 0; k < pairs; k++) {
      const w = weight[k]!;
      if (range * w <= most) break;
      const v = (own[plus[k]!]! - own[minus[k]!]! - gap[k]!) * w;
      if (v > most) most = v;
    }
    out[b] = most;
  }
  return out.sort();
}
