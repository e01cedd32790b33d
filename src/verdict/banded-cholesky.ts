const LEAST_PIVOT = 1e-13;

/**
 * Cholesky factor of a symmetric positive definite band matrix, in place: A = L Lᵀ.
 * Cost n·(w+1)²/2; the fill stays inside the band.
 *
 * @param band Lower band, shape (n × (w+1)), row-major: band[i·(w+1) + k] = A[i][i−k], k = 0 … w. Entries
 *   with i − k < 0 are not read. On return the same places hold L, the diagonal holding 1 / L[i][i].
 * @param n Order.
 * @param w Half-bandwidth.
 * @returns log det A; NaN where A is not positive definite to rounding: where a pivot is below 1e-13 of its
 *   diagonal entry, so that fewer than three of its digits would be right. The factor is of no use then.
 * @see G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed., 4.3.5.
 */
export function factorBand(band: Float64Array, n: number, w: number): number {
  const stride = w + 1;
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    const row = i * stride;
    for (let k = Math.min(w, i); k >= 0; k--) {
      const j = i - k;
      const other = j * stride;
      const entry = band[row + k]!;
      let sum = entry;
      for (let m = Math.min(w - k, j); m >= 1; m--) sum -= band[row + k + m]! * band[other + m]!;
      if (k > 0) {
        band[row + k] = sum * band[other]!;
      } else {
        if (!(sum > LEAST_PIVOT * entry)) return NaN;
        logDeterminant += Math.log(sum);
        band[row] = 1 / Math.sqrt(sum);
      }
    }
  }
  return logDeterminant;
}

/** Solves A x = b in place from the factor that `factorBand` left; x holds b on entry, shape (n). */
export function solveBand(factor: Float64Array, n: number, w: number, x: Float64Array): void {
  const stride = w + 1;
  for (let i = 0; i < n; i++) {
    let sum = x[i]!;
    for (let k = Math.min(w, i); k >= 1; k--) sum -= factor[i * stride + k]! * x[i - k]!;
    x[i] = sum * factor[i * stride]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = Math.min(w, n - 1 - i); k >= 1; k--) sum -= factor[(i + k) * stride + k]! * x[i + k]!;
    x[i] = sum * factor[i * stride]!;
  }
}
