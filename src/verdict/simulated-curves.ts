import type { CurveFamily } from './crossings.js';
import type { NoiseRows, Rows } from './noise-rows.js';
import { quantile } from './search.js';
import { farTieOf, TUNING } from './tuning.js';

/** What the curves of one characteristic are made of. */
export interface Material {
  /** Stations. */
  readonly n: number;
  readonly shapes: Rows;
  readonly noise: NoiseRows;
  /** T of what was observed. */
  readonly observed: number;
}

/**
 * g(θ) = θ − A + T(A·s + e), A = θ / farTie: what a rail of value θ would read, were its shape a little larger.
 * Its slope lies between 1 − 2/farTie and 1.
 */
export function magnifiedCurves({
  n,
  shapes,
  noise: { reader, whole: noise },
  observed,
}: Material): CurveFamily {
  const farTie = farTieOf(n);
  return {
    count: noise.count,
    at: (b, theta) => {
      const k = b % shapes.count;
      const size = shapes.sizes[k]!;
      if (!(size > 0)) return theta + noise.sizes[b]!; // a shape that T does not see: all the bound allows
      const A = theta / farTie;
      return theta - A + reader.ofSum(A / size, shapes.values, k * n, 1, noise.values, b * n);
    },
    mostAtZero: (b) => noise.sizes[b]!,
    bound: (b) => observed + noise.sizes[b]!,
    steepestFall: 2 / farTie - 1,
  };
}

/**
 * g(θ) = (1 − 1/t)·T(θ·s + l) + T(θ·s + l + t·r) / t, e = l + r, for the shapes with the least T: what a rail of
 * value θ would read, were all stations level that lie within t times the noise. Its slope lies between −1 and 1.
 *
 * @param settled What T of the noise exceeds with probability 1 − coverage; t = 1 up to there.
 */
export function tiedCurves(material: Material, settled: number, coverage: number): CurveFamily {
  const { n, shapes, noise, observed } = material;
  const { reader } = noise;
  const { lines, rough } = noise.parts();
  const c = quantile(rough.sizes.slice().sort(), coverage);
  const t = c > 1e-9 * settled ? 1 + Math.max(0, observed - settled) / (TUNING.tieReach * c) : 1;
  const part = lines === null ? TUNING.leastPart : TUNING.leastTilted;
  const chosen = Int32Array.from(shapes.sizes.keys())
    .sort((a, b) => shapes.sizes[a]! - shapes.sizes[b]!)
    .subarray(0, Math.max(1, Math.round(shapes.count * part)));
  const most = (b: number): number => (lines?.sizes[b] ?? 0) + rough.sizes[b]!; // of T(l) + [T(l + t·r) − T(l)] / t
  return {
    count: rough.count,
    at: (b, theta) => {
      const k = chosen[b % chosen.length]!;
      const size = shapes.sizes[k]!;
      const factor = size > 0 ? theta / size : 0;
      const missed = size > 0 ? 0 : theta;
      if (lines === null) {
        // T(θ·s) = θ
        const magnified = reader.ofSum(factor, shapes.values, k * n, t, rough.values, b * n);
        return missed + (1 - 1 / t) * (theta - missed) + magnified / t;
      }
      // At t = 1 the first term does not count.
      const smooth = t > 1 ? reader.ofSum(factor, shapes.values, k * n, 1, lines.values, b * n) : 0;
      const magnified = reader.ofParts(factor, shapes.values, k * n, lines.values, t, rough.values, b * n);
      return missed + (1 - 1 / t) * smooth + magnified / t;
    },
    mostAtZero: most,
    bound: (b) => observed + most(b),
    steepestFall: 1,
  };
}
