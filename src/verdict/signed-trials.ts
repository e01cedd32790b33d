import { noiseParts } from './noise-rows.js';
import { drawOf, type Draws, type ProfileSample } from './profile-sample.js';
import { quantile } from './search.js';
import { segmentTrend } from './segment-trend.js';
import { TUNING } from './tuning.js';
import type { Memory } from './working-memory.js';

/** Shapes for θ are the fifth of all whose own signed extreme lies nearest to θ. */
const NEAREST_PART = 1 / 5;
/** A shape whose wanted side reaches less than half as far as the other is turned over instead of stretched. */
const STRETCH_FROM = 1 / 2;

/**
 * What the noise makes of simulated rails whose signed extreme is sign·t: the shares of draws, the observed
 * survey counted as one more, for which this or that is seen. See `signedExtremeInterval`.
 */
export class SignedTrials {
  /** |d| that the noise alone exceeds with probability 1 − coverage. */
  readonly settled: number;
  /** The same for (1 − coverage)/2. */
  readonly settledHalf: number;
  readonly greatestNoise: number;
  /** By how much |d| about the lines of the segments falls short of the median of noise alone; 0 where it does not. */
  readonly unseenNoise: number;
  private readonly count: number;
  private readonly n: number;
  private readonly noise: Float64Array;
  private readonly lines: Float64Array;
  private readonly shapes: Float64Array;
  private readonly shapeEnds: (readonly [number, number])[];
  // Factors of each shape's positive and negative part, for θ > 0 and θ < 0.
  private readonly turnedUp: Float64Array;
  private readonly turnedDown: Float64Array;
  private readonly order: Int32Array; // of the shapes, by their signed extreme
  private readonly extremes: Float64Array; // in that order
  private readonly magnify: number;

  constructor(
    sample: ProfileSample,
    shapes: Draws,
    private readonly size: number,
    coverage: number,
    memory: Memory,
  ) {
    const { noise, positions } = sample;
    this.count = noise.count;
    this.n = positions.length;
    this.noise = noise.values;
    this.shapes = shapes.values;
    const parts = noiseParts(sample, memory);
    this.lines = parts?.lines ?? memory.floats(noise.values.length);
    const sizes = sortedLargest(noise.values, this.n);
    const roughSizes = parts === null ? sizes : sortedLargest(parts.rough, this.n);
    this.settled = quantile(sizes, coverage);
    this.settledHalf = quantile(sizes, (1 + coverage) / 2);
    this.greatestNoise = sizes[noise.count - 1]!;
    const observedLine = segmentTrend(sample.observed, positions, sample.segments ?? [0]);
    const observedRough = largest(sample.observed.map((d, i) => d - observedLine[i]!));
    this.unseenNoise = Math.max(0, quantile(roughSizes, 0.5) - observedRough);
    const c = quantile(roughSizes, coverage);
    this.magnify =
      c > 1e-9 * this.settled ? 1 + Math.max(0, size - this.settled) / (TUNING.signedTieReach * c) : 1;
    this.shapeEnds = Array.from({ length: shapes.count }, (_, k) => ends(drawOf(shapes, k)));
    this.turnedUp = Float64Array.from(this.shapeEnds.flatMap((of) => turnShape(of, 1)));
    this.turnedDown = Float64Array.from(this.shapeEnds.flatMap((of) => turnShape(of, -1)));
    const signed = Float64Array.from(this.shapeEnds, ([low, high]) => (high >= -low ? high : low));
    this.order = Int32Array.from(signed.keys()).sort((a, b) => signed[a]! - signed[b]!);
    this.extremes = Float64Array.from(this.order, (k) => signed[k]!);
  }

  /** P(highest point on the side of θ ≤ top), the shape magnified by 1 / signedFarTie. */
  shareNotAbove(sign: 1 | -1, t: number, top: number): number {
    const { n, noise, shapes } = this;
    const A = t / TUNING.signedFarTie;
    const room = top - t + A;
    return this.share(sign, t, (s, forUp, forDown, e) => {
      for (let i = 0; i < n; i++) {
        const raw = shapes[s + i]!;
        const d = A * (raw > 0 ? forUp : forDown) * raw + noise[e + i]!;
        if (sign * d > room) return 0;
      }
      return 1;
    });
  }

