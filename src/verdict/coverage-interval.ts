import { drawOf, type Draws, type ProfileFunctional, type ProfileSample } from './profile-sample.js';

/** A coverage interval and the confidence distribution that it was cut from. */
export interface CoverageResult {
  /** [L, U], unit of the characteristic. */
  readonly interval: readonly [number, number];
  /** Probability that the true value (its magnitude, where it is signed) is at most `limit`. */
  readonly probabilityAtMost: (limit: number) => number;
}

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
  const crossings = findCrossings(functional, sample.noise, shapes, observed);
  return cutInterval(crossings, observed, 1 - coverage);
}

/**
 * For each pair (shape s, noise e), g(θ) = T(θ·s + e) is convex; it lies below T_obs on an interval
 * (enter, leave) of θ ≥ 0, perhaps empty. H(θ) = P(g(θ) ≥ T_obs) counts pairs outside theirs.
 */
export interface Crossings {
  readonly enter: Float64Array; // ascending; 0 where g(0) < T_obs, Infinity where never below
  readonly leave: Float64Array; // ascending; Infinity where never below
  readonly noiseQuantile: (p: number) => number;
}

function findCrossings(T: ProfileFunctional, noise: Draws, shapes: Draws, observed: number): Crossings {
  const count = noise.count;
  const n = noise.values.length / count;
  const enter = new Float64Array(count);
  const leave = new Float64Array(count);
  const ofNoise = new Float64Array(count);
  const trial = new Float64Array(n);
  for (let b = 0; b < count; b++) {
    const e = drawOf(noise, b);
    const s = drawOf(shapes, b % shapes.count);
    const norm = T(s);
    const tNoise = T(e);
    ofNoise[b] = tNoise;
    const g = (theta: number): number => {
      const factor = theta / norm;
      for (let i = 0; i < n; i++) trial[i] = factor * s[i]! + e[i]!;
      return T(trial);
    };
    if (!(norm > 0)) {
      // a shape with nothing to show: every θ > 0 looks the same
      enter[b] = tNoise < observed ? 0 : Infinity;
      leave[b] = Infinity;
      continue;
    }
    const tolerance = 1e-4 * (tNoise + 1e-9 * observed);
    enter[b] = 0;
    if (tNoise >= observed) {
      enter[b] = fromLeft(g, tNoise, observed, tolerance);
      if (enter[b] === Infinity) {
        leave[b] = Infinity;
        continue;
      }
    }
    leave[b] = fromRight(g, observed + tNoise, observed, tolerance);
    if (leave[b]! < enter[b]!) leave[b] = enter[b]!;
  }
  enter.sort();
  leave.sort();
  ofNoise.sort();
  return { enter, leave, noiseQuantile: (p) => ofNoise[Math.min(count - 1, Math.floor(p * count))]! };
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

const countAtMost = (sorted: Float64Array, x: number): number => {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! <= x) low = middle + 1;
    else high = middle;
  }
  return low;
};

function cutInterval(c: Crossings, observed: number, alpha: number): CoverageResult {
  const count = c.leave.length;
  const H = (theta: number): number =>
    (countAtMost(c.leave, theta) + (count - countAtMost(c.enter, theta))) / count;
  const settled = c.noiseQuantile(1 - alpha);
  const upperShare = (theta: number): number => (alpha / 2) * Math.min(1, theta / settled);
  const most = observed + c.noiseQuantile(1);
  const L =
    H(0) > alpha ? 0 : bisect((t) => H(t) > alpha - upperShare(t), 0, observed + most);
  const U = bisect((t) => !(1 - H(t) > upperShare(t)), Math.min(L, observed), observed + most);
  return { interval: [L, Math.max(L, U)], probabilityAtMost: (limit) => (limit < 0 ? 0 : H(limit)) };
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
