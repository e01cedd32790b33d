import { logGamma, upperGamma } from './incomplete-gamma.js';
import { normalQuantile } from './normal.js';
import { cube } from './power.js';

/**
 * P(χ² > x), accurate in the tail.
 *
 * @param x Value, ≥ 0.
 * @param degrees Degrees of freedom, > 0.
 * @throws {RangeError} outside these ranges.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.6.
 */
export const chiSquareUpperTail = (x: number, degrees: number): number => upperGamma(degrees / 2, x / 2);

/**
 * Upper quantile of chi-square: the x with P(χ² > x) = upperTail.
 *
 * @param upperTail Probability above, in (0, 1): 0.01 for the upper one per cent.
 * @param degrees Degrees of freedom, > 0.
 * @returns x to about 1e-12, relative.
 * @throws {RangeError} outside these ranges.
 * @see E. B. Wilson, M. M. Hilferty, PNAS 17 (1931) 684, for the start of the search.
 */
export function chiSquareUpperQuantile(upperTail: number, degrees: number): number {
  if (!(upperTail > 0 && upperTail < 1))
    throw new RangeError(`a tail lies inside (0, 1), not at ${upperTail}`);
  if (!(degrees > 0)) throw new RangeError(`degrees of freedom are positive, not ${degrees}`);
  const k = 2 / (9 * degrees);
  const start = degrees * cube(Math.max(1e-3, 1 - k - normalQuantile(upperTail) * Math.sqrt(k)));
  return solveDecreasing((x) => chiSquareUpperTail(x, degrees) - upperTail, start);
}

/**
 * Upper tail of Student's t distribution, P(t > x) for x ≥ 0, through the incomplete beta function:
 * ½ I(ν/(ν+x²); ν/2, ½).
 *
 * @see NIST Handbook of Mathematical Functions (DLMF), 8.17; NIST/SEMATECH e-Handbook, 1.3.6.6.4.
 */
export function studentUpperTail(x: number, degrees: number): number {
  if (!(x >= 0 && degrees > 0))
    throw new RangeError(`studentUpperTail needs x >= 0, degrees > 0: ${x}, ${degrees}`);
  return 0.5 * regularisedBeta(degrees / 2, 0.5, degrees / (degrees + x * x), (x * x) / (degrees + x * x));
}

/**
 * Coverage factor t_p(ν): a Student variable lies within ±t_p(ν) with probability `coverage`.
 *
 * @param coverage Two-sided probability p in (0, 1): 0.95 for 95 %.
 * @param degrees Degrees of freedom ν, > 0; Infinity gives the normal factor.
 * @returns t_p(ν) to about 1e-12, relative.
 * @throws {RangeError} outside these ranges.
 * @see JCGM 100:2008, Annex G, Table G.2.
 */
export function studentCoverageFactor(coverage: number, degrees: number): number {
  if (!(coverage > 0 && coverage < 1))
    throw new RangeError(`a coverage lies inside (0, 1), not at ${coverage}`);
  if (!(degrees > 0)) throw new RangeError(`degrees of freedom are positive, not ${degrees}`);
  const tail = (1 - coverage) / 2;
  const start = normalQuantile(1 - tail);
  if (degrees === Infinity) return start;
  return solveDecreasing((x) => studentUpperTail(x, degrees) - tail, start);
}

/** I_x(a, b) by the continued fraction DLMF 8.17.22; y = 1 − x is passed so that neither loses digits. */
function regularisedBeta(a: number, b: number, x: number, y: number): number {
  if (x <= 0) return 0;
  if (y <= 0) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(y));
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(a, b, x)) / a
    : 1 - (front * betaFraction(b, a, y)) / b;
}

function betaFraction(a: number, b: number, x: number): number {
  const tiny = 1e-300;
  const nonZero = (value: number): number => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < 100_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < Number.EPSILON) break;
  }
  return fraction;
}

/** The positive root of a decreasing function: the bracket is doubled until it has the root, then bisected to the last bit. */
function solveDecreasing(f: (x: number) => number, start: number): number {
  let low = Math.max(start, Number.MIN_VALUE);
  let high = low;
  while (f(low) < 0) low /= 2;
  while (f(high) > 0) high *= 2;
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return middle;
    if (f(middle) > 0) low = middle;
    else high = middle;
  }
}