  /** P(|d| reaches the observed one), near-ties counted as ties, less P(it does with the shape's sign reversed). */
  shareReaching(sign: 1 | -1, t: number): number {
    const { n, noise, lines, shapes, size, magnify } = this;
    return this.share(sign, t, (s, forUp, forDown, e) => {
      let smooth = 0;
      let magnified = 0;
      let farthest = 0;
      let underFarthest = 0;
      for (let i = 0; i < n; i++) {
        const raw = shapes[s + i]!;
        const unit = (raw > 0 ? forUp : forDown) * raw;
        const shape = t * unit;
        const here = noise[e + i]!;
        const line = lines[e + i]!;
        const low = Math.abs(shape + line);
        const high = Math.abs(shape + line + magnify * (here - line));
        const d = shape + here;
        if (low > smooth) smooth = low;
        if (high > magnified) magnified = high;
        if (Math.abs(d) > Math.abs(farthest)) {
          farthest = d;
          underFarthest = unit;
        }
      }
      const reaches = (1 - 1 / magnify) * smooth + magnified / magnify >= size;
      const isReversed = Math.abs(farthest) >= size && farthest * underFarthest < 0;
      return (reaches ? 1 : 0) - (isReversed ? 1 : 0);
    });
  }

  /** P(the extreme lies on the other side than θ, as far out as observed or farther). */
  shareContrary(sign: 1 | -1, t: number): number {
    const { n, noise, shapes, size } = this;
    return this.share(sign, t, (s, forUp, forDown, e) => {
      let least = 0;
      let greatest = 0;
      for (let i = 0; i < n; i++) {
        const raw = shapes[s + i]!;
        const d = sign * (t * (raw > 0 ? forUp : forDown) * raw + noise[e + i]!);
        if (d < least) least = d;
        if (d > greatest) greatest = d;
      }
      return -least >= size && -least > greatest ? 1 : 0;
    });
  }

  /** P(|d| reaches the observed one) less twice that with the shape's sign reversed: the confidence in |θ| ≤ t. */
  confidenceWithin(t: number): number {
    const { n, noise, shapes, size } = this;
    let sum = 0;
    for (let b = 0; b < this.count; b++) {
      const k = b % this.shapeEnds.length;
      const [low, high] = this.shapeEnds[k]!;
      const factor = t / (Math.max(high, -low) || Infinity);
      let farthest = 0;
      let underFarthest = 0;
      for (let i = 0; i < n; i++) {
        const raw = shapes[k * n + i]!;
        const d = factor * raw + noise[b * n + i]!;
        if (Math.abs(d) > Math.abs(farthest)) {
          farthest = d;
          underFarthest = raw;
        }
      }
      if (Math.abs(farthest) >= size) sum += farthest * underFarthest < 0 ? -1 : 1;
    }
    return Math.min(1, Math.max(0, sum / this.count));
  }

  /** Mean of what `count` returns over the noise draws, each with one of the shapes nearest to sign·t. */
  private share(
    sign: 1 | -1,
    t: number,
    count: (shapeAt: number, forUp: number, forDown: number, noiseAt: number) => number,
  ): number {
    const chosen = this.nearest(sign * t);
    const turned = sign > 0 ? this.turnedUp : this.turnedDown;
    let sum = 0;
    for (let b = 0, j = 0; b < this.count; b++, j++) {
      if (j === chosen.length) j = 0;
      const k = chosen[j]!;
      sum += count(k * this.n, turned[2 * k]!, turned[2 * k + 1]!, b * this.n);
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

/** [least, greatest] of a profile. */
export function ends(profile: Float64Array): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < profile.length; i++) {
    const d = profile[i]!;
    if (d < low) low = d;
    if (d > high) high = d;
  }
  return [low, high];
}

/** Greatest magnitude of each row of n numbers, ascending. */
function sortedLargest(rows: Float64Array, n: number): Float64Array {
  const sizes = new Float64Array(rows.length / n);
  for (let b = 0; b < sizes.length; b++) {
    let most = 0;
    for (let i = b * n; i < (b + 1) * n; i++) most = Math.max(most, Math.abs(rows[i]!));
    sizes[b] = most;
  }
  return sizes.sort();
}

function largest(profile: Float64Array): number {
  const [low, high] = ends(profile);
  return Math.max(high, -low);
}
