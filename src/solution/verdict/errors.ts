/**
 * The errors e of a profile d = δ + e: draws of them, and their covariances. Errors are normal about zero. If their scale
 * was estimated from the residuals, the draws are those of e over the estimated scale, which is Student's distribution.
 */
import type { RandomGenerator } from '../../base/statistics/random.js';
import { cube, powerOf } from '../../base/statistics/power.js';

/** Most points of a profile with a covariance matrix. For longer profiles covariances are estimated from the draws. */
export const MOST_IN_MATRIX = 400;

export interface Errors {
  /** Points of the profile. */
  readonly n: number;
  readonly count: number;
  /** Draws of e, shape (count × n), row-major. */
  readonly draws: Float64Array;
  /** Factor of each draw for the estimated scale, shape (count); null: the scale is stated. */
  readonly spread: Float64Array | null;
  /** Degrees of freedom of the scale; Infinity: it is stated. */
  readonly degrees: number;
  /** Covariance of e_i and e_j, the stated or estimated scale included. */
  readonly covariance: (i: number, j: number) => number;
  /**
   * A result that depends only on these errors, and is calculated once for all profiles that have them.
   *
   * @param key Name of the result, with everything else on which it depends.
   */
  readonly once: <T>(key: string, make: () => T) => T;
}

/**
 * Draws of normal errors from their covariance matrix, by its Cholesky factor. The factor of a singular matrix (such as that
 * of deviations from a line) has rows of zeros.
 *
 * @param matrix Shape (n × n), symmetric, no eigenvalue below zero except by rounding.
 * @param normals Standard normal deviates, shape (count × n), row-major.
 * @returns Draws of the same shape.
 * @see JCGM 101:2008, 6.4.8 (multivariate normal distribution), C.5.
 */
export function drawsOf(matrix: Float64Array, n: number, normals: Float64Array): Float64Array {
  const factor = choleskyFactor(matrix, n);
  const count = normals.length / n;
  const draws = normals.slice();
  // From the last point backwards, so that each product can overwrite its normal; four draws at a time, because the factor
  // of a long profile is larger than the cache of a processor.
  for (let b = 0; b < count; b += 4) {
    const [p, q, r, s] = [0, 1, 2, 3].map((k) => Math.min(b + k, count - 1) * n) as [
      number,
      number,
      number,
      number,
    ];
    const isWhole = b + 3 < count;
    for (let i = n - 1; i >= 0; i--) {
      const row = i * n;
      let [sp, sq, sr, ss] = [0, 0, 0, 0];
      for (let k = 0; k <= i; k++) {
        const l = factor[row + k]!;
        sp += l * draws[p + k]!;
        sq += l * draws[q + k]!;
        sr += l * draws[r + k]!;
        ss += l * draws[s + k]!;
      }
      draws[p + i] = sp;
      if (isWhole || q !== p) draws[q + i] = sq;
      if (isWhole || r !== q) draws[r + i] = sr;
      if (isWhole || s !== r) draws[s + i] = ss;
    }
  }
  return draws;
}

/** A remainder of a variance below this share of it is rounding. */
const VARIANCE_ROUNDING = 1e-10;

/** Lower triangle L with L·Lᵀ = matrix. */
function choleskyFactor(matrix: Float64Array, n: number): Float64Array {
  const l = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    let pivot = matrix[j * n + j]!;
    for (let k = 0; k < j; k++) pivot -= l[j * n + k]! ** 2;
    if (!(pivot > VARIANCE_ROUNDING * matrix[j * n + j]!)) continue;
    const root = Math.sqrt(pivot);
    l[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let sum = matrix[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      l[i * n + j] = sum / root;
    }
  }
  return l;
}

/** @param matrix Covariances, shape (n × n); null: they are estimated from the draws. */
export function errorsOf(
  draws: Float64Array,
  n: number,
  matrix: Float64Array | null,
  degrees = Infinity,
  spread: Float64Array | null = null,
): Errors {
  const count = draws.length / n;
  const covariance =
    matrix !== null
      ? (i: number, j: number) => matrix[i * n + j]!
      : (i: number, j: number) => {
          let sum = 0;
          for (let b = 0; b < count; b++) {
            const f = spread === null ? 1 : spread[b]!;
            sum += (draws[b * n + i]! * draws[b * n + j]!) / (f * f);
          }
          return sum / count;
        };
  const made = new Map<string, unknown>();
  const once = <T>(key: string, make: () => T): T => {
    if (!made.has(key)) made.set(key, make());
    return made.get(key) as T;
  };
  return { n, count, draws, spread, degrees, covariance, once };
}

/**
 * A value calculated from every draw, shape (count).
 *
 * @param figureOf Its argument is reused for the next draw.
 * @param from First point that counts. @param to One after the last.
 */
export function ofEachDraw(
  { n, count, draws }: Pick<Errors, 'n' | 'count' | 'draws'>,
  figureOf: (profile: Float64Array) => number,
  from = 0,
  to = n,
): Float64Array {
  const out = new Float64Array(count);
  // One array for all draws: a view for each draw would cost more than the calculation for a short profile.
  const profile = new Float64Array(to - from);
  for (let b = 0; b < count; b++) {
    for (let i = from, at = b * n + from; i < to; i++, at++) profile[i - from] = draws[at]!;
    out[b] = figureOf(profile);
  }
  return out;
}

/** The errors after a linear function that changes the profile in place, such as removing a reference line. */
export function mapped(errors: Errors, takeOut: (profile: Float64Array) => void): Errors {
  const { n, count, degrees, spread } = errors;
  const draws = errors.draws.slice();
  for (let b = 0; b < count; b++) takeOut(draws.subarray(b * n, (b + 1) * n));
  if (n > MOST_IN_MATRIX) return errorsOf(draws, n, null, degrees, spread);
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) matrix[i * n + j] = errors.covariance(i, j);
    takeOut(matrix.subarray(i * n, (i + 1) * n));
  }
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) column[i] = matrix[i * n + j]!;
    takeOut(column);
    for (let i = 0; i < n; i++) matrix[i * n + j] = column[i]!;
  }
  return errorsOf(draws, n, matrix, degrees, spread);
}

/** Standard uncertainty of e_i − e_j. */
export function uOfDifference(errors: Errors, i: number, j: number): number {
  const variance = errors.covariance(i, i) + errors.covariance(j, j) - 2 * errors.covariance(i, j);
  return Math.sqrt(Math.max(0, variance));
}

/**
 * Factors √(ν/χ²_ν) that turn normal draws into those of Student's distribution, shape (count).
 *
 * @param degrees ν ≥ 1.
 * @see JCGM 101:2008, 6.4.9 (t-distribution); χ² as twice a gamma deviate, G. Marsaglia, W. W. Tsang, ACM TOMS 26 (2000) 363.
 */
export function studentFactors(count: number, degrees: number, generator: RandomGenerator): Float64Array {
  return Float64Array.from({ length: count }, () => {
    const chiSquare = 2 * gammaDeviate(degrees / 2, generator);
    return Math.sqrt(degrees / Math.max(chiSquare, Number.MIN_VALUE));
  });
}

function gammaDeviate(shape: number, generator: RandomGenerator): number {
  if (shape < 1) return gammaDeviate(shape + 1, generator) * powerOf(1 - generator.nextUniform(), 1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = generator.nextNormal();
    const v = cube(1 + c * x);
    if (v <= 0) continue;
    if (Math.log(1 - generator.nextUniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}
