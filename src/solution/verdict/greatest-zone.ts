/**
 * A minimum zone as the greatest of linear functionals. By the duality of linear programming the width of the narrowest
 * zone is the greatest of Σw_i·d_i − Σw_j·d_j over points i on one side and j on the other. The weights of each side add up
 * to 1, and no line (plane) changes the difference: for a line it is one point against the chord of two, for a plane three
 * points against one, or two against two. Each functional is a mean of differences of pairs, so its uncertainty is at most
 * that of the worst of these pairs.
 */
import { MOST_IN_MATRIX, ofEachDraw, uOfDifference, type Errors } from './errors.js';
import { Frontier } from './frontier.js';
import type { GreatestOf } from './greatest.js';
import { Distribution } from '../../base/statistics/distribution.js';
import { leastOf, mostOf } from '../../base/statistics/extent.js';

/** A kind of zone, for many profiles over one plan. */
export interface ZoneOf {
  /** Names it among all zones of profiles with the same errors. */
  readonly name: string;
  readonly widthOf: (profile: Float64Array) => number;
  /** width = Σ weight·profile near this profile. */
  readonly supportOf: (
    profile: Float64Array,
  ) => readonly { readonly index: number; readonly weight: number }[];
}

/** Most points of a profile for which all triples are used for the upper end. */
const MAX_POINTS_ALL_TRIPLES = 70;

/** What the interval of a zone needs in addition to its width. */
export interface ZoneEnds {
  /** max (ℓ·d + z·s_ℓ), or an upper bound of it. */
  readonly upper: (z: number) => number;
  /** max (ℓ·e − ĝ_ℓ) of every draw, if the zone of noise alone is at most `reach`; null: gaps are not used. */
  readonly excesses: ((reach: number, plain: Distribution) => Distribution) | null;
}

/** @param d Shape (n), about any line (plane). @param errors Errors of d. */
export function greatestZone(d: Float64Array, errors: Errors, zone: ZoneOf, ends: ZoneEnds): GreatestOf {
  const value = zone.widthOf(d);
  const support = zone.supportOf(d).filter(({ weight }) => weight !== 0);
  return {
    value,
    degrees: errors.degrees,
    upper: ends.upper,
    lower: (c) => value - c,
    share: uOfSum(errors, support),
    excesses: (confidence) => {
      const noise = errors.once(zone.name, () => new Distribution(ofEachDraw(errors, zone.widthOf)));
      return ends.excesses?.(noise.quantile(confidence), noise) ?? noise;
    },
  };
}

function uOfSum(
  errors: Errors,
  terms: readonly { readonly index: number; readonly weight: number }[],
): number {
  let variance = 0;
  for (const a of terms)
    for (const b of terms) variance += a.weight * b.weight * errors.covariance(a.index, b.index);
  return Math.sqrt(Math.max(0, variance));
}

/** Bound: the uncertainty of a functional is at most that of the worst pair of points that can be in it (i < j). */
export function boundByPairs(
  value: number,
  errors: Errors,
  together: (i: number, j: number) => boolean = () => true,
): ZoneEnds['upper'] {
  const most = greatestUOfPairs(errors, together);
  return (z) => value + z * most;
}

function greatestUOfPairs(errors: Errors, together: (i: number, j: number) => boolean = () => true): number {
  const n = errors.n;
  let most = 0;
  for (let i = 0; i < n; i++) {
    // For a long profile: u(e_i − e_j) ≤ u(e_i) + u(e_j).
    if (n > MOST_IN_MATRIX) most = Math.max(most, 2 * Math.sqrt(errors.covariance(i, i)));
    else
      for (let j = i + 1; j < n; j++) if (together(i, j)) most = Math.max(most, uOfDifference(errors, i, j));
  }
  return most;
}

/** For a line: every point against every chord over it, if there are few enough points; else as for pairs. */
export function upperOfTriples(
  x: Float64Array,
  d: Float64Array,
  errors: Errors,
  value: number,
): ZoneEnds['upper'] {
  if (x.length > MAX_POINTS_ALL_TRIPLES) return boundByPairs(value, errors);
  const frontier = new Frontier();
  addTriples(x, d, errors, 0, x.length, frontier);
  return (z) => frontier.upper(z);
}

