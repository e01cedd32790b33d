import { countAtMost, findCrossings, shareAtLevel } from './crossings.js';
import { drawOf, type Draws, type ProfileFunctional, type ProfileSample } from './profile-sample.js';
import { segmentTrend } from './segment-trend.js';

/** A coverage interval, and the confidence that the true value meets a limit. */
export interface CoverageResult {
  /** [L, U], unit of the characteristic. */
  readonly interval: readonly [number, number];
  /** Confidence that the true value (its magnitude, where it is signed) is at most `limit`. */
  readonly probabilityAtMost: (limit: number) => number;
}

/**
 * What the intervals are tuned by. Chosen by simulation (tests/study/interval-study.ts), not derived;
 * the coverage depends little on each.
 */
export const TUNING = {
  /**
   * Near-ties count as ties when L is sought: the noise is magnified by nearTie + T_obs / (tieReach · c),
   * c the value that T of the noise about its lines exceeds with probability 1 − coverage.
   */
  nearTie: 1.25,
  tieReach: 2,
  /** Near-ties count for less when U is sought: the shape is magnified by 1 / farTie. */
  farTie: 0.85,
  /** The tails are shared evenly from θ = slide · (the value that T of the noise exceeds with probability 1 − coverage). */
  slide: 0.5,
  /** L is sought with this part of the shapes, those for which T is least. */
  leastPart: 1 / 3,
} as const;

/**
 * Coverage interval of a range-like characteristic θ = T(δ), observed as T_obs = T(d), d = δ + e.
 *
 * A symmetric interval fails here because T(d) is biased upward by an amount that depends on the
 * shape of the rail: on how many stations nearly tie for its extremes. So a test is inverted. For each
 * value θ, rails are simulated that have plausible shapes s (`drawShapes`, scaled to T(s) = 1) and exactly this value,
 *
 *   H(θ) = P( T(θ·s + e) ≥ T_obs ),
 *
 * and the interval keeps the values under which T_obs was not too improbable: L solves H = α_L(θ) and U
 * solves 1 − H = α_U(θ), α_L + α_U = 1 − coverage. At θ = 0 all of it stands in α_L, so that a perfect rail too
 * is covered as often as stated; away from zero the halves are even (the unified construction).
 *
 * Noise blurs ties: of equal peaks one reads highest. L would then be too high, and it would be so for regular
 * shapes most. For L the noise about each segment's line, r, is therefore magnified by t > 1 and the rise it causes
 * divided by t: T(θ·s + l) + [T(θ·s + l + t·r) − T(θ·s + l)] / t with e = l + r. By convexity this is never less than
 * T(θ·s + e), is the same at t = 1, and treats peaks within t times the noise as level. For U, where the blur errs on the safe side, the
 * shape is magnified a little instead, against shapes taken for smoother than they are.
 *
 * @param functional T, a seminorm of the profile, called some thousands of times.
 * @param shapes From `drawShapes` of the same sample; several characteristics of one profile share them.
 * @param coverage Coverage probability, in (0, 1).
 * @returns interval, unit of T; `probabilityAtMost(limit)` = H(limit), the confidence distribution of U.
 * @throws {RangeError} coverage outside (0, 1).
 * @see G. J. Feldman, R. D. Cousins, Phys. Rev. D 57 (1998) 3873: one construction from upper limit to two-sided.
 * @see L. Dümbgen, Probab. Theory Relat. Fields 95 (1993) 125, and H. Hong, J. Li, J. Econometrics 206 (2018) 379:
 *   why a plain bootstrap fails at ties, and the numerical derivative that does not.
 * @see JCGM 106:2012, 7 (conformance probability).
 */
export function coverageInterval(
  functional: ProfileFunctional,
  sample: ProfileSample,
  shapes: Draws,
  coverage: number,
): CoverageResult {
  if (!(coverage > 0 && coverage < 1)) throw new RangeError(`a coverage lies inside (0, 1), not at ${coverage}`);
  const { noise } = sample;
  const alpha = 1 - coverage;
  const observed = functional(sample.observed);
  const ofNoise = valuesOf(functional, noise);
  const sortedNoise = ofNoise.slice().sort();
  const settled = quantile(sortedNoise, coverage);
  if (!(settled > 0)) return exactly(observed);
  const sizes = valuesOf(functional, shapes);
  const tolerance = 1e-3 * settled;

  // The observed value counts as one more draw, so that no probability is taken for zero.
  const tail = (share: number): number => (share * noise.count + 1) / (noise.count + 1);
  const upper = findCrossings(noise.count, plainCurves(functional, sample, shapes, sizes, ofNoise), observed, tolerance);
  const upperShare = (theta: number): number => (alpha / 2) * Math.min(1, theta / (TUNING.slide * settled));
  const beyond = observed + sortedNoise[noise.count - 1]!;
  const U = switchPoint((theta) => tail(1 - shareAtLevel(upper, theta)) > upperShare(theta), beyond);

  let L = 0;
  const reachedByNoise = 1 - countAtMost(sortedNoise, observed) / noise.count;
  if (tail(reachedByNoise) <= alpha) {
    const curves = tiedCurves(functional, sample, shapes, sizes, observed, coverage);
    const lower = findCrossings(noise.count, curves, observed, tolerance);
    L = switchPoint((theta) => tail(shareAtLevel(lower, theta)) <= alpha - upperShare(theta), beyond);
  }
  return {
    interval: [L, Math.max(L, U)],
    probabilityAtMost: (limit) => (limit < 0 ? 0 : shareAtLevel(upper, limit)),
  };
}

