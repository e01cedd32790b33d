import { drawOf, type Draws, type ProfileFunctional, type ProfileSample } from './profile-sample.js';

/** A coverage interval, and the confidence that the true value meets a limit. */
export interface CoverageResult {
  /** [L, U], unit of the characteristic. */
  readonly interval: readonly [number, number];
  /** Probability that the true value (its magnitude, where it is signed) is at most `limit`. */
  readonly probabilityAtMost: (limit: number) => number;
}
const TIE_T = 1.5;
const TIE_K = 1.5;
const SLIDE = 0.5;
const UPPER_T = 0.85;

/**
 * Coverage interval of a range-like characteristic, by inverting a test along a family of shapes.
 *
 * @param functional T, a seminorm of the profile.
 * @param shapes Plausible true profiles given the readings, from `drawShapes`; only their shape is used.
 * @param coverage Coverage probability, in (0, 1).
 */
export function coverageInterval(
  functional: ProfileFunctional,
  sample: ProfileSample,
  shapes: Draws,
  coverage: number,
): CoverageResult {
  const observed = functional(sample.observed);
  const alpha = 1 - coverage;
  const { noise } = sample;
  const ofNoise = Float64Array.from({ length: noise.count }, (_, b) => functional(drawOf(noise, b))).sort();
  const settled = ofNoise[Math.min(noise.count - 1, Math.floor(coverage * noise.count))]!;
  const upper = findCrossings(functional, noise, shapes, observed, (theta) => theta / UPPER_T);
  const saturation = TIE_K * settled;
  const lower = findCrossings(functional, noise, shapes, observed, (theta) => theta / (TIE_T + theta / saturation));
  const atZero = 1 - countBelow(ofNoise, observed) / noise.count;
  const upperShare = (theta: number): number => (alpha / 2) * Math.min(1, theta / settled / SLIDE);
  const beyond = 2 * observed + ofNoise[noise.count - 1]! + settled;
  const L =
    atZero > alpha ? 0 : bisect((theta) => shareReaching(lower, theta) > alpha - upperShare(theta), 0, beyond);
  const U = bisect((theta) => 1 - shareReaching(upper, theta) <= upperShare(theta), Math.min(L, observed), beyond);
  return {
    interval: [L, Math.max(L, U)],
    probabilityAtMost: (limit) => (limit < 0 ? 0 : shareReaching(upper, limit)),
  };
}

/**
 * For each pair (shape s, noise e), g(θ) is convex; it lies below T_obs on an interval (enter, leave) of
 * θ ≥ 0, perhaps empty. The share that reaches T_obs counts the pairs outside theirs.
 */
interface Crossings {
  readonly enter: Float64Array; // ascending; 0 where g(0) < T_obs, Infinity where never below
  readonly leave: Float64Array; // ascending; Infinity where never below
}

const shareReaching = (c: Crossings, theta: number): number =>
  (countAtMost(c.leave, theta) + (c.enter.length - countAtMost(c.enter, theta))) / c.leave.length;

function findCrossings(
  T: ProfileFunctional,
  noise: Draws,
  shapes: Draws,
  observed: number,
  amplitude: (theta: number) => number,
): Crossings {
  const count = noise.count;
  const n = noise.values.length / count;
  const enter = new Float64Array(count);
  const leave = new Float64Array(count);
  const trial = new Float64Array(n);
  for (let b = 0; b < count; b++) {
    const e = drawOf(noise, b);
    const s = drawOf(shapes, b % shapes.count);
    const size = T(s);
    const ofNoise = T(e);
    const g = (theta: number): number => {
      const A = amplitude(theta);
      const factor = size > 0 ? A / size : 0;
      for (let i = 0; i < n; i++) trial[i] = factor * s[i]! + e[i]!;
      return T(trial) + theta - (size > 0 ? A : 0);
    };
    const tolerance = 1e-4 * ofNoise + 1e-9 * observed;
    if (ofNoise >= observed) {
      enter[b] = fromLeft(g, ofNoise, observed, tolerance);
      if (enter[b] === Infinity) {
        leave[b] = Infinity;
        continue;
      }
    }
    leave[b] = Math.max(enter[b]!, fromRight(g, observed + ofNoise, observed, tolerance));
  }
  return { enter: enter.sort(), leave: leave.sort() };
}

/** The largest θ at which convex g reaches `level`, from a start at its right (g(start) ≥ level), by chords. */
function fromRight(g: (x: number) => number, start: number, level: number, tolerance: number): number {
  let x = start;
  let gx = g(x);
  let slope = 1; // of a seminorm's ray at infinity, its largest
  for (let k = 0; k < 60 && gx - level > tolerance; k++) {
    const next = x - (gx - level) / slope;
    if (next <= 0) return 0;
    const gNext = g(next);
    const chord = (gx - gNext) / (x - next);
    x = next;
    gx = gNext;
    if (!(chord > 1e-9)) break;
    slope = Math.min(1, chord);
  }
  return x;
}

/** The smallest θ ≥ 0 at which convex g comes down to `level`; Infinity where it never does. */
function fromLeft(g: (x: number) => number, g0: number, level: number, tolerance: number): number {
  let x = 0;
  let gx = g0;
  let slope = 1;
  for (let k = 0; k < 60 && gx - level > tolerance; k++) {
    const next = x + (gx - level) / slope;
    const gNext = g(next);
    const chord = (gx - gNext) / (next - x);
    x = next;
    gx = gNext;
    if (gx <= level) break;
    if (!(chord > 1e-9)) return Infinity;
    slope = Math.min(1, chord);
  }
  return x;
}

const countAtMost = (sorted: Float64Array, x: number): number => partition(sorted, (v) => v <= x);
const countBelow = (sorted: Float64Array, x: number): number => partition(sorted, (v) => v < x);

function partition(sorted: Float64Array, isLeft: (value: number) => boolean): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isLeft(sorted[middle]!)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Where a condition turns true between low (false) and high (true). */
function bisect(isBeyond: (x: number) => boolean, low: number, high: number): number {
  let a = low;
  let b = high;
  for (let k = 0; k < 50; k++) {
    const middle = (a + b) / 2;
    if (isBeyond(middle)) b = middle;
    else a = middle;
  }
  return (a + b) / 2;
}
