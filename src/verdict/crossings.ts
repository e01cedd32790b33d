/**
 * For many convex curves g(θ), θ ≥ 0: where each lies below one level. Curve b is below it
 * on (enter_b, leave_b), which may be empty.
 */
export interface Crossings {
  /** Ascending; 0 for a curve that starts below, Infinity for one that is never below. */
  readonly enter: Float64Array;
  /** Ascending; Infinity for a curve that is never below. */
  readonly leave: Float64Array;
}

/** One curve, see `findCrossings`. */
export interface Curve {
  readonly g: (theta: number) => number;
  readonly bound: number;
  readonly startsBelow: boolean;
}

/**
 * Finds the crossings of `count` curves with a level. No curve rises faster than with slope 1.
 *
 * @param curve Sets curve b up and returns it, with a bound that its last crossing does not exceed, g(bound) ≥ level,
 *   and whether g(0) < level is known already (false: not known).
 * @param level The level, unit of θ.
 * @param steepestFall No curve falls faster than with this slope, > 0.
 * @param tolerance Curves are followed to within this of the level, then along the last chord; same unit.
 */
export function findCrossings(
  count: number,
  curve: (b: number) => Curve,
  level: number,
  steepestFall: number,
  tolerance: number,
): Crossings {
  const enter = new Float64Array(count);
  const leave = new Float64Array(count).fill(Infinity);
  for (let b = 0; b < count; b++) {
    const { g, bound, startsBelow } = curve(b);
    const first = startsBelow ? 0 : firstBelow(g, bound, level, steepestFall, tolerance);
    enter[b] = first;
    if (first < Infinity) leave[b] = Math.max(first, lastBelow(g, first, bound, level, tolerance));
  }
  return { enter: enter.sort(), leave: leave.sort() };
}

/** Share of the curves that are at the level or above it at θ. */
export const shareAtLevel = (c: Crossings, theta: number): number =>
  (countAtMost(c.leave, theta) + c.enter.length - countAtMost(c.enter, theta)) / c.enter.length;

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

// Both searches step along chords from the side where the curve is above. A convex curve lies above the
// extension of its chords, so no step goes past the crossing; the first takes the steepest slope there may be.
const MOST_STEPS = 60;

function lastBelow(
  g: (theta: number) => number,
  first: number,
  bound: number,
  level: number,
  tolerance: number,
): number {
  // Most curves have crossed at θ = level; one that has not come down yet by then has to be taken from its bound.
  let x = Math.min(level, bound);
  let height = first === 0 || first < x ? g(x) - level : -1;
  if (height < 0) {
    x = bound;
    height = g(x) - level;
  }
  let slope = 1;
  for (let k = 0; k < MOST_STEPS && height > tolerance; k++) {
    const next = x - height / slope;
    if (next <= 0) return 0;
    const nextHeight = g(next) - level;
    const chord = (height - nextHeight) / (x - next);
    x = next;
    height = nextHeight;
    if (!(chord > 1e-9)) return x;
    slope = Math.min(slope, chord);
  }
  return Math.max(0, x - Math.max(0, height) / slope);
}

function firstBelow(
  g: (theta: number) => number,
  bound: number,
  level: number,
  steepestFall: number,
  tolerance: number,
): number {
  let x = 0;
  let height = g(0) - level;
  if (height < 0) return 0;
  let slope = steepestFall;
  for (let k = 0; k < MOST_STEPS && height > tolerance; k++) {
    const next = x + height / slope;
    if (next > bound) return Infinity;
    const nextHeight = g(next) - level;
    const chord = (height - nextHeight) / (next - x);
    x = next;
    height = nextHeight;
    if (!(chord > 1e-9)) return height > tolerance ? Infinity : x;
    slope = Math.min(slope, chord);
  }
  return x + Math.max(0, height) / slope;
}
