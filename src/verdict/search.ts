/** The number that a share p of an ascending list does not exceed. */
export const quantile = (ascending: Float64Array, p: number): number =>
  ascending[Math.min(ascending.length - 1, Math.floor(p * ascending.length))]!;

/** The θ in [0, most] where a condition that holds below it ceases to hold (0: it never holds), to most · 2^−steps. */
export function switchPoint(holds: (theta: number) => boolean, most: number, steps = 30): number {
  let low = 0;
  let high = most;
  for (let k = 0; k < steps; k++) {
    const middle = (low + high) / 2;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}
