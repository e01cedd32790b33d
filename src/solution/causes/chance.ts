/**
 * How much smaller chance alone makes the misfit when readings change their sign or their places, even if the rails are so
 * straight that the change has no effect. Upper bound of P(drop of vᵀv ≥ `drop`) without a fault, for rails of any shape.
 *
 * With e ~ N(0, I) the whitened errors, Q the projection onto the residuals and P the change (orthogonal), the drop is
 * eᵀQe − (y + Pe)ᵀQ(y + Pe), y what P adds for the true places. M = Q − PᵀQP has trace 0, eigenvalues λ in [−1, 1], and at most
 * rank(I − P) of each sign. For 0 < s ≤ 1/(1 + λmax) each y ≠ 0 makes E exp(s·drop/2) smaller: −s|Qy|²/2 from the square is greater than
 * s²|Qy|²/(2(1 − s·λmax)) from the linear term. Hence (Chernoff) P ≤ exp(−s·drop/2)·det(I − sM)^(−1/2).
 * Rows that change places must have about the same u.
 */
import type { Turned } from './hypothesis.js';
import { dot, project, type Context } from './projection.js';

/** The least favourable M: by convexity of −ln(1 − sλ) all its eigenvalues are ±1, `rank` of each sign. */
export function worstChance(drop: number, rank: number): number {
  if (!(drop > 0)) return 1;
  const s = Math.min(0.5, (Math.hypot(rank, drop) - rank) / drop);
  return Math.exp(-(s * drop) / 2 - (rank / 2) * Math.log1p(-s * s));
}

/** With more readings than this only the least favourable case is used: the matrix grows with their square, its determinant with their cube. */
const MOST_TURNED = 200;

/** Values of s that are tried. */
const STEPS = 8;

/**
 * P = I − 2UUᵀ: a change of sign and a swap of two readings are reflections. PᵀQP differs from Q only in the sign of the terms between
 * the directions U and the directions normal to them, so that λ = ±2√(q(1 − q)), q the eigenvalues of UᵀQU, and
 * det(I − sM) = det(I − 4s²(UᵀQU − (UᵀQU)²)).
 */
export function chanceOfTurned(drop: number, turned: Turned, context: Context): number {
  const r = turned.length;
  const worst = worstChance(drop, r);
  if (!(drop > 0) || r > MOST_TURNED) return worst;
  const T = between(turned, context);
  let greatest = 0;
  for (let i = 0; i < r; i++) {
    let sum = 0;
    for (let j = 0; j < r; j++) sum += Math.abs(T[i * r + j]!);
    greatest = Math.max(greatest, sum);
  }
  const last = 1 / (1 + Math.min(1, 2 * Math.sqrt(greatest)));
  let least = worst;
  for (let k = 1; k <= STEPS; k++) {
    const s = (last * k) / STEPS;
    least = Math.min(least, Math.exp(-(s * drop) / 2 - logDetOfRest(T, r, 4 * s * s) / 2));
  }
  return least;
}

/** UᵀQU − (UᵀQU)², row-major. */
function between(turned: Turned, context: Context): Float64Array {
  const r = turned.length;
  const w = turned.map((rows) => {
    const values = rows.map(
      (row, k) => (context.network.sigma[row]! * (k === 0 ? 1 : -1)) / Math.sqrt(rows.length),
    );
    return project(context, { rows, values })?.w ?? null;
  });
  const q = new Float64Array(r * r);
  for (let i = 0; i < r; i++)
    for (let j = i; j < r; j++) {
      const [a, b] = [w[i], w[j]];
      // A direction that the readings do not show is not in the residuals.
      q[i * r + j] = q[j * r + i] = a && b ? (i === j ? 1 : 0) - dot(a, b) : 0;
    }
  const T = new Float64Array(r * r);
  for (let i = 0; i < r; i++)
    for (let j = i; j < r; j++) {
      let square = 0;
      for (let k = 0; k < r; k++) square += q[i * r + k]! * q[k * r + j]!;
      T[i * r + j] = T[j * r + i] = q[i * r + j]! - square;
    }
  return T;
}

/** ln det(I − f·T) by Cholesky's method; every eigenvalue of f·T is below 1. */
function logDetOfRest(T: Float64Array, r: number, f: number): number {
  const L = new Float64Array(r * r);
  let sum = 0;
  for (let j = 0; j < r; j++)
    for (let i = j; i < r; i++) {
      let value = (i === j ? 1 : 0) - f * T[i * r + j]!;
      for (let k = 0; k < j; k++) value -= L[i * r + k]! * L[j * r + k]!;
      if (i === j) {
        const pivot = Math.max(value, Number.EPSILON);
        L[j * r + j] = Math.sqrt(pivot);
        sum += Math.log(pivot);
      } else L[i * r + j] = value / L[j * r + j]!;
    }
  return sum;
}
