/** The number that a share p of an ascending list does not exceed. */
export const quantile = (ascending: Float64Array, p: number): number =>
  ascending[Math.min(ascending.length - 1, Math.floor(p * ascending.length))]!;

/**
 * The θ ≥ 0 up to which a condition holds (0: it never does), by halving a bracket.
 *
 * @param low Where it is expected to hold still; where it does not, the search goes on below.
 * @param high Where it no longer holds.
 * @returns θ to within (high − low) · 2^−steps.
 */
export function switchPoint(
  holds: (theta: number) => boolean,
  low: number,
  high: number,
  steps: number,
): number {
  let a = Math.max(0, low);
  let b = high;
  if (a > 0 && !holds(a)) {
    b = a;
    a = 0;
  }
  for (let k = 0; k < steps; k++) {
    const middle = (a + b) / 2;
    if (holds(middle)) a = middle;
    else b = middle;
  }
  return a;
}
