/** Greatest, least and length of any number of values. Math.max(...values) and Math.hypot(...values) fail for a hundred thousand arguments. */

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

/** Both: [Infinity, −Infinity] if there is none. */
export const extent = (values: readonly number[]): [number, number] => [leastOf(values), mostOf(values)];

/**
 * Root of the sum of squares, with the rounding of Math.hypot; 0 if there is no value.
 *
 * @see W. Kahan, Communications of the ACM 8 (1965) 40: a sum whose rounding is carried to the next term.
 */
export function lengthOf(values: readonly number[]): number {
  const most = mostOf(values.map(Math.abs));
  if (most <= 0) return 0;
  let sum = 0;
  let carried = 0;
  for (const value of values) {
    const part = value / most;
    const term = part * part - carried;
    const next = sum + term;
    carried = next - sum - term;
    sum = next;
  }
  return Math.sqrt(sum) * most;
}
