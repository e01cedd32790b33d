import { exactly, type CoverageResult } from './coverage-interval.js';
import type { Draws, ProfileSample } from './profile-sample.js';
import { switchPoint } from './search.js';
import { ends, SignedTrials } from './signed-trials.js';
import { TUNING } from './tuning.js';
import { freshMemory, type Memory } from './working-memory.js';

/**
 * Coverage interval of a signed extreme θ: the deviation of greatest magnitude, with its sign.
 *
 * The test of `coverageInterval` is inverted for each sign. A value θ = +t is kept where, on rails of plausible
 * shapes whose extreme is +t, two things are not too improbable (each at half of 1 − coverage):
 * - an extreme as far out as the observed one. Seen on the same side: |d| ≥ |observed|, a reversal of sign by
 *   the noise not counted. Seen on the other side: an extreme there, as far or farther;
 * - a highest point as low as the observed highest. This one slides to nothing at t = 0, as for ranges.
 * Where the profile is smoother than half of perfect rails would read, the highest point is taken for higher by
 * what is missing: noise smaller than stated makes no interval narrower.
 * θ = −t likewise, signs exchanged. The interval reaches from the least to the greatest value kept. It
 * is observed ± k·u where a common offset is all the noise, and may then cross zero; it is [−U₋, U₊] where
 * two opposite extremes are too close to tell which is farther; else it lies on one side of zero.
 *
 * @param shapes From `drawShapes` of the same sample.
 * @param coverage Coverage probability, in (0, 1).
 * @returns interval of the signed value, unit of the sample; `probabilityAtMost(limit)` is that of |θ| ≤ limit,
 *   Φ((limit − y)/u) − Φ((−limit − y)/u) where a common offset is all the noise.
 * @throws {RangeError} coverage outside (0, 1).
 * @see `coverageInterval` for construction and sources.
 */
export function signedExtremeInterval(
  sample: ProfileSample,
  shapes: Draws,
  coverage: number,
  memory: Memory = freshMemory,
): CoverageResult {
  if (!(coverage > 0 && coverage < 1))
    throw new RangeError(`a coverage lies inside (0, 1), not at ${coverage}`);
  const alpha = 1 - coverage;
  const [low, high] = ends(sample.observed);
  const observed = high >= -low ? high : low;
  const trials = new SignedTrials(sample, shapes, Math.abs(observed), coverage, memory);
  const { settled } = trials;
  if (!(settled > 0)) return exactly(observed);
  const reach = 2 * trials.greatestNoise; // no rail farther than this from what is observed can have read it
  const upperShare = (t: number): number => (alpha / 2) * Math.min(1, t / (TUNING.signedSlide * settled));

  /** The least and the greatest t for which θ = sign·t is kept; null where none is. */
  const keptOn = (sign: 1 | -1): [number, number] | null => {
    const top = (sign > 0 ? high : -low) + trials.unseenNoise;
    const isLowEnough = (t: number): boolean => trials.shareNotAbove(sign, t, top) > upperShare(t);
    const greatest = switchPoint(isLowEnough, top - reach, Math.max(0, top) + reach, SEARCH_STEPS);
    if (sign > 0 === observed > 0) {
      const isTooLittle = (t: number): boolean => trials.shareReaching(sign, t) <= alpha / 2;
      const least = switchPoint(isTooLittle, top - 2 * reach, top + reach, SEARCH_STEPS);
      return least <= greatest ? [least, greatest] : [greatest, least];
    }
    // On the other side the noise would have to make up for more than it can, with |t·s + e| ≤ t + |e|:
    if (greatest + trials.settledHalf < Math.abs(observed)) return null;
    // Not monotone in t: from the greatest downwards, the first at which the other side may reach as far.
    for (let k = SCAN_STEPS; k >= 0; k--) {
      const t = (greatest * k) / SCAN_STEPS;
      if (trials.shareContrary(sign, t) > alpha / 2)
        return [t, k === SCAN_STEPS ? t : greatestKept(sign, t, greatest)];
    }
    return null;
  };
  const greatestKept = (sign: 1 | -1, t: number, greatest: number): number => {
    const step = greatest / SCAN_STEPS;
    return t + switchPoint((more) => trials.shareContrary(sign, t + more) > alpha / 2, 0, step, 6);
  };

  const kept = [...(keptOn(1) ?? []), ...(keptOn(-1) ?? []).map((t) => -t)];
  if (kept.length === 0) kept.push(observed);
  return {
    interval: [Math.min(...kept), Math.max(...kept)],
    probabilityAtMost: (limit) => (limit < 0 ? 0 : trials.confidenceWithin(limit)),
  };
}

/** Halvings of each search: to a thousandth of the greatest noise, far below what the draws themselves leave open. */
const SEARCH_STEPS = 12;
const SCAN_STEPS = 10;
