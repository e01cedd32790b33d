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

/** Standard uncertainty of e_i − e_j, worked out once for all profiles that have these errors. */
function uOfPairs(errors: Errors): (i: number, j: number) => number {
  const { n } = errors;
  if (n > MOST_IN_MATRIX) return (i, j) => uOfDifference(errors, i, j);
  const table = errors.once('u of pairs', () =>
    Float64Array.from({ length: n * n }, (_, k) => uOfDifference(errors, Math.floor(k / n), k % n)),
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

/** max (e_i − ĝ_i) − min (e_j + ĥ_j) of every draw. Points whose gap is larger than noise are left out. */
function excessesOf(
  { n, count, draws }: Errors,
  above: Float64Array,
  below: Float64Array,
  reach: number,
  plain: Distribution,
): Distribution {
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
      return excessesOfPairs(errors, pairList(order, errors, gapAbove, gapBelow, factor));
    },
  };
}

/** Number of neighbouring points per block: the bound of two blocks excludes most of their pairs at once. */
const BLOCK_POINTS = 6;

/** Pairs of points (upper, lower), sorted by pairs of blocks. */
interface PairList {
  readonly upper: Int32Array;
  readonly lower: Int32Array;
  readonly gap: Float64Array;
  /** 1/u. */
  readonly weight: Float64Array;
  readonly blocks: readonly BlockPair[];
}

/** The pairs `from` ≤ k < `to` of a list, of an upper point in one block and a lower point in another or the same. */
interface BlockPair {
  readonly upper: number;
  readonly lower: number;
  readonly from: number;
  readonly to: number;
  readonly leastGap: number;
  readonly greatestWeight: number;
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
  const blocks = Array.from({ length: across ** 2 }, (_, k) => ({
    ...{ upper: Math.floor(k / across), lower: k % across },
    ...{ from: 0, to: 0, leastGap: Infinity, greatestWeight: -Infinity },
  }));
  const blockOf = (i: number, j: number) =>
    blocks[Math.floor(i / BLOCK_POINTS) * across + Math.floor(j / BLOCK_POINTS)]!;
  // By upper and lower point; NaN: left out.
  const weight = new Float64Array(n * n).fill(NaN);
  const keep = (i: number, j: number, u: number) => {
    const gap = above[i]! + below[j]!;
    if (!(gap < factor * u)) return;
    const block = blockOf(i, j);
    weight[i * n + j] = 1 / u;
    block.to++;
    block.leastGap = Math.min(block.leastGap, gap);
    block.greatestWeight = Math.max(block.greatestWeight, 1 / u);
  };
  forEachPair(order, (i, j) => {
    const u = uOf(i, j);
    if (!(u > 0)) return;
    keep(i, j, u);
    keep(j, i, u);
  });
  let count = 0;
  for (const block of blocks) {
    const size = block.to;
    block.from = block.to = count;
    count += size;
  }
  const pairs = {
    ...{ upper: new Int32Array(count), lower: new Int32Array(count) },
    ...{ gap: new Float64Array(count), weight: new Float64Array(count) },
  };
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      if (Number.isNaN(weight[i * n + j])) continue;
      const k = blockOf(i, j).to++;
      pairs.upper[k] = i;
      pairs.lower[k] = j;
      pairs.gap[k] = above[i]! + below[j]!;
      pairs.weight[k] = weight[i * n + j]!;
    }
  return { ...pairs, blocks: blocks.filter(({ from, to }) => to > from) };
}

/** max (e_i − e_j − ĝ)/u of every draw. */
function excessesOfPairs({ n, count, draws }: Errors, pairs: PairList): Distribution {
  const { upper, lower, gap, weight, blocks } = pairs;
  const out = new Float64Array(count);
  const [own, bound] = [new Float64Array(n), new Float64Array(blocks.length)];
  const across = Math.ceil(n / BLOCK_POINTS);
  const [highest, lowest] = [new Float64Array(across), new Float64Array(across)];
  for (let b = 0; b < count; b++) {
    highest.fill(-Infinity);
    lowest.fill(Infinity);
    for (let i = 0; i < n; i++) {
      const v = draws[b * n + i]!;
      const block = Math.floor(i / BLOCK_POINTS);
      own[i] = v;
      if (v > highest[block]!) highest[block] = v;
      if (v < lowest[block]!) lowest[block] = v;
    }
    let first = 0;
    for (let k = 0; k < blocks.length; k++) {
      const block = blocks[k]!;
      const most = highest[block.upper]! - lowest[block.lower]! - block.leastGap;
      bound[k] = most > 0 ? most * block.greatestWeight : 0;
      if (bound[k]! > bound[first]!) first = k;
    }
    let most = -Infinity;
    // The block with the largest bound comes first: its result excludes most of the others.
    for (let step = 0; step < blocks.length; step++) {
      const at = (first + step) % blocks.length;
      if (bound[at]! <= most) continue;
      const { from, to } = blocks[at]!;
      for (let k = from; k < to; k++) {
        const v = (own[upper[k]!]! - own[lower[k]!]! - gap[k]!) * weight[k]!;
        if (v > most) most = v;
      }
    }
    out[b] = most;
  }
  return new Distribution(out);
}