/** Triples of neighbours in position among the points from `first` up to `end`. */
function addTriples(
  x: Float64Array,
  d: Float64Array,
  { covariance: c }: Errors,
  first: number,
  end: number,
  frontier: Frontier,
): void {
  for (let i = first; i < end; i++) {
    for (let k = i + 2; k < end; k++) {
      for (let j = i + 1; j < k; j++) {
        const q = (x[j]! - x[i]!) / (x[k]! - x[i]!);
        const p = 1 - q;
        const variance =
          c(j, j) +
          p * p * c(i, i) +
          q * q * c(k, k) -
          2 * p * c(i, j) -
          2 * q * c(j, k) +
          2 * p * q * c(i, k);
        frontier.add(Math.abs(d[j]! - p * d[i]! - q * d[k]!), Math.sqrt(Math.max(0, variance)));
      }
    }
  }
}

/** Most points of each of two rails for which every two points of one are used with every two of the other. */
const MAX_POINTS_ALL_QUADRUPLES = 45;

/**
 * For the plane of two parallel rails; the points of the second rail begin at `second`. A functional that no plane changes
 * has three points of one rail, or two of each.
 */
export function upperOfTwoRails(
  x: Float64Array,
  d: Float64Array,
  errors: Errors,
  second: number,
  value: number,
): ZoneEnds['upper'] {
  const n = x.length;
  if (Math.max(second, n - second) > MAX_POINTS_ALL_QUADRUPLES) return boundByPairs(value, errors);
  const frontier = new Frontier();
  addTriples(x, d, errors, 0, second, frontier);
  addTriples(x, d, errors, second, n, frontier);
  const bundles = bundlesOf(chordsOf(x, d, errors, second, n));
  for (const one of chordsOf(x, d, errors, 0, second)) {
    for (const bundle of bundles) {
      const most = Math.max(Math.abs(one.slope - bundle.least), Math.abs(one.slope - bundle.most));
      const weight = one.weight + bundle.weight;
      if (!frontier.isIdle(most / weight, (one.u + bundle.u) / weight))
        for (const other of bundle.chords) addQuadruple(one, other, errors, frontier);
    }
  }
  return (z) => frontier.upper(z);
}

/** Two points of a rail. */
interface Chord {
  readonly from: number;
  readonly to: number;
  /** 1/length. */
  readonly weight: number;
  readonly slope: number;
  /** Standard uncertainty of the slope. */
  readonly u: number;
}

/** Every two points from `first` up to `end`, the longest chords first. */
function chordsOf(x: Float64Array, d: Float64Array, errors: Errors, first: number, end: number): Chord[] {
  const chords: Chord[] = [];
  for (let from = first; from < end; from++)
    for (let to = from + 1; to < end; to++) {
      const weight = 1 / (x[to]! - x[from]!);
      const u = uOfDifference(errors, from, to) * weight;
      chords.push({ from, to, weight, slope: (d[to]! - d[from]!) * weight, u });
    }
  return chords.sort((a, b) => a.weight - b.weight);
}

/** Chords of similar length, with their least weight, the range of their slopes and their greatest u. */
interface Bundle {
  readonly chords: readonly Chord[];
  readonly weight: number;
  readonly least: number;
  readonly most: number;
  readonly u: number;
}

/** Number of chords per bundle: if the bound of a bundle is too small, none of its chords is examined. */
const CHORDS_PER_BUNDLE = 16;

function bundlesOf(chords: readonly Chord[]): Bundle[] {
  return Array.from({ length: Math.ceil(chords.length / CHORDS_PER_BUNDLE) }, (_, k) => {
    const own = chords.slice(k * CHORDS_PER_BUNDLE, (k + 1) * CHORDS_PER_BUNDLE);
    return {
      chords: own,
      weight: own[0]!.weight,
      least: leastOf(own.map(({ slope }) => slope)),
      most: mostOf(own.map(({ slope }) => slope)),
      u: mostOf(own.map(({ u }) => u)),
    };
  });
}

