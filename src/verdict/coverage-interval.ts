import { countAtMost, Crossings, type CurveFamily } from './crossings.js';
import { MOST_HELD, noiseRows, rowsOf } from './noise-rows.js';
import type { Draws, ProfileFunctional, ProfileSample } from './profile-sample.js';
import { quantile, switchPoint, switchPointNear } from './search.js';
import { magnifiedCurves, tiedCurves, type Material } from './simulated-curves.js';
import { TUNING } from './tuning.js';
import { freshMemory, type Memory } from './working-memory.js';

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
 * shape of the rail: on how many stations nearly tie for its extremes. So a test is inverted. For each value θ,
 * rails are simulated that have plausible shapes s (`drawShapes`, scaled to T(s) = 1) and exactly this value,
 *
 *   H(θ) = P( T(θ·s + e) ≥ T_obs ),
 *
 * and the interval keeps the values under which T_obs was not too improbable: L solves H = α_L(θ) and U
 * solves 1 − H = α_U(θ), α_L + α_U = 1 − coverage. At θ = 0 all of it stands in α_L, so that a perfect rail too
 * is covered as often as stated; away from zero the halves are even (the unified construction). Where peaks tie, noise
 * hardly ever makes a rail read as less than it is, and U, whose shapes have lost the ties, errs less often than its
 * half allows: L gets part of what is left of it (`TUNING.passedOn`).
 *
 * Noise blurs ties: of equal peaks one reads highest, and the shapes drawn have lost the tie. L would then be too
 * high, most so for regular shapes. For L the noise is therefore split into each segment's line and the rest,
 * e = l + r, r is magnified by t ≥ 1, and the rise it causes divided by t:
 *
 *   T(θ·s + l) + [T(θ·s + l + t·r) − T(θ·s + l)] / t.
 *
 * By convexity this is never less than T(θ·s + e); it is the same at t = 1, and takes peaks that differ by less
 * than t times the noise for level. t is 1 where T_obs could be noise alone, and grows with T_obs (`TUNING`). For
 * U, where blurred ties err on the safe side, the shape is magnified a little instead, against draws that are
 * smoother than the rail.
 *
 * Less than perfect rails would read half of the time is evidence not of a rail better than perfect but of noise
 * smaller than stated. U is therefore never less than it would be for that median: it grows with the noise stated, and
 * coverage rises, from 0.95 to 0.975 at most, where the rail is nearly perfect.
 *
 * @param functional T, a seminorm of the profile, called some thousands of times.
 * @param shapes From `drawShapes` of the same sample; several characteristics of one profile share them.
 * @param coverage Coverage probability, in (0, 1).
 * @param memory Where what is worked out stands, `probabilityAtMost` included.
 * @returns interval, unit of T; `probabilityAtMost(limit)` = H(limit) as it serves for U: about Φ((limit − y)/u) far
 *   from zero and from ties, and at limit 0 the probability that noise alone reads T_obs or more.
 * @throws {RangeError} coverage outside (0, 1).
 * @see G. J. Feldman, R. D. Cousins, Phys. Rev. D 57 (1998) 3873: one construction from upper limit to two-sided.
 * @see L. Dümbgen, Probab. Theory Relat. Fields 95 (1993) 125, and H. Hong, J. Li, J. Econometrics 206 (2018) 379:
 *   why a plain bootstrap fails at ties, and the numerical derivative that does not.
 * @see G. Cowan, K. Cranmer, E. Gross, O. Vitells, arXiv:1105.3166 (2011): limits no stronger than the experiment is
 *   sensitive (power-constrained).
 * @see JCGM 106:2012, 7 (conformance probability).
 */
export function coverageInterval(
  functional: ProfileFunctional,
  sample: ProfileSample,
  shapes: Draws,
  coverage: number,
  memory: Memory = freshMemory,
): CoverageResult {
  if (!(coverage > 0 && coverage < 1))
    throw new RangeError(`a coverage lies inside (0, 1), not at ${coverage}`);
  const alpha = 1 - coverage;
  const observed = functional(sample.observed);
  const noise = noiseRows(functional, sample, memory);
  const { sorted } = noise;
  const count = sorted.length;
  const settled = quantile(sorted, coverage);
  if (!(settled > 0)) return exactly(observed);
  const tolerance = 0.01 * settled;
  const notLess = Math.max(observed, quantile(sorted, 0.5));
  const material: Material = {
    n: sample.positions.length,
    shapes: rowsOf(noise.reader, shapes.values, shapes.count, memory),
    noise,
    observed,
  };

  // The observed value counts as one more draw, so that no probability is taken for zero.
  const tail = (share: number): number => (share * count + 1) / (count + 1);
  const upper = new Crossings(
    magnifiedCurves({ ...material, observed: notLess }),
    notLess,
    tolerance,
    memory,
  );
  const ramp = (theta: number): number => Math.min(1, theta / (TUNING.slide * settled));
  const upperShare = (theta: number): number => (alpha / 2) * ramp(theta);
  const most = sorted[count - 1]!;
  const isLess = (every?: number) => (theta: number) =>
    tail(1 - upper.shareAtLevel(theta, every)) > upperShare(theta);
  // Few curves say about where; all of them are then evaluated there, most of them once.
  const nearly = switchPoint(isLess(GUESS_EVERY), notLess - 4 * most, notLess + most, 8);
  const U = switchPointNear(isLess(), nearly, most / 32, notLess + most, 24);

  let L = 0;
  const reachedByNoise = 1 - countAtMost(sorted, observed) / count;
  if (tail(reachedByNoise) <= alpha) {
    const curves = tiedCurves(material, settled, coverage);
    const lower = new Crossings(curves, observed, tolerance, memory);
    const least = (takenByU: (theta: number) => number): number => {
      const isTooLittle = (theta: number) => tail(lower.shareAtLevel(theta)) <= alpha - takenByU(theta);
      return switchPoint(isTooLittle, notLess - 4 * most, notLess + most, 30);
    };
    const spent = alpha * shareReadAsLess(curves, least(upperShare));
    L = least((theta) => {
      const unspent = Math.max(0, upperShare(theta) - spent);
      return upperShare(theta) - TUNING.passedOn * ramp(theta) * unspent;
    });
  }
  // Nothing of a large sample is held for the sake of limits that are asked about later.
  if (sample.noise.values.length > MOST_HELD) upper.settle();
  return {
    interval: [L, Math.max(L, U)],
    probabilityAtMost: (limit) => (limit < 0 ? 0 : upper.shareAtLevel(limit)),
  };
}

/** Of so many curves one is asked for a first guess. */
const GUESS_EVERY = 8;
const COUNTED_EVERY = 4;

/** How often a rail of value θ reads as less. */
function shareReadAsLess(curves: CurveFamily, theta: number): number {
  let less = 0;
  for (let b = 0; b < curves.count; b += COUNTED_EVERY) if (curves.at(b, theta) < theta * (1 - 1e-9)) less++;
  return less / Math.ceil(curves.count / COUNTED_EVERY);
}

/** No noise that the characteristic could see: the value itself. */
export const exactly = (value: number): CoverageResult => ({
  interval: [value, value],
  probabilityAtMost: (limit) => (Math.abs(value) <= limit ? 1 : 0),
});
