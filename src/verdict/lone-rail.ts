import type { Errors } from './errors.js';
import type { LoneRail } from './greatest.js';

/** So many draws tell how noise fills the room that a lone rail leaves: each counts with its whole normal curve. */
const MOST_DRAWS = 400;
/** Steps to an end; each at least halves what is left, or finds that there is none. */
const MOST_STEPS = 40;

/**
 * For the functional ℓ = Σ coefficient·point: up to where T(rest + w·a) ≤ t in each draw, a = Σℓ/s², rest = e − a·(ℓ·e). T is
 * convex in w and at least |w|, so Newton's steps from ±t end at the two ends from outside.
 *
 * @param slopeOf T of a profile and how it changes along a.
 */
export function loneRail(
  errors: Errors,
  functional: readonly { readonly index: number; readonly weight: number }[],
  t: number,
  slopeOf: (profile: Float64Array, along: Float64Array) => { value: number; slope: number },
): LoneRail | null {
  const { n, draws } = errors;
  const count = Math.min(errors.count, MOST_DRAWS);
  const along = new Float64Array(n);
  for (let i = 0; i < n; i++)
    for (const { index, weight } of functional) along[i] = along[i]! + weight * errors.covariance(i, index);
  let variance = 0;
  for (const { index, weight } of functional) variance += weight * along[index]!;
  if (!(variance > 0)) return null;
  for (let i = 0; i < n; i++) along[i] = along[i]! / variance;
  const rest = new Float64Array(n);
  const trial = new Float64Array(n);
  const from = new Float64Array(count);
  const to = new Float64Array(count);
  const end = (side: 1 | -1): number => {
    let w = side * t;
    for (let k = 0; k < MOST_STEPS; k++) {
      for (let i = 0; i < n; i++) trial[i] = rest[i]! + w * along[i]!;
      const { value, slope } = slopeOf(trial, along);
      if (value <= t * (1 + 1e-9)) return w;
      if (!(side * slope > 0)) break;
      w -= (value - t) / slope;
      if (side * w < -t) break;
    }
    return -side * Infinity;
  };
  for (let b = 0; b < count; b++) {
    let v = 0;
    for (const { index, weight } of functional) v += weight * draws[b * n + index]!;
    for (let i = 0; i < n; i++) rest[i] = draws[b * n + i]! - v * along[i]!;
    to[b] = end(1);
    from[b] = to[b] === -Infinity ? Infinity : end(-1);
  }
  const spread = errors.spread === null ? null : errors.spread.subarray(0, count);
  return { s: Math.sqrt(variance), from, to, spread, size: Math.max(1, slopeOf(along, along).value) };
}
