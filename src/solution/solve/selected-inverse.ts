/**
 * The entries of the covariance matrix for the non-zero places of the equations, without the whole matrix: all variances,
 * and the covariances of unknowns in one row. The cost is linear in the number of points.
 *
 * @see Takahashi, Fagan & Chin 1973 (sparse inverse recurrence); here in its square-root form, from memory.
 */
import type { Factor } from './factor.js';

export interface SelectedInverse {
  /** Variance of each unknown (unit weight), by position; 0 for free unknowns, which are set to zero. */
  readonly variance: Float64Array;
  /** Covariance of two unknowns in one row of the network or at one position along; null for others, unless elimination joined them. */
  readonly covariance: (a: number, b: number) => number | null;
}

/** Calculates the selected entries without the dense inverse, whose size is the square of the number of unknowns. */
export function selectedInverse(factor: Factor): SelectedInverse {
  const { points, start, column, entry, diagonal, border } = factor;
  const variance = new Float64Array(factor.size);
  const inRow = new Float64Array(column.length);
  const borderPlace = new Map<number, number>();
  border.members.forEach((m, k) => borderPlace.set(m, k));
  const b = border.members.length;
  const dense = borderCovariance(factor);
  border.members.forEach((m, k) => (variance[m] = dense[k * b + k]!));
  const place = new Int32Array(factor.size).fill(-1);
  for (const [m, k] of borderPlace) place[m] = k;

  const covariance = (p: number, q: number): number | null => {
    if (p === q) return variance[p]!;
    const pb = place[p]!;
    const qb = place[q]!;
    if (pb >= 0 && qb >= 0) return dense[pb * b + qb]!;
    // The unknown that is eliminated first has the other one among its columns.
    const [first, other] = pb >= 0 || (qb < 0 && q < p) ? [q, p] : [p, q];
    for (let k = start[first]!; k < start[first + 1]!; k++) if (column[k] === other) return inRow[k]!;
    return null;
  };

  for (let i = points - 1; i >= 0; i--) {
    const d = diagonal[i]!;
    if (d === 0) continue;
    const from = start[i]!;
    const to = start[i + 1]!;
    let own = 1 / d;
    for (let k = from; k < to; k++) {
      let sum = 0;
      for (let l = from; l < to; l++) sum += entry[l]! * known(covariance(column[k]!, column[l]!));
      inRow[k] = -sum / d;
    }
    for (let k = from; k < to; k++) own -= entry[k]! * inRow[k]!;
    variance[i] = own / d;
  }
  return { variance, covariance };
}

/** The covariance of unknowns in one row. @throws {Error} it was not calculated: a programming mistake. */
export function known(covariance: number | null): number {
  if (covariance === null) throw new Error('covariance asked for of two unknowns that are not in one row');
  return covariance;
}

/** (RᵀR)⁻¹ over the members of the border, row-major; rows and columns of free unknowns are zero. */
function borderCovariance(factor: Factor): Float64Array {
  const { r, basic, members } = factor.border;
  const width = members.length + 1;
  const n = basic.length;
  // Inverse of the triangle over its basic columns, then times its transpose.
  const inverse = new Float64Array(n * n);
  for (let c = 0; c < n; c++) {
    for (let i = c; i >= 0; i--) {
      let sum = i === c ? 1 : 0;
      for (let j = i + 1; j <= c; j++) sum -= r[i * width + basic[j]!]! * inverse[j * n + c]!;
      inverse[i * n + c] = sum / r[i * width + basic[i]!]!;
    }
  }
  const dense = new Float64Array(members.length * members.length);
  for (let i = 0; i < n; i++) {
    for (let j = i; j < n; j++) {
      let sum = 0;
      for (let k = j; k < n; k++) sum += inverse[i * n + k]! * inverse[j * n + k]!;
      dense[basic[i]! * members.length + basic[j]!] = sum;
      dense[basic[j]! * members.length + basic[i]!] = sum;
    }
  }
  return dense;
}