/** Slope of a chord of one rail minus that of the other, with weights that add up to 1 on each side. */
function addQuadruple(one: Chord, other: Chord, { covariance: c }: Errors, frontier: Frontier): void {
  const [p, q] = [one.weight, other.weight];
  const reading = Math.abs(one.slope - other.slope) / (p + q);
  if (frontier.isIdle(reading, (one.u + other.u) / (p + q))) return;
  const { from: i, to: j } = one;
  const { from: k, to: m } = other;
  const a = p / (p + q);
  const b = q / (p + q);
  const variance =
    a * a * (c(i, i) + c(j, j) - 2 * c(i, j)) +
    b * b * (c(k, k) + c(m, m) - 2 * c(k, m)) -
    2 * a * b * (c(j, m) - c(j, k) - c(i, m) + c(i, k));
  frontier.add(reading, Math.sqrt(Math.max(0, variance)));
}

/** The zone of some neighbouring points of a profile, from `from` up to `to`. */
export interface PartZone extends ZoneOf {
  readonly from: number;
  readonly to: number;
}

/** The zones of the parts and the whole are weighted by this quantile of the zones of noise alone. */
const NOISE_QUANTILE = 0.95;

/**
 * The zone of two rails about one plane is at least that of each rail about a line. If direction was carried over between
 * them, noise has a much smaller effect on the latter. So the lower end is taken from all three, each weighted by its noise.
 */
export function withParts(
  whole: GreatestOf,
  zone: ZoneOf,
  d: Float64Array,
  errors: Errors,
  parts: readonly PartZone[],
): GreatestOf {
  const all = [{ ...zone, from: 0, to: d.length }, ...parts].map(({ widthOf, supportOf, from, to }) => {
    const widths = ofEachDraw(errors, widthOf, from, to);
    const own = d.subarray(from, to);
    const support = supportOf(own).map(({ index, weight }) => ({ index: index + from, weight }));
    return {
      value: widthOf(own),
      widths,
      u: uOfSum(errors, support),
      usual: new Distribution(widths.slice()).quantile(NOISE_QUANTILE),
    };
  });
  const lower = (c: number) =>
    all.reduce((most, { value, usual }) => Math.max(most, value - c * usual), -Infinity);
  const first = all.reduce((a, b) => (b.value - b.usual > a.value - a.usual ? b : a));
  return {
    ...whole,
    lower,
    share: first.u / first.usual,
    excesses: () => {
      const out = new Float64Array(errors.count);
      for (const { widths, usual } of all)
        for (let b = 0; b < out.length; b++) out[b] = Math.max(out[b]!, widths[b]! / usual);
      return new Distribution(out);
    },
  };
}

/** Number of slopes at which gaps are calculated, over the possible slopes of the zone. */
const SLOPE_COUNT = 24;

/**
 * max over ℓ of (ℓ·e − g_ℓ) of every draw, for the zone of a line, with lower bounds of the gaps.
 *
 * Let b* be the slope of the true zone, m the greatest and least distance from it. The gap of ℓ is Σw_i·G_i + Σw_j·H_j, G and H
 * the distances of its points from the zone's two lines, so that by the same duality the greatest of ℓ·e − g_ℓ is the zone
 * of e whose upper side is e_i − G_i and whose lower side is e_j + H_j. If the zone of noise is at most `reach`:
 * - b* is among the slopes about which the range of d is at most its own zone + 2·reach;
 * - G_i is at least the minimum, over these slopes, of the distance of point i below the highest point, minus reach.
 */
