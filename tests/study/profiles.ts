import type { RandomGenerator } from '../../src/base/statistics/random.js';

/**
 * True rails, noises and characteristics for the tests of intervals. Written apart from src/base/geometry, so that a mistake
 * there cannot hide here. Deviations are in units of the reading's σ.
 */

/** One number of a profile. */
type ProfileFunctional = (profile: Float64Array) => number;

/** Station t of a rail of n, from −1 to +1. */
const along = (n: number, i: number): number => (n > 1 ? (2 * i) / (n - 1) - 1 : 0);
const rail =
  (f: (t: number, i: number, n: number) => number) =>
  (n: number): Float64Array =>
    Float64Array.from({ length: n }, (_, i) => f(along(n, i), i, n));

/** True shapes by name; random ones take the generator. Scaled later. */
export const shapes: Readonly<Record<string, (n: number, random: RandomGenerator) => Float64Array>> = {
  level: rail(() => 1),
  bow: rail((t) => 1 - t * t),
  sine: rail((t) => Math.sin(1.5 * Math.PI * (t + 1))),
  waves: rail((t) => Math.cos(4 * Math.PI * (t + 1))),
  's-curve': rail((t) => t ** 3 - 0.6 * t),
  walk: (n, random) => {
    let sum = 0;
    return Float64Array.from({ length: n }, () => (sum += random.nextNormal()));
  },
  white: (n, random) => Float64Array.from({ length: n }, () => random.nextNormal()),
  sawtooth: rail((_, i) => (i % 2 === 0 ? -1 : 1)),
  kink: rail((t) => Math.max(0, t + 0.2)),
  step: rail((t) => (t > 0.2 ? 1 : 0)),
  bump: rail((_, i, n) => (i === Math.floor(n / 3) ? 1 : 0)),
  slope: rail((t) => t),
  'sloping bow': rail((t) => 1 - t * t + 0.7 * t),
};

/** Adds one draw of a noise to `out`. Every kind has readings with σ = 1, but for the random walk's steps. */
export type Noise = (out: Float64Array, random: RandomGenerator) => void;

const common =
  (offset: number, trend: number): Noise =>
  (out, random) => {
    const a = offset * random.nextNormal();
    const b = trend * random.nextNormal();
    for (let i = 0; i < out.length; i++) out[i] = a + b * along(out.length, i) + random.nextNormal();
  };

export const noises: Readonly<Record<string, Noise>> = {
  independent: common(0, 0),
  'trend 0.3': common(0.3, 0.3),
  'trend 1': common(1, 1),
  'trend 5': common(5, 5),
  'offset 5': common(5, 0),
  'random walk': (out, random) => {
    let sum = 0;
    for (let i = 0; i < out.length; i++) {
      out[i] = sum;
      sum += random.nextNormal();
    }
  },
};

const range = (d: Float64Array, slope: number, x: Float64Array, first: number, end: number): number => {
  let low = Infinity;
  let high = -Infinity;
  for (let i = first; i < end; i++) {
    const r = d[i]! - slope * x[i]!;
    if (r < low) low = r;
    if (r > high) high = r;
  }
  return high - low;
};

const leastSquaresRange = (d: Float64Array, x: Float64Array, first: number, end: number): number => {
  const m = end - first;
  let xBar = 0;
  for (let i = first; i < end; i++) xBar += x[i]! / m;
  let sxx = 0;
  let sxd = 0;
  for (let i = first; i < end; i++) {
    sxx += (x[i]! - xBar) ** 2;
    sxd += (x[i]! - xBar) * d[i]!;
  }
  return range(d, sxd / sxx, x, first, end);
};

/** Range-like characteristics by name, of profiles at x. */
export const characteristics: Readonly<Record<string, (x: Float64Array) => ProfileFunctional>> = {
  'LS line': (x) => (d) => leastSquaresRange(d, x, 0, d.length),
  'end points': (x) => (d) => {
    const last = d.length - 1;
    return range(d, (d[last]! - d[0]!) / (x[last]! - x[0]!), x, 0, d.length);
  },
  /** By ternary search over the slope: the width is convex in it. */
  'minimum zone': (x) => (d) => {
    let most = 0;
    for (let i = 1; i < d.length; i++)
      most = Math.max(most, Math.abs((d[i]! - d[i - 1]!) / (x[i]! - x[i - 1]!)));
    let low = -most;
    let high = most;
    for (let k = 0; k < 60; k++) {
      const a = low + (high - low) / 3;
      const b = high - (high - low) / 3;
      if (range(d, a, x, 0, d.length) < range(d, b, x, 0, d.length)) high = b;
      else low = a;
    }
    return range(d, (low + high) / 2, x, 0, d.length);
  },
  /** Worst window of five stations (all, on a shorter rail), each about its own line. */
  'five-station windows': (x) => (d) => {
    const m = Math.min(5, d.length);
    let worst = 0;
    for (let i = 0; i + m <= d.length; i++) worst = Math.max(worst, leastSquaresRange(d, x, i, i + m));
    return worst;
  },
  'max − min': (x) => (d) => range(d, 0, x, 0, d.length),
};

/** The deviation of greatest magnitude, the first of equals. */
export function signedExtreme(d: Float64Array): number {
  let extreme = 0;
  for (const v of d) if (Math.abs(v) > Math.abs(extreme)) extreme = v;
  return extreme;
}
