/**
 * The range of a profile as a greatest of linear functionals: the differences of any two of its points. Parallelism and
 * twist are ranges, and so are straightness and coplanarity about a line or plane that is linear in the profile.
 */
import { MOST_IN_MATRIX, ofEachDraw, uOfDifference, type Errors } from './errors.js';
import { Frontier } from './frontier.js';
import { factorOf, type GreatestOf } from './greatest.js';
import { leastOf, mostOf } from '../../base/statistics/extent.js';
import { Distribution } from '../../base/statistics/distribution.js';

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
      const noise = errors.once('ranges', () => new Distribution(ofEachDraw(errors, rangeOf)));
      const reach = noise.quantile(confidence);
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

/** Greatest less least. */
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

/** max (e_i − ĝ_i) − min (e_j + ĥ_j) of every draw; points whose gap noise cannot close are passed over. */
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

/** Neighbouring points that are looked at together: what two such blocks can make rules most of their pairs out. */
const BLOCK = 6;

/** Pairs of points that count with their sign, those of two blocks together. */
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

/** All pairs, either way round, less those whose gap noise cannot close. */
function pairList(
  order: readonly number[],
  errors: Errors,
  above: Float64Array,
  below: Float64Array,
  factor: number,
): PairList {
  const across = Math.ceil(errors.n / BLOCK);
  const kept: { i: number; j: number; gap: number; weight: number }[][] = Array.from(
    { length: across ** 2 },
    () => [],
  );
  const keep = (i: number, j: number, gap: number, u: number) => {
    if (gap < factor * u)
      kept[Math.floor(i / BLOCK) * across + Math.floor(j / BLOCK)]!.push({ i, j, gap, weight: 1 / u });
  };
  forEachPair(order, (i, j) => {
    const u = uOfDifference(errors, i, j);
    if (!(u > 0)) return;
    keep(i, j, above[i]! + below[j]!, u);
    keep(j, i, above[j]! + below[i]!, u);
  });
  let to = 0;
  const blocks = kept.map((pairs, k) => ({
    upper: Math.floor(k / across),
    lower: k % across,
    from: to,
    to: (to += pairs.length),
    leastGap: leastOf(pairs.map((pair) => pair.gap)),
    greatestWeight: mostOf(pairs.map((pair) => pair.weight)),
  }));
  const all = kept.flat();
  return {
    upper: Int32Array.from(all, (pair) => pair.i),
    lower: Int32Array.from(all, (pair) => pair.j),
    gap: Float64Array.from(all, (pair) => pair.gap),
    weight: Float64Array.from(all, (pair) => pair.weight),
    blocks: blocks.filter((block) => block.to > block.from),
  };
}

/** max (e_i − e_j − ĝ)/u of every draw. */
function excessesOfPairs({ n, count, draws }: Errors, pairs: PairList): Distribution {
  const { upper, lower, gap, weight, blocks } = pairs;
  const out = new Float64Array(count);
  const [own, bound] = [new Float64Array(n), new Float64Array(blocks.length)];
  const across = Math.ceil(n / BLOCK);
  const [highest, lowest] = [new Float64Array(across), new Float64Array(across)];
  for (let b = 0; b < count; b++) {
    highest.fill(-Infinity);
    lowest.fill(Infinity);
    for (let i = 0; i < n; i++) {
      const v = draws[b * n + i]!;
      const block = Math.floor(i / BLOCK);
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
    // The blocks that may make most come first: what they make rules out most of the others.
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
