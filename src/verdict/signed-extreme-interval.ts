import { exactly, quantile, switchPoint, TUNING, type CoverageResult } from './coverage-interval.js';
import { drawOf, type Draws, type ProfileSample } from './profile-sample.js';
import { segmentTrend } from './segment-trend.js';

/**
 * Coverage interval of a signed extreme θ: the deviation of greatest magnitude, with its sign.
 *
 * The test of `coverageInterval` is inverted for each sign. A value θ = +t is kept where, on rails of plausible
 * shapes whose extreme is +t, two things are not too improbable (each at half of 1 − coverage):
 * - an extreme as far out as the observed one. Seen on the same side: |d| ≥ |observed|, a reversal of sign by
 *   the noise not counted. Seen on the other side: an extreme there, as far or farther;
 * - a highest point as low as the observed highest. This one slides to nothing at t = 0, as for ranges.
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
export function signedExtremeInterval(sample: ProfileSample, shapes: Draws, coverage: number): CoverageResult {
  if (!(coverage > 0 && coverage < 1)) throw new RangeError(`a coverage lies inside (0, 1), not at ${coverage}`);
  const alpha = 1 - coverage;
  const [low, high] = ends(sample.observed);
  const observed = high >= -low ? high : low;
  const trials = new Trials(sample, shapes, Math.abs(observed), coverage);
  const { settled } = trials;
  if (!(settled > 0)) return exactly(observed);
  const beyond = Math.abs(observed) + trials.greatestNoise;
  const upperShare = (t: number): number => (alpha / 2) * Math.min(1, t / (TUNING.slide * settled));

  /** The least and the greatest t for which θ = sign·t is kept; null where none is. */
  const keptOn = (sign: 1 | -1): [number, number] | null => {
    const top = sign > 0 ? high : -low;
    const isLowEnough = (t: number): boolean => trials.shareNotAbove(sign, t, top) > upperShare(t);
    const greatest = switchPoint(isLowEnough, beyond, SEARCH_STEPS);
    if (sign > 0 === observed > 0) {
      const least = switchPoint((t) => trials.shareReaching(sign, t) <= alpha / 2, beyond, SEARCH_STEPS);
      return least <= greatest ? [least, greatest] : null;
    }
    // Not monotone in t: from the greatest downwards, the first at which the other side may reach as far.
    for (let k = SCAN_STEPS; k >= 0; k--) {
      const t = (greatest * k) / SCAN_STEPS;
      if (trials.shareContrary(sign, t) > alpha / 2) return [t, k === SCAN_STEPS ? t : greatestKept(sign, t, greatest)];
    }
    return null;
  };
  const greatestKept = (sign: 1 | -1, t: number, greatest: number): number => {
    const step = greatest / SCAN_STEPS;
    return t + switchPoint((more) => trials.shareContrary(sign, t + more) > alpha / 2, step, 6);
  };

  const kept = [...(keptOn(1) ?? []), ...(keptOn(-1) ?? []).map((t) => -t)];
  if (kept.length === 0) kept.push(observed);
  return {
    interval: [Math.min(...kept), Math.max(...kept)],
    probabilityAtMost: (limit) => (limit < 0 ? 0 : trials.confidenceWithin(limit)),
  };
}

/** Halvings of each search: 1 part in 16,000 of the way, far below the noise of the draws themselves. */
const SEARCH_STEPS = 14;
const SCAN_STEPS = 12;
/** Shapes for θ are the fifth of all whose own signed extreme lies nearest to θ. */
const NEAREST_PART = 1 / 5;
/** A shape whose wanted side reaches less than half as far as the other is turned over instead of stretched. */
const STRETCH_FROM = 1 / 2;

/** What the noise makes of rails whose extreme is sign·t. Shares are of the noise draws, plus one. */
class Trials {
  /** |d| that the noise alone exceeds with probability 1 − coverage. */
  readonly settled: number;
  readonly greatestNoise: number;
  private readonly count: number;
  private readonly n: number;
  private readonly noise: Float64Array;
  private readonly lines: Float64Array;
  private readonly shapes: Float64Array;
  private readonly shapeEnds: (readonly [number, number])[];
  private readonly order: Int32Array; // of the shapes, by their signed extreme
  private readonly extremes: Float64Array; // in that order
  private readonly magnify: number;

  constructor(
    sample: ProfileSample,
    shapes: Draws,
    private readonly size: number,
    coverage: number,
  ) {
    const { noise, positions } = sample;
    this.count = noise.count;
    this.n = positions.length;
    this.noise = noise.values;
    this.shapes = shapes.values;
    this.lines = new Float64Array(noise.values.length);
    const sizes = new Float64Array(noise.count);
    const roughSizes = new Float64Array(noise.count);
    for (let b = 0; b < noise.count; b++) {
      const e = drawOf(noise, b);
      const line = this.lines.subarray(b * this.n, (b + 1) * this.n);
      segmentTrend(e, positions, sample.segments ?? [0], true, line);
      sizes[b] = largest(e);
      roughSizes[b] = largest(e.map((v, i) => v - line[i]!));
    }
    sizes.sort();
    roughSizes.sort();
    this.settled = quantile(sizes, coverage);
    this.greatestNoise = sizes[noise.count - 1]!;
    const c = quantile(roughSizes, coverage);
    this.magnify = c > 1e-9 * this.settled ? TUNING.nearTie + size / (TUNING.tieReach * c) : 1;
    this.shapeEnds = Array.from({ length: shapes.count }, (_, k) => ends(drawOf(shapes, k)));
    const signed = Float64Array.from(this.shapeEnds, ([low, high]) => (high >= -low ? high : low));
    this.order = Int32Array.from(signed.keys()).sort((a, b) => signed[a]! - signed[b]!);
    this.extremes = Float64Array.from(this.order, (k) => signed[k]!);
  }