type Curves = Parameters<typeof findCrossings>[1];

/** g(θ) = θ − A + T(A·s + e), A = θ / farTie. */
function plainCurves(
  T: ProfileFunctional,
  sample: ProfileSample,
  shapes: Draws,
  sizes: Float64Array,
  ofNoise: Float64Array,
): Curves {
  const n = sample.observed.length;
  const observed = T(sample.observed);
  const trial = new Float64Array(n);
  return (b) => {
    const e = drawOf(sample.noise, b);
    const k = b % shapes.count;
    const s = drawOf(shapes, k);
    const size = sizes[k]!;
    const g = (theta: number): number => {
      if (!(size > 0)) return theta + ofNoise[b]!; // a shape that T does not see: all the bound allows
      const A = theta / TUNING.farTie;
      for (let i = 0; i < n; i++) trial[i] = (A / size) * s[i]! + e[i]!;
      return theta - A + T(trial);
    };
    return { g, bound: observed + ofNoise[b]! };
  };
}

/** g(θ) = (1 − 1/t)·T(θ·s + l) + T(θ·s + l + t·r) / t, for the shapes with the least T. */
function tiedCurves(
  T: ProfileFunctional,
  sample: ProfileSample,
  shapes: Draws,
  sizes: Float64Array,
  observed: number,
  coverage: number,
): Curves {
  const { noise, positions } = sample;
  const n = positions.length;
  const segments = sample.segments ?? [0];
  const line = new Float64Array(n);
  const trial = new Float64Array(n);
  const ofRough = Float64Array.from({ length: noise.count }, (_, b) => {
    const e = drawOf(noise, b);
    segmentTrend(e, positions, segments, true, line);
    for (let i = 0; i < n; i++) trial[i] = e[i]! - line[i]!;
    return T(trial);
  });
  const c = quantile(ofRough.slice().sort(), coverage);
  const t = c > 0 ? TUNING.nearTie + observed / (TUNING.tieReach * c) : 1;
  const chosen = Int32Array.from(sizes.keys())
    .sort((a, b) => sizes[a]! - sizes[b]!)
    .subarray(0, Math.max(1, Math.round(shapes.count * TUNING.leastPart)));
  return (b) => {
    const e = drawOf(noise, b);
    segmentTrend(e, positions, segments, true, line);
    const k = chosen[b % chosen.length]!;
    const s = drawOf(shapes, k);
    const size = sizes[k]!;
    const g = (theta: number): number => {
      const factor = size > 0 ? theta / size : 0;
      for (let i = 0; i < n; i++) trial[i] = factor * s[i]! + line[i]!;
      const smooth = T(trial);
      for (let i = 0; i < n; i++) trial[i] = trial[i]! + t * (e[i]! - line[i]!);
      return (size > 0 ? 0 : theta) + (1 - 1 / t) * smooth + T(trial) / t;
    };
    return { g, bound: observed + T(line) + ofRough[b]! };
  };
}

/** No noise that the characteristic could see: the value itself. */
export const exactly = (value: number): CoverageResult => ({
  interval: [value, value],
  probabilityAtMost: (limit) => (Math.abs(value) <= limit ? 1 : 0),
});

const valuesOf = (T: ProfileFunctional, draws: Draws): Float64Array =>
  Float64Array.from({ length: draws.count }, (_, b) => T(drawOf(draws, b)));

/** The number that a share p of an ascending list does not exceed. */
export const quantile = (ascending: Float64Array, p: number): number =>
  ascending[Math.min(ascending.length - 1, Math.floor(p * ascending.length))]!;

/** The θ in [0, most] where a condition that holds below it ceases to hold (0: it never holds), to most · 2^−steps. */
export function switchPoint(holds: (theta: number) => boolean, most: number, steps = 30): number {
  let low = 0;
  let high = most;
  for (let k = 0; k < steps; k++) {
    const middle = (low + high) / 2;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}