export function excessesOfLine(
  x: Float64Array,
  d: Float64Array,
  errors: Errors,
  value: number,
  reach: number,
  plain: Distribution,
): Distribution {
  const { n, count, draws } = errors;
  const rangeAt = (slope: number) => {
    let [most, least] = [-Infinity, Infinity];
    for (let i = 0; i < n; i++) {
      const v = d[i]! - slope * x[i]!;
      if (v > most) most = v;
      if (v < least) least = v;
    }
    return most - least;
  };
  const [from, to] = slopesWithin(rangeAt, value + 2 * reach, x);
  const step = (to - from) / SLOPE_COUNT;
  const span = x[n - 1]! - x[0]!;
  const above = new Float64Array(n).fill(Infinity);
  const below = new Float64Array(n).fill(Infinity);
  for (let k = 0; k <= SLOPE_COUNT; k++) {
    const slope = from + k * step;
    let [most, least] = [-Infinity, Infinity];
    for (let i = 0; i < n; i++) {
      const v = d[i]! - slope * x[i]!;
      if (v > most) most = v;
      if (v < least) least = v;
    }
    for (let i = 0; i < n; i++) {
      const v = d[i]! - slope * x[i]!;
      above[i] = Math.min(above[i]!, most - v);
      below[i] = Math.min(below[i]!, v - least);
    }
  }
  // Between two of these slopes a distance changes by at most half a step times the whole length.
  const unseen = reach + (step / 2) * span;
  for (let i = 0; i < n; i++) {
    above[i] = Math.max(0, above[i]! - unseen);
    below[i] = Math.max(0, below[i]! - unseen);
  }
  if (above.every((g) => g === 0) && below.every((g) => g === 0)) return plain;
  const near = (gaps: Float64Array) => Int32Array.from([...gaps.keys()].filter((i) => gaps[i]! < 2 * reach));
  const [tops, bottoms] = [near(above), near(below)];
  const out = new Float64Array(count);
  for (let b = 0; b < count; b++) out[b] = zoneBetween(x, draws, b * n, above, below, tops, bottoms);
  return new Distribution(out);
}

/** The slopes about which the range is at most `most`: it is convex in the slope. */
function slopesWithin(rangeAt: (slope: number) => number, most: number, x: Float64Array): [number, number] {
  const gaps = Array.from({ length: x.length - 1 }, (_, i) => x[i + 1]! - x[i]!);
  const farthest = (rangeAt(0) + most) / leastOf(gaps);
  let [low, high] = [-farthest, farthest];
  for (let k = 0; k < 60; k++) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (rangeAt(a) < rangeAt(b)) high = b;
    else low = a;
  }
  const best = (low + high) / 2;
  const edge = (side: 1 | -1): number => {
    let [a, b] = [0, farthest + Math.abs(best)];
    for (let k = 0; k < 50; k++) {
      const middle = (a + b) / 2;
      if (rangeAt(best + side * middle) <= most) a = middle;
      else b = middle;
    }
    return best + side * b;
  };
  return [edge(-1), edge(1)];
}

/** The straight piece of the width function at slope b. */
interface Piece {
  readonly b: number;
  readonly value: number;
  readonly slope: number;
}

/**
 * Minimum over all slopes b of max (e_i − above_i − b·x_i) − min (e_j + below_j − b·x_j): convex in b and piecewise linear.
 * From two slopes on both sides of the minimum, the next slope is where their two pieces meet.
 */
function zoneBetween(
  x: Float64Array,
  e: Float64Array,
  at: number,
  above: Float64Array,
  below: Float64Array,
  tops: Int32Array,
  bottoms: Int32Array,
): number {
  // Value and slope of the piece at b.
  let piece = 0;
  const valueAt = (b: number): number => {
    let [most, least, i, j] = [-Infinity, Infinity, 0, 0];
    for (let k = 0; k < tops.length; k++) {
      const p = tops[k]!;
      const v = e[at + p]! - above[p]! - b * x[p]!;
      if (v > most) {
        most = v;
        i = p;
      }
    }
    for (let k = 0; k < bottoms.length; k++) {
      const p = bottoms[k]!;
      const v = e[at + p]! + below[p]! - b * x[p]!;
      if (v < least) {
        least = v;
        j = p;
      }
    }
    piece = x[j]! - x[i]!;
    return most - least;
  };
  let b = 0;
  let value = valueAt(b);
  let least = value;
  let left = null as Piece | null;
  let right = null as Piece | null;
  let width = 1;
  for (let k = 0; k < 60; k++) {
    if (piece === 0) return Math.min(least, value);
    const here: Piece = { b, value, slope: piece };
    if (piece < 0) left = here;
    else right = here;
    if (left === null) b = right!.b - (width *= 4) * (1 + Math.abs(right!.value));
    else if (right === null) b = left.b + (width *= 4) * (1 + Math.abs(left.value));
    else {
      b =
        (right.value - left.value + left.slope * left.b - right.slope * right.b) / (left.slope - right.slope);
      const meet = left.value + left.slope * (b - left.b);
      if (meet >= least - 1e-9 * (1 + Math.abs(least))) return least;
    }
    value = valueAt(b);
    if (value < least) least = value;
  }
  return least;
}