  /** P(highest point on the side of θ ≤ top), the shape magnified by 1 / farTie. */
  shareNotAbove(sign: 1 | -1, t: number, top: number): number {
    const A = t / TUNING.farTie;
    const room = top - t + A;
    return this.share(sign, t, (s, forUp, forDown, e) => {
      for (let i = 0; i < this.n; i++) {
        const shape = this.shapes[s + i]!;
        const d = A * (shape > 0 ? forUp : forDown) * shape + this.noise[e + i]!;
        if (sign * d > room) return 0;
      }
      return 1;
    });
  }

  /** P(|d| reaches the observed one), near-ties counted as ties, less P(it does with the shape's sign reversed). */
  shareReaching(sign: 1 | -1, t: number): number {
    const m = this.magnify;
    return this.share(sign, t, (s, forUp, forDown, e) => {
      let smooth = 0;
      let magnified = 0;
      for (let i = 0; i < this.n; i++) {
        const shape = this.shapes[s + i]!;
        const base = t * (shape > 0 ? forUp : forDown) * shape + this.lines[e + i]!;
        const rough = this.noise[e + i]! - this.lines[e + i]!;
        smooth = Math.max(smooth, Math.abs(base));
        magnified = Math.max(magnified, Math.abs(base + m * rough));
      }
      const reaches = (1 - 1 / m) * smooth + magnified / m >= this.size;
      return Number(reaches) - Number(this.extremeOf(s, t * forUp, t * forDown, e).isReversed);
    });
  }

  /** P(the extreme lies on the other side than θ, as far out as observed or farther). */
  shareContrary(sign: 1 | -1, t: number): number {
    return this.share(sign, t, (s, forUp, forDown, e) => {
      const { d } = this.extremeOf(s, t * forUp, t * forDown, e);
      return Number(sign * d <= -this.size);
    });
  }

  /** P(|d| reaches the observed one) less twice that with the sign reversed: the confidence in |θ| ≤ t. */
  confidenceWithin(t: number): number {
    let sum = 0;
    for (let b = 0; b < this.count; b++) {
      const k = b % this.shapeEnds.length;
      const [low, high] = this.shapeEnds[k]!;
      const reach = Math.max(high, -low);
      const factor = reach > 0 ? t / reach : 0;
      const { d, isReversed } = this.extremeOf(k * this.n, factor, factor, b * this.n);
      if (Math.abs(d) >= this.size) sum += isReversed ? -1 : 1;
    }
    return Math.min(1, Math.max(0, sum / this.count));
  }

  /** The extreme of shape + noise; isReversed where it reaches the observed one against the shape's own sign there. */
  private extremeOf(s: number, forUp: number, forDown: number, e: number): { d: number; isReversed: boolean } {
    let d = 0;
    let under = 0;
    for (let i = 0; i < this.n; i++) {
      const raw = this.shapes[s + i]!;
      const shape = raw > 0 ? forUp * raw : forDown * raw;
      const here = shape + this.noise[e + i]!;
      if (Math.abs(here) > Math.abs(d)) {
        d = here;
        under = shape;
      }
    }
    return { d, isReversed: Math.abs(d) >= this.size && d * under < 0 };
  }

  /** Mean of what `count` returns over the noise draws, each with one of the shapes nearest to sign·t. */
  private share(
    sign: 1 | -1,
    t: number,
    count: (shapeAt: number, forUp: number, forDown: number, noiseAt: number) => number,
  ): number {
    const chosen = this.nearest(sign * t);
    const factors = Array.from(chosen, (k) => turnShape(this.shapeEnds[k]!, sign));
    let sum = 0;
    for (let b = 0; b < this.count; b++) {
      const j = b % chosen.length;
      const [forUp, forDown] = factors[j]!;
      sum += count(chosen[j]! * this.n, forUp, forDown, b * this.n);
    }
    return (sum + 1) / (this.count + 1);
  }

  private nearest(theta: number): Int32Array {
    const all = this.order.length;
    const width = Math.max(1, Math.round(all * NEAREST_PART));
    let at = 0;
    while (at < all && this.extremes[at]! < theta) at++;
    const first = Math.min(Math.max(0, at - (width >> 1)), all - width);
    return this.order.subarray(first, first + width);
  }
}

/**
 * Factors for the positive and the negative part of a shape that give it an extreme of 1 with the sign
 * wanted: as it is, where that is its sign; the wanted side stretched level with the other, where it
 * reaches far enough; else turned over.
 */
function turnShape([low, high]: readonly [number, number], sign: 1 | -1): readonly [number, number] {
  const up = Math.max(0, high);
  const down = Math.max(0, -low);
  const reach = Math.max(up, down);
  if (reach === 0) return [0, 0];
  const wanted = sign > 0 ? up : down;
  if (wanted < reach * STRETCH_FROM) return [-1 / reach, -1 / reach];
  return sign > 0 ? [1 / up, 1 / reach] : [1 / reach, 1 / down];
}

function ends(profile: Float64Array): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < profile.length; i++) {
    const d = profile[i]!;
    if (d < low) low = d;
    if (d > high) high = d;
  }
  return [low, high];
}

function largest(profile: Float64Array): number {
  const [low, high] = ends(profile);
  return Math.max(high, -low);
}
