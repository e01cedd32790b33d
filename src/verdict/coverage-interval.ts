import { countAtMost, findCrossings, shareAtLevel } from './crossings.js';
import { valuesOf, type Draws, type ProfileFunctional, type ProfileSample } from './profile-sample.js';
import { quantile, switchPoint } from './search.js';
import { magnifiedCurves, tiedCurves } from './simulated-curves.js';
import { farTieOf, TUNING } from './tuning.js';

/** A coverage interval, and the confidence that the true value meets a limit. */
export interface CoverageResult {
  /** [L, U], unit of the characteristic. */
  readonly interval: readonly [number, number];
  /** Confidence that the true value (its magnitude, where it is signed) is at most `limit`. */
  readonly probabilityAtMost: (limit: number) => number;
}

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
  if (!(coverage > 0 && coverage < 1))
    throw new RangeError(`a coverage lies inside (0, 1), not at ${coverage}`);
  const { noise } = sample;
  const alpha = 1 - coverage;
  const observed = functional(sample.observed);
  const ofNoise = valuesOf(functional, noise);
  const sortedNoise = ofNoise.slice().sort();
  const settled = quantile(sortedNoise, coverage);
  if (!(settled > 0)) return exactly(observed);
  const sizes = valuesOf(functional, shapes);
  const tolerance = 0.01 * settled;

  // The observed value counts as one more draw, so that no probability is taken for zero.
  const tail = (share: number): number => (share * noise.count + 1) / (noise.count + 1);
  const magnified = magnifiedCurves(functional, sample, shapes, sizes, ofNoise);
  const upper = findCrossings(noise.count, magnified, observed, 2 / farTieOf(sample.observed.length) - 1, tolerance);
  const upperShare = (theta: number): number => (alpha / 2) * Math.min(1, theta / (TUNING.slide * settled));
  const beyond = observed + sortedNoise[noise.count - 1]!;
  const U = switchPoint((theta) => tail(1 - shareAtLevel(upper, theta)) > upperShare(theta), beyond);

  let L = 0;
  const reachedByNoise = 1 - countAtMost(sortedNoise, observed) / noise.count;
  if (tail(reachedByNoise) <= alpha) {
    const curves = tiedCurves(functional, sample, shapes, sizes, observed, settled, coverage);
    const lower = findCrossings(noise.count, curves, observed, 1, tolerance);
    L = switchPoint((theta) => tail(shareAtLevel(lower, theta)) <= alpha - upperShare(theta), beyond);
  }
  return {
    interval: [L, Math.max(L, U)],
    probabilityAtMost: (limit) => (limit < 0 ? 0 : shareAtLevel(upper, limit)),
  };
}

/** No noise that the characteristic could see: the value itself. */
export const exactly = (value: number): CoverageResult => ({
  interval: [value, value],
  probabilityAtMost: (limit) => (Math.abs(value) <= limit ? 1 : 0),
});
