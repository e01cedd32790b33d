/**
 * The worst window of a profile as the greatest of linear functionals: the differences of any two points of a window, each
 * measured from the line of the window.
 */
import { endPointLine, leastSquaresLine, lineBasis, type Line } from '../../base/geometry/line.js';
import type { WindowLine, WindowPlan, WorstWindow } from '../../base/geometry/worst-window.js';
import { MOST_IN_MATRIX, ofEachDraw, type Errors } from './errors.js';
import { Frontier } from './frontier.js';
import type { GreatestOf } from './greatest.js';
import { Distribution } from '../../base/statistics/distribution.js';
import { leastOf, mostOf } from '../../base/statistics/extent.js';

/** For the upper end of a long profile: only the pairs of this many windows with the largest ranges are used. */
const MAX_WINDOWS = 300;
/** Limit of (points of all remaining windows) × draws. Above it, no window is excluded by its gap. */
const MAX_POINTS_TIMES_DRAWS = 5e5;
/** In a window with more points than this, only the pairs of its highest and lowest points are used. */
const MAX_POINTS_ALL_PAIRS = 24;

interface Opened {
  readonly from: number;
  readonly to: number;
  /** The profile from the line of the window. */
  readonly d: Float64Array;
  readonly range: number;
}

/** @param d Shape (n). @param worst For the same plan and line. */
export function greatestWindow(
  d: Float64Array,
  errors: Errors,
  plan: WindowPlan,
  line: WindowLine,
  worst: WorstWindow,
): GreatestOf {
  const { n, count } = errors;
  const all = openAll(d, plan, line);
  const value = all.reduce((most, w) => Math.max(most, w.range), 0);
  const frontier = frontierOf(all, errors, plan.x, line);
  return {
    value,
    degrees: errors.degrees,
    upper: (z) => frontier.upper(z),
    lower: (c) => value - c,
    share: frontier.u,
    excesses: (confidence) => {
      const noise = errors.once(
        `windows ${line} ${plan.last.join()} ${plan.x.join()}`,
        () => new Distribution(ofEachDraw(errors, worst.rangeOf)),
      );
      if (n > MOST_IN_MATRIX) return noise;
      const live = withGaps(all, value, noise.quantile(confidence));
      const rulesOut = live.some(
        ({ gap, above, below }) => gap > 0 || [...above, ...below].some((g) => g > 0),
      );
      // If most windows may still be the worst, excluding the others costs more than it saves.
      const points = live.reduce((sum, { above }) => sum + above.length, 0);
      return rulesOut && points * count <= MAX_POINTS_TIMES_DRAWS
        ? excessesOver(live, errors, plan.x, line)
        : noise;
    },
  };
}

function aboutOwnLine(
  x: Float64Array,
  d: Float64Array,
  from: number,
  to: number,
  line: WindowLine,
): Float64Array {
  const [positions, part] = [x.subarray(from, to + 1), d.slice(from, to + 1)];
  const own: Line =
    line === 'least-squares' ? leastSquaresLine(lineBasis(positions), part) : endPointLine(positions, part);
  for (let i = 0; i < part.length; i++) part[i] = part[i]! - own.intercept - own.slope * positions[i]!;
  return part;
}

/** Every window; for a long profile, only the longest window from each station. */
function openAll(d: Float64Array, { x, last }: WindowPlan, line: WindowLine): Opened[] {
  const windows: Opened[] = [];
  const isLong = d.length > MOST_IN_MATRIX;
  for (let from = 0; from + 2 < x.length; from++) {
    for (let to = isLong ? Math.max(from + 2, last[from]!) : from + 2; to <= last[from]!; to++) {
      const own = aboutOwnLine(x, d, from, to, line);
      let most = -Infinity;
      let least = Infinity;
      for (let k = 0; k < own.length; k++) {
        if (own[k]! > most) most = own[k]!;
        if (own[k]! < least) least = own[k]!;
      }
      windows.push({ from, to, d: own, range: most - least });
    }
  }
  return windows;
}

/** Pairs of points in windows, the higher one first. */
function frontierOf(all: readonly Opened[], errors: Errors, x: Float64Array, line: WindowLine): Frontier {
  const some =
    errors.n > MOST_IN_MATRIX || all.length > 4 * MAX_WINDOWS
      ? [...all].sort((a, b) => b.range - a.range).slice(0, MAX_WINDOWS)
      : all;
  const frontier = new Frontier();
  for (const window of some) {
    const { d } = window;
    const uOf = uncertaintiesIn(window, errors, x, line);
    const [tops, bottoms] = extremesOf(d);
    for (const high of tops)
      for (const low of bottoms)
        if (high !== low && d[high]! >= d[low]!) frontier.add(d[high]! - d[low]!, uOf(high, low));
  }
  return frontier;
}

