/**
 * The range of a profile as the greatest of linear functionals: the differences of any two of its points. Parallelism and
 * twist are ranges, and so are straightness and coplanarity about a line or plane that is linear in the profile.
 */
import { MOST_IN_MATRIX, ofEachDraw, uOfDifference, type Errors } from './errors.js';
import { Frontier } from './frontier.js';
import { factorOf, type GreatestOf } from './greatest.js';
import { Distribution } from '../../base/statistics/distribution.js';

/** For profiles without a covariance matrix: the pairs of this many highest and this many lowest points are used. */
const MAX_POINTS_PER_SIDE = 200;
/** If the uncertainties of two pairs differ by more than this factor, each pair has its own weight. */
const MAX_U_RATIO_EQUAL_WEIGHTS = 1.5;

/**
 * @param d The profile about its reference, shape (n), n ≥ 2.
 * @param errors Errors of d.
 */
export function greatestRange(d: Float64Array, errors: Errors): GreatestOf {
  const n = d.length;
  const order = Array.from(d.keys()).sort((a, b) => d[b]! - d[a]! || a - b);
  const [high, low] = [order[0]!, order[n - 1]!];
  const value = d[high]! - d[low]!;
  const uOf = uOfPairs(errors);
  const frontier = new Frontier();
  let [least, most] = [Infinity, 0];
  forEachPair(order, (i, j) => {
    const u = uOf(i, j);
    frontier.add(d[i]! - d[j]!, u);
    if (u < least) least = u;
    if (u > most) most = u;
  });
  const even: GreatestOf = {
    value,
    degrees: errors.degrees,
    upper: (z) => frontier.upper(z),
    lower: (c) => value - c,
    share: uOf(high, low),
    excesses: (confidence) => {
      const noise = errors.once('ranges', () => new Distribution(ofEachDraw(errors, rangeOf)));
      const reach = noise.quantile(confidence);
      const gapAbove = d.map((v) => Math.max(0, d[high]! - v - reach));
      const gapBelow = d.map((v) => Math.max(0, v - d[low]! - reach));
      return excessesOf(errors, gapAbove, gapBelow, reach, noise);
    },
  };
  return n <= MOST_IN_MATRIX && most > MAX_U_RATIO_EQUAL_WEIGHTS * least
    ? uneven(d, errors, order, even)
    : even;
}

/**
 * Standard uncertainty of e_i − e_j, worked out once for all profiles that have these errors. The same for e_j − e_i to the last digit:
 * of two stations that are certain against each other, rounding must not leave a u in one order and none in the other.
 */
function uOfPairs(errors: Errors): (i: number, j: number) => number {
  const { n } = errors;
  const ofPair = (i: number, j: number) => uOfDifference(errors, Math.min(i, j), Math.max(i, j));
  if (n > MOST_IN_MATRIX) return ofPair;
  const table = errors.once('u of pairs', () =>
    Float64Array.from({ length: n * n }, (_, k) => ofPair(Math.floor(k / n), k % n)),
  );
  return (i, j) => table[i * n + j]!;
}

/** Pairs of points, the higher one first. */
function forEachPair(order: readonly number[], use: (above: number, below: number) => void): void {
  const n = order.length;
  const isLong = n > MOST_IN_MATRIX;
  for (let k = 0; k < (isLong ? MAX_POINTS_PER_SIDE : n); k++)
    for (let m = isLong ? n - MAX_POINTS_PER_SIDE : k + 1; m < n; m++) use(order[k]!, order[m]!);
}

/** Greatest minus least value. */
function rangeOf(profile: Float64Array): number {
  let most = -Infinity;
  let least = Infinity;
  for (let i = 0; i < profile.length; i++) {
    const v = profile[i]!;
    if (v > most) most = v;
    if (v < least) least = v;
  }
  return most - least;
}

const isZero = (gaps: Float64Array): boolean => gaps.every((g) => g === 0);

/** max (e_i − ĝ_i) − min (e_j + ĥ_j) of every draw. Points whose gap is larger than noise are left out. */
function excessesOf(
  { n, count, draws }: Errors,
  above: Float64Array,
  below: Float64Array,
  reach: number,
  plain: Distribution,
): Distribution {
  if (isZero(above) && isZero(below)) return plain;
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
  return new Distribution(out);
}

/** Each pair is weighted by its own uncertainty: if noise tilts the profile, neighbours are more certain than the far ends. */
function uneven(d: Float64Array, errors: Errors, order: readonly number[], even: GreatestOf): GreatestOf {
  const n = d.length;
  const uOf = uOfPairs(errors);
  // For each uncertainty the pair with the largest difference that is at least as certain: the frontier for −u.
  const surest = new Frontier();
  forEachPair(order, (i, j) => surest.add(d[i]! - d[j]!, -uOf(i, j)));
  return {
    ...even,
    lower: (c) => surest.upper(c),
    share: 1,
    excesses: (confidence) => {
      // Largest effect of noise on all pairs with this confidence (Bonferroni), as a multiple of their own uncertainty.
      const factor = factorOf((1 - confidence) / (n * (n - 1)), errors.degrees);
      const [gapAbove, gapBelow] = [new Float64Array(n), new Float64Array(n)];
      forEachPair(order, (i, j) => {
        const surely = d[i]! - d[j]! - factor * uOf(i, j);
        if (surely > gapAbove[j]!) gapAbove[j] = surely;
        if (surely > gapBelow[i]!) gapBelow[i] = surely;
      });
      const make = () => excessesOfPairs(errors, pairList(order, errors, gapAbove, gapBelow, factor));
      return isZero(gapAbove) && isZero(gapBelow) ? errors.once('pairs', make) : make();
    },
  };
}

