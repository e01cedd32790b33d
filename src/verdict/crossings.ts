import { freshMemory, type Memory } from './working-memory.js';

/**
 * Many convex curves g_b(θ), θ ≥ 0, none of which rises faster than with slope 1. Curve b is below a level on
 * (enter_b, leave_b), which may be empty.
 */
export interface CurveFamily {
  readonly count: number;
  readonly at: (b: number, theta: number) => number;
  /** A number that g_b(0) does not exceed. */
  readonly mostAtZero: (b: number) => number;
  /** Some θ from which on curve b is at the level or above it for good. */
  readonly bound: (b: number) => number;
  /** No curve falls faster than with this slope, > 0. */
  readonly steepestFall: number;
}

/**
 * How many of the curves are at a level or above it at some θ. A curve is evaluated only where what is known of it
 * (convexity, its steepest rise, earlier evaluations) leaves its side open: a search for the θ of a given share
 * decides most curves once and follows only the few that cross near the answer.
 */
export class Crossings {
  private readonly enter: Float64Array;
  /** Known to be below from enter_b up to here … */
  private readonly below: Float64Array;
  /** … and not below from here on. */
  private readonly above: Float64Array;
  // The last points evaluated on either side of leave_b, and the heights there over the level.
  private readonly low: Float64Array;
  private readonly lowHeight: Float64Array;
  private readonly high: Float64Array;
  private readonly highHeight: Float64Array;
  private curves: CurveFamily | null;

  /** @param tolerance A crossing known to within this is not followed further; unit of θ. */
  constructor(
    curves: CurveFamily,
    private readonly level: number,
    private readonly tolerance: number,
    memory: Memory = freshMemory,
  ) {
    const { count } = curves;
    this.curves = curves;
    this.enter = memory.floats(count);
    this.below = memory.floats(count);
    this.above = memory.floats(count);
    this.low = memory.floats(count);
    this.lowHeight = memory.floats(count);
    this.high = memory.floats(count).fill(Infinity);
    this.highHeight = memory.floats(count);
    for (let b = 0; b < count; b++) {
      const height = curves.mostAtZero(b) - level;
      const first = height < 0 ? 0 : firstBelow(curves, b, level, tolerance);
      this.enter[b] = first;
      this.low[b] = first;
      this.lowHeight[b] = Math.min(0, height);
      this.below[b] = first - this.lowHeight[b]!;
      this.above[b] = Math.max(first, curves.bound(b));
    }
  }

  /**
   * Share of the curves that are at the level or above it at θ.
   *
   * @param every Of every so many curves one is looked at.
   */
  shareAtLevel(theta: number, every = 1): number {
    const { enter, below, above, tolerance } = this;
    let count = 0;
    for (let b = 0; b < enter.length; b += every) {
      if (theta < enter[b]! || theta >= above[b]!) count++;
      else if (theta > below[b]!) {
        if (this.curves === null || above[b]! - below[b]! <= tolerance) {
          if (theta >= (below[b]! + above[b]!) / 2) count++;
        } else if (this.evaluate(b, theta)) count++;
      }
    }
    return count / Math.ceil(enter.length / every);
  }

  /** Follows every curve to its crossing and lets go of what they are made of. */
  settle(): void {
    const { below, above, tolerance } = this;
    for (let b = 0; b < below.length; b++) {
      for (let k = 0; k < MOST_STEPS && above[b]! - below[b]! > tolerance; k++)
        this.evaluate(b, (below[b]! + above[b]!) / 2);
    }
    this.curves = null;
  }

  /** Whether curve b is at the level at θ, enter_b ≤ θ; what that tells of its crossing is kept. */
  private evaluate(b: number, theta: number): boolean {
    const { low, lowHeight, high, highHeight, below, above } = this;
    const height = this.curves!.at(b, theta) - this.level;
    if (height < 0) {
      low[b] = theta;
      lowHeight[b] = height;
      below[b] = Math.max(below[b]!, theta - height); // it rises with slope 1 at most
    } else {
      // A convex curve lies above the extension of its chords.
      const chord = (highHeight[b]! - height) / (high[b]! - theta);
      const slope = chord > 0 && chord < 1 ? chord : 1;
      above[b] = Math.min(above[b]!, theta - height / slope);
      high[b] = theta;
      highHeight[b] = height;
    }
    // And below the chords themselves.
    if (high[b]! < Infinity) {
      const share = lowHeight[b]! / (lowHeight[b]! - highHeight[b]!);
      below[b] = Math.max(below[b]!, low[b]! + share * (high[b]! - low[b]!));
    }
    if (above[b]! < below[b]!) above[b] = below[b]!; // by rounding
    return height >= 0;
  }
}

/** How many numbers of an ascending list are at most x. */
export function countAtMost(ascending: Float64Array, x: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ascending[middle]! <= x) low = middle + 1;
    else high = middle;
  }
  return low;
}

const MOST_STEPS = 60;

/**
 * enter_b of a curve that starts at the level or above it; Infinity where it is never below. It steps along chords
 * from the left: a convex curve lies above their extension, so no step goes past the crossing; the first takes the
 * steepest slope there may be.
 */
function firstBelow(curves: CurveFamily, b: number, level: number, tolerance: number): number {
  const bound = curves.bound(b);
  let x = 0;
  let height = curves.at(b, 0) - level;
  if (height < 0) return 0;
  let slope = curves.steepestFall;
  for (let k = 0; k < MOST_STEPS && height > tolerance; k++) {
    const next = x + height / slope;
    if (next > bound) return Infinity;
    const nextHeight = curves.at(b, next) - level;
    const chord = (height - nextHeight) / (next - x);
    x = next;
    height = nextHeight;
    if (!(chord > 1e-9)) return height > tolerance ? Infinity : x;
    slope = Math.min(slope, chord);
  }
  return x + Math.max(0, height) / slope;
}
