/** Orthogonal triangularisation of small dense blocks, in place, without allocating. */

/**
 * Householder QR of a row-major block with rows of `width` values. The first `columns` columns are reduced; the others
 * (right-hand sides) are transformed with them. Diagonal entries are non-negative, which makes R unique.
 *
 * @param a Block, at least `rows`·`width` long; overwritten by R over zeros.
 * @returns number of rows that may be non-zero in the first `columns` columns: min(rows, columns).
 * @see Golub & Van Loan, Matrix Computations, 5.2 (from memory).
 */
export function triangularize(a: Float64Array, rows: number, columns: number, width: number): number {
  const steps = Math.min(rows, columns);
  for (let k = 0; k < steps; k++) {
    reflect(a, k, k, rows, width);
    const diagonal = k * width + k;
    if (a[diagonal]! < 0) for (let j = diagonal; j < (k + 1) * width; j++) a[j] = -a[j]!;
  }
  return steps;
}

/**
 * Reflects rows `row`… of a block so that column `column` is zero below `row`.
 *
 * @returns The length of that column from `row` down, before the reflection.
 */
export function reflect(a: Float64Array, row: number, column: number, rows: number, width: number): number {
  let below = 0;
  for (let i = row + 1; i < rows; i++) below += a[i * width + column]! ** 2;
  const head = a[row * width + column]!;
  const length = Math.sqrt(head * head + below);
  if (below === 0) return length;
  const alpha = head > 0 ? -length : length;
  const v0 = head - alpha;
  const beta = 2 / (v0 * v0 + below);
  for (let j = column + 1; j < width; j++) {
    let dot = v0 * a[row * width + j]!;
    for (let i = row + 1; i < rows; i++) dot += a[i * width + column]! * a[i * width + j]!;
    if (dot === 0) continue;
    const t = beta * dot;
    a[row * width + j]! -= t * v0;
    for (let i = row + 1; i < rows; i++) a[i * width + j]! -= t * a[i * width + column]!;
  }
  a[row * width + column] = alpha;
  for (let i = row + 1; i < rows; i++) a[i * width + column] = 0;
  return length;
}