/** Number of neighbouring points per block: the bound of two blocks excludes most of their pairs at once. */
const BLOCK_POINTS = 6;

/**
 * Pairs of points (upper, lower), sorted by pairs of blocks. A block pair is what its upper and its lower points have in common:
 * the pairs `from` ≤ k < `to`. All are arrays of numbers, because every draw reads all of them.
 */
interface PairList {
  readonly upper: Int32Array;
  readonly lower: Int32Array;
  readonly gap: Float64Array;
  /** 1/u. */
  readonly weight: Float64Array;
  readonly blocks: BlockPairs;
}

/** Each of shape (block pairs). */
interface BlockPairs {
  readonly upper: Int32Array;
  readonly lower: Int32Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly leastGap: Float64Array;
  readonly greatestWeight: Float64Array;
}

/** All pairs in both orders, without those whose gap is larger than noise. */
function pairList(
  order: readonly number[],
  errors: Errors,
  above: Float64Array,
  below: Float64Array,
  factor: number,
): PairList {
  const { n } = errors;
  const across = Math.ceil(n / BLOCK_POINTS);
  const uOf = uOfPairs(errors);
  const isKept = new Uint8Array(n * n);
  const sizes = new Int32Array(across * across);
  const blockOf = (i: number, j: number) =>
    Math.floor(i / BLOCK_POINTS) * across + Math.floor(j / BLOCK_POINTS);
  const keep = (i: number, j: number, u: number) => {
    if (!(above[i]! + below[j]! < factor * u)) return;
    isKept[i * n + j] = 1;
    sizes[blockOf(i, j)]!++;
  };
  forEachPair(order, (i, j) => {
    const u = uOf(i, j);
    if (!(u > 0)) return;
    keep(i, j, u);
    keep(j, i, u);
  });
  const filled = Int32Array.from(sizes.keys()).filter((k) => sizes[k]! > 0);
  const count = sizes.reduce((sum, size) => sum + size, 0);
  const [upper, lower] = [new Int32Array(count), new Int32Array(count)];
  const [gap, weight] = [new Float64Array(count), new Float64Array(count)];
  const blocks = {
    ...{ upper: filled.map((k) => Math.floor(k / across)), lower: filled.map((k) => k % across) },
    ...{ from: new Int32Array(filled.length), to: new Int32Array(filled.length) },
    ...{ leastGap: new Float64Array(filled.length), greatestWeight: new Float64Array(filled.length) },
  };
  let k = 0;
  for (let at = 0; at < filled.length; at++) {
    blocks.from[at] = k;
    const [firstUpper, firstLower] = [blocks.upper[at]! * BLOCK_POINTS, blocks.lower[at]! * BLOCK_POINTS];
    let [leastGap, greatestWeight] = [Infinity, 0];
    for (let i = firstUpper; i < Math.min(n, firstUpper + BLOCK_POINTS); i++)
      for (let j = firstLower; j < Math.min(n, firstLower + BLOCK_POINTS); j++) {
        if (isKept[i * n + j] === 0) continue;
        upper[k] = i;
        lower[k] = j;
        gap[k] = above[i]! + below[j]!;
        weight[k] = 1 / uOf(i, j);
        leastGap = Math.min(leastGap, gap[k]!);
        greatestWeight = Math.max(greatestWeight, weight[k]!);
        k++;
      }
    blocks.to[at] = k;
    blocks.leastGap[at] = leastGap;
    blocks.greatestWeight[at] = greatestWeight;
  }
  return { upper, lower, gap, weight, blocks };
}

/** max (e_i − e_j − ĝ)/u of every draw. */
function excessesOfPairs({ n, count, draws }: Errors, pairs: PairList): Distribution {
  const { upper, lower, gap, weight, blocks } = pairs;
  const { upper: above, lower: below, from, to, leastGap, greatestWeight } = blocks;
  const blockCount = from.length;
  const out = new Float64Array(count);
  const [own, bound] = [new Float64Array(n), new Float64Array(blockCount)];
  const across = Math.ceil(n / BLOCK_POINTS);
  const [highest, lowest] = [new Float64Array(across), new Float64Array(across)];
  for (let b = 0; b < count; b++) {
    for (let block = 0, i = 0; block < across; block++) {
      let [high, low] = [-Infinity, Infinity];
      for (const end = Math.min(n, i + BLOCK_POINTS); i < end; i++) {
        const v = draws[b * n + i]!;
        own[i] = v;
        if (v > high) high = v;
        if (v < low) low = v;
      }
      highest[block] = high;
      lowest[block] = low;
    }
    let first = 0;
    for (let k = 0; k < blockCount; k++) {
      const widest = highest[above[k]!]! - lowest[below[k]!]! - leastGap[k]!;
      bound[k] = widest > 0 ? widest * greatestWeight[k]! : 0;
      if (bound[k]! > bound[first]!) first = k;
    }
    let most = -Infinity;
    // The block pair with the largest bound comes first: its result excludes most of the others.
    for (let step = -1; step < blockCount; step++) {
      const block = step < 0 ? first : step;
      if (!(bound[block]! > most)) continue;
      const end = to[block]!;
      for (let k = from[block]!; k < end; k++) {
        const v = (own[upper[k]!]! - own[lower[k]!]! - gap[k]!) * weight[k]!;
        if (v > most) most = v;
      }
    }
    out[b] = most;
  }
  return new Distribution(out);
}
