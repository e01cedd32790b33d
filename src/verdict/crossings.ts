/**
 * For many convex curves g(θ), θ ≥ 0, that end up rising with slope 1: where each lies below one level.
 * Curve b is below it on (enter_b, leave_b), which may be empty.
 */
export interface Crossings {
  /** Ascending; 0 for a curve that starts below, Infinity for one that is never below. */
  readonly enter: Float64Array;
  /** Ascending; Infinity for a curve that is never below. */
  readonly leave: Float64Array;
}

/**
 * Finds the crossings of `count` curves with a level.
 *
 * @param curve Sets curve b up and returns it with an upper bound of its last crossing, g(bound) ≥ level.
 * @param level The level, unit of θ.
 * @param tolerance Curves are followed to within this of the level, same unit.
 */
export function findCrossings(
  count: number,
  curve: (b: number) => { readonly g: (theta: number) => number; readonly bound: number },
  level: number,
  tolerance: number,
): Crossings {
  const enter = new Float64Array(count);
  const leave = new Float64Array(count).fill(Infinity);
  for (let b = 0; b < count; b++) {
    const { g, bound } = curve(b);
    enter[b] = firstBelow(g, level, tolerance, bound);
    if (enter[b] !== Infinity) leave[b] = Math.max(enter[b]!, lastBelow(g, bound, level, tolerance));
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
// extension of its chords, so no step goes past the crossing; the first takes the steepest slope there is, 1.
const MOST_STEPS = 60;

function lastBelow(g: (theta: number) => number, bound: number, level: number, tolerance: number): number {
  let x = bound;
  let height = g(x) - level;
  let slope = 1;
  for (let k = 0; k < MOST_STEPS && height > tolerance; k++) {
    const next = x - height / slope;
    if (next <= 0) return 0;
    const nextHeight = g(next) - level;
    const chord = (height - nextHeight) / (x - next);
    x = next;
    height = nextHeight;
    if (!(chord > 1e-9)) break;
    slope = Math.min(1, chord);
  }
  return x;
}

function firstBelow(g: (theta: number) => number, level: number, tolerance: number, bound: number): number {
  let x = 0;
  let height = g(0) - level;
  if (height < 0) return 0;
  let slope = 1;
  for (let k = 0; k < MOST_STEPS && height > tolerance; k++) {
    const next = x + height / slope;
    if (next > bound) return Infinity;
    const nextHeight = g(next) - level;
    const chord = (height - nextHeight) / (next - x);
    x = next;
    height = nextHeight;
    if (height > tolerance && !(chord > 1e-9)) return Infinity;
    slope = Math.min(1, chord);
  }
  return x;
}