/** All points of a short window; of a long window only the 12 highest and 12 lowest. */
function extremesOf(d: Float64Array): [number[], number[]] {
  const order = [...d.keys()].sort((a, b) => d[b]! - d[a]!);
  return d.length <= MAX_POINTS_ALL_PAIRS ? [order, order] : [order.slice(0, 12), order.slice(-12)];
}

/**
 * Standard uncertainty of the difference of two points of a window, both from its line. The constant of the line cancels.
 * With w
 * the slope as a functional, t_i = Cov(e_i, w·e) and q = Var(w·e),
 *
 *   u² = Var(e_i − e_j) − 2·(x_i − x_j)·(t_i − t_j) + (x_i − x_j)²·q.
 */
function uncertaintiesIn(
  { from, to }: Opened,
  errors: Errors,
  x: Float64Array,
  line: WindowLine,
): (high: number, low: number) => number {
  const size = to - from + 1;
  const slope = slopeOf(x, from, to, line);
  const withSlope = new Float64Array(size);
  let q = 0;
  for (let i = 0; i < size; i++) {
    let sum = 0;
    for (let k = 0; k < size; k++)
      if (slope[k] !== 0) sum += slope[k]! * errors.covariance(from + i, from + k);
    withSlope[i] = sum;
    q += slope[i]! * sum;
  }
  return (i, j) => {
    const apart = x[from + i]! - x[from + j]!;
    const alone =
      errors.covariance(from + i, from + i) +
      errors.covariance(from + j, from + j) -
      2 * errors.covariance(from + i, from + j);
    return Math.sqrt(Math.max(0, alone - 2 * apart * (withSlope[i]! - withSlope[j]!) + apart * apart * q));
  };
}

/** Weights of the points of a window in the slope of its line. */
function slopeOf(x: Float64Array, from: number, to: number, line: WindowLine): Float64Array {
  const weight = new Float64Array(to - from + 1);
  if (line === 'end-points') {
    weight[to - from] = 1 / (x[to]! - x[from]!);
    weight[0] = -weight[to - from]!;
    return weight;
  }
  const { mean, sxx } = lineBasis(x.subarray(from, to + 1));
  for (let k = from; k <= to; k++) weight[k - from] = (x[k]! - mean) / sxx;
  return weight;
}

/** A window with lower bounds of gaps: of the window, and of each of its points as its highest and as its lowest. */
interface Gapped {
  readonly from: number;
  readonly to: number;
  readonly gap: number;
  readonly above: Float64Array;
  readonly below: Float64Array;
}

/**
 * The gap of a window is the range of the worst window minus its own, minus the largest effect of noise on both. The gaps of
 * its points are those to its own highest and lowest point. Windows whose gap is larger than noise are left out.
 */
function withGaps(all: readonly Opened[], value: number, reach: number): Gapped[] {
  return all.flatMap(({ from, to, d, range }) => {
    const gap = Math.max(0, value - range - 2 * reach);
    if (gap >= reach) return [];
    const high = mostOf(d);
    const low = leastOf(d);
    const above = d.map((v) => Math.max(0, high - v - reach));
    const below = d.map((v) => Math.max(0, v - low - reach));
    return [{ from, to, gap, above, below }];
  });
}

/** max over windows of max (e_i − ĝ_i) − min (e_j + ĥ_j) − ẑ, of every draw. All of them in flat arrays. */
function excessesOver(
  windows: readonly Gapped[],
  { n, count, draws }: Errors,
  x: Float64Array,
  line: WindowLine,
): Distribution {
  const start = new Int32Array(windows.length + 1);
  windows.forEach(({ from, to }, w) => (start[w + 1] = start[w]! + to - from + 1));
  const points = start[windows.length]!;
  const first = Int32Array.from(windows, ({ from }) => from);
  const gap = Float64Array.from(windows, (w) => w.gap);
  const slope = new Float64Array(points);
  const position = new Float64Array(points);
  const above = new Float64Array(points);
  const below = new Float64Array(points);
  windows.forEach((window, w) => {
    slope.set(slopeOf(x, window.from, window.to, line), start[w]);
    position.set(x.subarray(window.from, window.to + 1), start[w]);
    above.set(window.above, start[w]);
    below.set(window.below, start[w]);
  });
  const out = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    let worst = -Infinity;
    for (let w = 0; w < gap.length; w++) {
      const end = start[w + 1]!;
      const shift = b * n + first[w]! - start[w]!;
      let turn = 0;
      for (let k = start[w]!; k < end; k++) turn += slope[k]! * draws[shift + k]!;
      let most = -Infinity;
      let least = Infinity;
      for (let k = start[w]!; k < end; k++) {
        const v = draws[shift + k]! - turn * position[k]!;
        if (v - above[k]! > most) most = v - above[k]!;
        if (v + below[k]! < least) least = v + below[k]!;
      }
      if (most - least - gap[w]! > worst) worst = most - least - gap[w]!;
    }
    out[b] = worst;
  }
  return new Distribution(out);
}
