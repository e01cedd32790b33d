/**
 * Solving with the factor. Vectors here are in elimination order ("positions"), length `factor.size`.
 *
 * Free unknowns (those that no reading determines) are set to zero. That is a choice of origin, never a result: whatever is
 * reported is first tested against `nullSpace`, and what changes with it is not reported.
 */
import type { Border, Factor } from './factor.js';

/** Least-squares solution: R x = d. */
export function solution(factor: Factor): Float64Array {
  const x = new Float64Array(factor.size);
  const b = factor.border;
  const width = b.members.length + 1;
  backBorder(b, (row) => b.r[row * width + width - 1]!, x);
  backPoints(factor, factor.rhs, x);
  return x;
}

/** R x = w for any right-hand side: `w` by position; its values for free unknowns are ignored. Overwrites x. */
export function backSubstitute(factor: Factor, w: Float64Array, x: Float64Array): void {
  const b = factor.border;
  x.fill(0);
  backBorder(b, (row) => w[b.members[b.basic[row]!]!]!, x);
  backPoints(factor, w, x);
}

/** Rᵀ y = c. Free unknowns keep zero. */
export function forwardSubstitute(factor: Factor, c: Float64Array): Float64Array {
  const rest = c.slice();
  const y = new Float64Array(factor.size);
  for (let i = 0; i < factor.points; i++) {
    if (factor.diagonal[i] === 0 || rest[i] === 0) continue;
    const value = rest[i]! / factor.diagonal[i]!;
    y[i] = value;
    for (let k = factor.start[i]!; k < factor.start[i + 1]!; k++)
      rest[factor.column[k]!]! -= factor.entry[k]! * value;
  }
  const b = factor.border;
  const width = b.members.length + 1;
  for (let row = 0; row < b.basic.length; row++) {
    const at = b.members[b.basic[row]!]!;
    const value = rest[at]! / b.r[row * width + b.basic[row]!]!;
    y[at] = value;
    for (let later = row + 1; later < b.basic.length; later++) {
      const c2 = b.basic[later]!;
      rest[b.members[c2]!]! -= b.r[row * width + c2]! * value;
    }
  }
  return y;
}

/**
 * Variance (unit weight) of functionals of few unknowns: only the non-zero elements of y = R⁻ᵀ c are calculated, so that the
 * variance of one station against another costs no more in a long survey than in a short one.
 *
 * @returns A function of positions and weights. It has one work area, so only one call at a time is possible.
 */
export function sparseVariance(
  factor: Factor,
): (positions: ArrayLike<number>, weights: ArrayLike<number>) => number {
  const { points, start, column, entry, diagonal, border } = factor;
  const rest = new Float64Array(factor.size);
  const isPending = new Uint8Array(points);
  /** Points that are not done yet, the next one last. */
  const pending: number[] = [];
  const queue = (i: number) => {
    if (i >= points || isPending[i] === 1) return;
    isPending[i] = 1;
    let at = pending.length;
    while (at > 0 && pending[at - 1]! < i) at--;
    pending.splice(at, 0, i);
  };
  const width = border.members.length + 1;
  return (positions, weights) => {
    for (let k = 0; k < positions.length; k++) {
      rest[positions[k]!]! += weights[k]!;
      queue(positions[k]!);
    }
    let sum = 0;
    for (let i = pending.pop(); i !== undefined; i = pending.pop()) {
      isPending[i] = 0;
      if (diagonal[i] === 0) continue; // in the border
      const value = rest[i]! / diagonal[i]!;
      rest[i] = 0;
      sum += value * value;
      for (let k = start[i]!; k < start[i + 1]!; k++) {
        const c = column[k]!;
        rest[c]! -= entry[k]! * value;
        if (c > i) queue(c);
      }
    }
    for (let row = 0; row < border.basic.length; row++) {
      const own = border.basic[row]!;
      const value = rest[border.members[own]!]! / border.r[row * width + own]!;
      sum += value * value;
      if (value === 0) continue;
      for (let later = row + 1; later < border.basic.length; later++) {
        const c = border.basic[later]!;
        rest[border.members[c]!]! -= border.r[row * width + c]! * value;
      }
    }
    for (const m of border.members) rest[m] = 0;
    return sum;
  };
}

/** Covariance (unit weight) of the functional `c` with every unknown: (RᵀR)⁻¹ c. */
export function covarianceWith(factor: Factor, c: Float64Array): Float64Array {
  const y = forwardSubstitute(factor, c);
  const x = new Float64Array(factor.size);
  backSubstitute(factor, y, x);
  return x;
}

/**
 * The free motions: how all unknowns can change together without changing any reading. One vector per free unknown, scaled to
 * a largest component of 1.
 */
export function nullSpace(factor: Factor): Float64Array[] {
  const b = factor.border;
  const width = b.members.length + 1;
  const noReadings = new Float64Array(factor.points);
  return Array.from(b.free, (f) => {
    const x = new Float64Array(factor.size);
    x[b.members[f]!] = 1;
    backBorder(b, (row) => -b.r[row * width + f]!, x);
    backPoints(factor, noReadings, x);
    let most = 0;
    for (const v of x) most = Math.max(most, Math.abs(v));
    return x.map((v) => v / most);
  });
}

/** Calculates the basic border unknowns of x; the right-hand side already has the part of the free unknowns. */
function backBorder(b: Border, rhs: (row: number) => number, x: Float64Array): void {
  const width = b.members.length + 1;
  for (let row = b.basic.length - 1; row >= 0; row--) {
    let sum = rhs(row);
    for (let later = row + 1; later < b.basic.length; later++) {
      const c = b.basic[later]!;
      sum -= b.r[row * width + c]! * x[b.members[c]!]!;
    }
    const own = b.basic[row]!;
    x[b.members[own]!] = sum / b.r[row * width + own]!;
  }
}

/** Runs for every simulated survey, so it takes an array and calls no function per point. */
function backPoints(factor: Factor, rhs: Float64Array, x: Float64Array): void {
  const { points, start, column, entry, diagonal } = factor;
  for (let i = points - 1; i >= 0; i--) {
    if (diagonal[i] === 0) continue;
    let sum = rhs[i]!;
    for (let k = start[i]!; k < start[i + 1]!; k++) sum -= entry[k]! * x[column[k]!]!;
    x[i] = sum / diagonal[i]!;
  }
}
