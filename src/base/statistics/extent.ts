/** Greatest and least of any number of values. Math.max(...values) fails for a hundred thousand arguments. */

/** Greatest value; −Infinity if there is none. */
export function mostOf(values: Iterable<number>): number {
  let most = -Infinity;
  for (const value of values) if (value > most) most = value;
  return most;
}

/** Least value; Infinity if there is none. */
export function leastOf(values: Iterable<number>): number {
  let least = Infinity;
  for (const value of values) if (value < least) least = value;
  return least;
}
