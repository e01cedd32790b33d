/**
 * What is known of the errors e of a profile d = δ + e: draws of them, and their covariances. Errors are normal about
 * zero; where their scale was itself estimated from the residuals, the draws are those of e over the estimated scale,
 * which is Student's distribution.
 */
import type { RandomGenerator } from './random.js';

/** Profiles of so many points at most have their covariances in a matrix; of longer ones they are read off the draws. */
export const MOST_IN_MATRIX = 400;

export interface Errors {
  /** Points of the profile. */
  readonly n: number;
  readonly count: number;
  /** Draws of e, shape (count × n), row-major. */
  readonly draws: Float64Array;
  /** By what each draw was multiplied for the sake of the estimated scale, shape (count); null: nothing was. */
  readonly spread: Float64Array | null;
  /** Degrees of freedom of the scale; Infinity where it is stated. */
  readonly degrees: number;
  /** Covariance of e_i and e_j, the stated or estimated scale included. */
  readonly covariance: (i: number, j: number) => number;
  /**
   * What is made of these errors alone, and so is the same for every profile that has them.
   *
   * @param key Names it, with all else that it is made of.
   */
  readonly once: <T>(key: string, make: () => T) => T;
}

/** Errors that stand as a matrix, shape (n × n), or null: then covariances are those of the draws. */
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

/** The errors of a linear function of the profile that works in place, such as taking out a reference line. */
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
  if (shape < 1) return gammaDeviate(shape + 1, generator) * (1 - generator.nextUniform()) ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = generator.nextNormal();
    const v = (1 + c * x) ** 3;
    if (v <= 0) continue;
    if (Math.log(1 - generator.nextUniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}
