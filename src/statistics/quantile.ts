/** The number that a share p of an ascending list does not exceed. */
export const quantile = (ascending: Float64Array, p: number): number =>
  ascending[Math.max(0, Math.min(ascending.length - 1, Math.floor(p * ascending.length)))]!;

/** The share of an ascending list that is at most x. */
export function shareAtMost(ascending: Float64Array, x: number): number {
  let [low, high] = [0, ascending.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ascending[middle]! <= x) low = middle + 1;
    else high = middle;
  }
  return low / ascending.length;
}
