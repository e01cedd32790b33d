import type { Curve } from './crossings.js';
import { drawOf, type Draws, type ProfileFunctional, type ProfileSample } from './profile-sample.js';
import { quantile } from './search.js';
import { segmentTrend } from './segment-trend.js';
import { farTieOf, TUNING } from './tuning.js';

/** Sets up the curve of draw b, for `findCrossings`. */
export type Curves = (b: number) => Curve;

/**
 * g(θ) = θ − A + T(A·s + e), A = θ / farTie: what a rail of value θ would read, were its shape a little larger.
 * Its slope lies between 1 − 2/farTie and 1.
 *
 * @param sizes T of each shape; @param ofNoise T of each noise draw.
 */
export function magnifiedCurves(
  T: ProfileFunctional,
  sample: ProfileSample,
  shapes: Draws,
  sizes: Float64Array,
  ofNoise: Float64Array,
): Curves {
  const n = sample.observed.length;
  const farTie = farTieOf(n);
  const observed = T(sample.observed);
  const trial = new Float64Array(n);
  return (b) => {
    const e = drawOf(sample.noise, b);
    const k = b % shapes.count;
    const s = drawOf(shapes, k);
    const size = sizes[k]!;
    const g = (theta: number): number => {
      if (!(size > 0)) return theta + ofNoise[b]!; // a shape that T does not see: all the bound allows
      const A = theta / farTie;
      const factor = A / size;
      for (let i = 0; i < n; i++) trial[i] = factor * s[i]! + e[i]!;
      return theta - A + T(trial);
    };
    return { g, bound: observed + ofNoise[b]!, startsBelow: ofNoise[b]! < observed };
  };
}

/**
 * g(θ) = (1 − 1/t)·T(θ·s + l) + T(θ·s + l + t·r) / t, e = l + r, for the shapes with the least T: what a rail of
 * value θ would read, were all stations level that lie within t times the noise. Its slope lies between −1 and 1.
 *
 * @param sizes T of each shape.
 * @param settled What T of the noise exceeds with probability 1 − coverage; t = 1 up to there.
 */
export function tiedCurves(
  T: ProfileFunctional,
  sample: ProfileSample,
  shapes: Draws,
  sizes: Float64Array,
  observed: number,
  settled: number,
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
  const t = c > 1e-9 * settled ? 1 + Math.max(0, observed - settled) / (TUNING.tieReach * c) : 1;
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
    const most = T(line) + ofRough[b]!; // of T(l) + [T(l + t·r) − T(l)] / t
    return { g, bound: observed + most, startsBelow: most < observed };
  };
}
