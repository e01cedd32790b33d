/** The greatest and the least of any number of numbers; spread into a call, a hundred thousand are too many arguments. */

/** −Infinity of none. */
export function mostOf(values: Iterable<number>): number {
  let most = -Infinity;
  for (const value of values) if (value > most) most = value;
  return most;
}

/** Infinity of none. */
export function leastOf(values: Iterable<number>): number {
  let least = Infinity;
  for (const value of values) if (value < least) least = value;
  return least;
}
