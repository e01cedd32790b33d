/**
 * The minimum zone of a profile: the two parallel lines, closest together across the profile, that hold every
 * point between them. Exact: the width as a function of slope is convex and made of straight pieces whose
 * corners are the slopes of the convex hull's edges, so the least of them is found by walking the corners.
 *
 * @see ISO 12780-1 (minimum-zone reference lines); the hull walk is the rotating-calipers argument, from memory.
 */
import type { Line } from './line.js';

export interface MinimumZone {
  /** Width of the zone, in the direction of d (µm). */
  readonly width: number;
  /** Middle line of the zone. */
  readonly line: Line;
  /**
   * The points that hold the zone: `lone` on one side, `first` and `last` on the other. The width is
   * side·(d[lone] − d on the chord from `first` to `last` at x[lone]).
   */
  readonly lone: number;
  readonly first: number;
  readonly last: number;
  readonly side: 1 | -1;
}

/** Work space for profiles of one length. */
export interface HullSpace {
  readonly upper: Int32Array;
  readonly lower: Int32Array;
}

export const hullSpace = (n: number): HullSpace => ({ upper: new Int32Array(n), lower: new Int32Array(n) });

/**
 * @param x Positions, shape (n), n ≥ 2, strictly ascending.
 * @param d Deviations, shape (n).
 */
export function minimumZoneLine(
  x: Float64Array,
  d: Float64Array,
  space: HullSpace = hullSpace(x.length),
): MinimumZone {
  const upperCount = hull(x, d, 1, space.upper);
  const lowerCount = hull(x, d, -1, space.lower);
  const slopeOf = (chain: Int32Array, k: number) => {
    const a = chain[k]!;
    const b = chain[k + 1]!;
    return (d[b]! - d[a]!) / (x[b]! - x[a]!);
  };
  // From slope −∞ upwards: the upper line leaves the last point and rolls to the first, the lower one the
  // other way. The width shrinks while the upper contact lies ahead of the lower one.
  let u = upperCount - 1;
  let l = 0;
  for (;;) {
    const upperSlope = u > 0 ? slopeOf(space.upper, u - 1) : Infinity;
    const lowerSlope = l < lowerCount - 1 ? slopeOf(space.lower, l) : Infinity;
    if (upperSlope <= lowerSlope) {
      if (x[space.upper[u - 1]!]! <= x[space.lower[l]!]!) {
        return zone(x, d, space.lower[l]!, space.upper[u - 1]!, space.upper[u]!, -1, upperSlope);
      }
      u--;
    } else {
      if (x[space.lower[l + 1]!]! >= x[space.upper[u]!]!) {
        return zone(x, d, space.upper[u]!, space.lower[l]!, space.lower[l + 1]!, 1, lowerSlope);
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

/** Indices of the upper (side 1) or lower (side −1) convex hull, by ascending x; returns their number. */
function hull(x: Float64Array, d: Float64Array, side: 1 | -1, chain: Int32Array): number {
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
  return count;
}
