/**
 * The minimum zone of a profile: the two parallel lines with the smallest distance, measured across the profile, that have
 * every point between them. Exact: the width as a function of slope is convex and consists of straight pieces; its corners
 * are the slopes of the edges of the convex hull. The minimum is found by going from corner to corner.
 *
 * @see ISO 12780-1 (minimum-zone reference lines); this is the rotating-calipers argument, from memory.
 */
import type { Line } from './line.js';

export interface MinimumZone {
  /** Width of the zone, in the direction of d (µm). */
  readonly width: number;
  /** Middle line of the zone. */
  readonly line: Line;
  /**
   * The points that determine the zone: `lone` on one side, `first` and `last` on the other. The width is
   * side·(d[lone] − d on the chord from `first` to `last` at x[lone]).
   */
  readonly lone: number;
  readonly first: number;
  readonly last: number;
  readonly side: 1 | -1;
}

/**
 * @param x Positions, shape (n), n ≥ 2, strictly ascending.
 * @param d Deviations, shape (n).
 */
export function minimumZoneLine(x: Float64Array, d: Float64Array): MinimumZone {
  const upper = hull(x, d, 1);
  const lower = hull(x, d, -1);
  const slopeOf = (chain: Int32Array, k: number) => {
    const a = chain[k]!;
    const b = chain[k + 1]!;
    return (d[b]! - d[a]!) / (x[b]! - x[a]!);
  };
  // From slope −∞ upwards: the upper line touches the last point first and the first point last, the lower line the other
  // way. The width decreases as long as the upper contact is ahead of the lower one.
  let u = upper.length - 1;
  let l = 0;
  for (;;) {
    const upperSlope = u > 0 ? slopeOf(upper, u - 1) : Infinity;
    const lowerSlope = l < lower.length - 1 ? slopeOf(lower, l) : Infinity;
    if (upperSlope <= lowerSlope) {
      if (x[upper[u - 1]!]! <= x[lower[l]!]!) {
        return zone(x, d, lower[l]!, upper[u - 1]!, upper[u]!, -1, upperSlope);
      }
      u--;
    } else {
      if (x[lower[l + 1]!]! >= x[upper[u]!]!) {
        return zone(x, d, upper[u]!, lower[l]!, lower[l + 1]!, 1, lowerSlope);
      }
      l++;
    }
  }
}

function zone(
  x: Float64Array,
  d: Float64Array,
  lone: number,
  first: number,
  last: number,
  side: 1 | -1,
  slope: number,
): MinimumZone {
  const chord = d[first]! + slope * (x[lone]! - x[first]!);
  const width = Math.max(0, side * (d[lone]! - chord));
  const intercept = d[first]! - slope * x[first]! + (side * width) / 2;
  return { width, line: { intercept, slope }, lone, first, last, side };
}

/** Indices of the upper (side 1) or lower (side −1) convex hull, by ascending x. */
function hull(x: Float64Array, d: Float64Array, side: 1 | -1): Int32Array {
  const chain = new Int32Array(x.length);
  let count = 0;
  for (let i = 0; i < x.length; i++) {
    while (count >= 2) {
      const a = chain[count - 2]!;
      const b = chain[count - 1]!;
      const turn = (x[b]! - x[a]!) * (d[i]! - d[a]!) - (x[i]! - x[a]!) * (d[b]! - d[a]!);
      if (side * turn < 0) break;
      count--;
    }
    chain[count++] = i;
  }
  return chain.subarray(0, count);
}

/**
 * The width alone, for many profiles over the same positions: about five times as fast as the hull, because each search
 * begins at the three points at which the last one ended. The point that is farthest outside enters, until no point is
 * outside the zone of three alternating points. The width increases with every step, so the search ends at the optimum (it
 * is the dual simplex method of the same linear programme).
 *
 * @param x Positions, shape (n), strictly ascending.
 * @returns A function from d, shape (n), to the width; 0 for fewer than three points.
 * @see E. Ya. Remez, 1934 (one-point exchange), from memory.
 */
export function lineZoneWidths(x: Float64Array): (d: Float64Array) => number {
  const n = x.length;
  if (n < 3) return () => 0;
  const reach = Math.max(Math.abs(x[0]!), Math.abs(x[n - 1]!));
  const held = Int32Array.of(0, n >> 1, n - 1);
  return (d) => {
    for (let step = 0; step < 20 * n; step++) {
      const i = held[0]!;
      const j = held[1]!;
      const k = held[2]!;
      const slope = (d[k]! - d[i]!) / (x[k]! - x[i]!);
      // Residuals about the middle line: −h at i and k, h at j.
      const h = 0.5 * (d[j]! - d[i]! - slope * (x[j]! - x[i]!));
      const intercept = d[i]! + h - slope * x[i]!;
      let most = Math.abs(h) + 1e-13 * (Math.abs(intercept) + Math.abs(slope) * reach);
      let entering = -1;
      for (let p = 0; p < n; p++) {
        const size = Math.abs(d[p]! - intercept - slope * x[p]!);
        if (size > most) {
          most = size;
          entering = p;
        }
      }
      if (entering < 0) return 2 * Math.abs(h);
      const isAbove = d[entering]! - intercept - slope * x[entering]! > 0;
      exchange(held, entering, isAbove === h >= 0);
    }
    return minimumZoneLine(x, d).width; // has never been reached
  };
}

/** The entering point replaces a neighbour on its own side, so that the sides still alternate. */
function exchange(held: Int32Array, entering: number, likeMiddle: boolean): void {
  const [i, j, k] = [held[0]!, held[1]!, held[2]!];
  if (entering < i) {
    if (likeMiddle) {
      held[2] = j;
      held[1] = i;
    }
    held[0] = entering;
  } else if (entering < j) held[likeMiddle ? 1 : 0] = entering;
  else if (entering < k) held[likeMiddle ? 1 : 2] = entering;
  else {
    if (likeMiddle) {
      held[0] = j;
      held[1] = k;
    }
    held[2] = entering;
  }
}
