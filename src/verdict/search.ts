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
  const a = Math.max(0, low);
  return a > 0 && !holds(a) ? halved(holds, 0, a, steps) : halved(holds, a, high, steps);
}

/**
 * The same where a guess is at hand and a condition that was asked about nearby is cheap: the bracket grows from the
 * guess, its width doubled each time.
 *
 * @param high Where it no longer holds.
 * @param step First width of the bracket.
 * @returns θ to within (width of the bracket) · 2^−steps.
 */
export function switchPointNear(
  holds: (theta: number) => boolean,
  guess: number,
  step: number,
  high: number,
  steps: number,
): number {
  let a = Math.min(guess, high);
  let b = a;
  let width = step;
  if (a >= high || !holds(a)) {
    do {
      b = a;
      a = Math.max(0, b - width);
      width *= 2;
    } while (a > 0 && !holds(a));
  } else {
    do {
      a = b;
      b = Math.min(high, a + width);
      width *= 2;
    } while (b < high && holds(b));
  }
  return halved(holds, a, b, steps);
}

/** It holds at a, or a is 0; it does not at b. */
function halved(holds: (theta: number) => boolean, a: number, b: number, steps: number): number {
  for (let k = 0; k < steps; k++) {
    const middle = (a + b) / 2;
    if (holds(middle)) a = middle;
    else b = middle;
  }
  return a;
}
