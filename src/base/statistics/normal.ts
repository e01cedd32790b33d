import { upperGamma } from './incomplete-gamma.js';

/**
 * Standard normal distribution function, Φ(z) = P(Z ≤ z).
 * Through the incomplete gamma function, Φ(−|z|) = ½ Q(½, z²/2), so that the tail keeps its relative
 * accuracy (about 1e-14) down to the smallest normal number.
 *
 * @param z Standardised value; ±Infinity allowed.
 * @throws {RangeError} when z is NaN.
 * @see NIST Handbook of Mathematical Functions (DLMF), 7.11.2 with 7.2.2.
 */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) throw new RangeError('normalCdf of NaN');
  const tail = 0.5 * upperGamma(0.5, 0.5 * z * z);
  return z < 0 ? tail : 1 - tail;
}

/**
 * Standard normal quantile: the z with Φ(z) = p.
 *
 * @param p Probability in [0, 1]; 0 and 1 give ∓Infinity.
 * @returns z with a relative error below 1e-15 or so.
 * @throws {RangeError} p is outside [0, 1].
 * @see M. J. Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37 (1988) 477-484.
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a probability lies in [0, 1], not at ${p}`);
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * horner(CENTRE_OVER, r)) / horner(CENTRE_UNDER, r);
  }
  const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  const z =
    r <= 5
      ? horner(MIDDLE_OVER, r - 1.6) / horner(MIDDLE_UNDER, r - 1.6)
      : horner(TAIL_OVER, r - 5) / horner(TAIL_UNDER, r - 5);
  return q < 0 ? -z : z;
}

/** Polynomial with coefficients from the highest power down. */
function horner(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (const c of coefficients) sum = sum * x + c;
  return sum;
}

// Coefficients of AS 241, highest power first.
const CENTRE_OVER = [
  2509.0809287301226727, 33430.575583588128105, 67265.770927008700853, 45921.953931549871457,
  13731.693765509461125, 1971.5909503065514427, 133.14166789178437745, 3.387132872796366608,
];
const CENTRE_UNDER = [
  5226.495278852545925, 28729.085735721942674, 39307.89580009271061, 21213.794301586595867,
  5394.1960214247511077, 687.1870074920579083, 42.313330701600911252, 1,
];
const MIDDLE_OVER = [
  7.7454501427834140764e-4, 0.0227238449892691845833, 0.24178072517745061177, 1.27045825245236838258,
  3.64784832476320460504, 5.7694972214606914055, 4.6303378461565452959, 1.42343711074968357734,
];
const MIDDLE_UNDER = [
  1.05075007164441684324e-9, 5.475938084995344946e-4, 0.0151986665636164571966, 0.14810397642748007459,
  0.68976733498510000455, 1.6763848301838038494, 2.05319162663775882187, 1,
];
const TAIL_OVER = [
  2.01033439929228813265e-7, 2.71155556874348757815e-5, 0.0012426609473880784386, 0.026532189526576123093,
  0.29656057182850489123, 1.7848265399172913358, 5.4637849111641143699, 6.6579046435011037772,
];
const TAIL_UNDER = [
  2.04426310338993978564e-15, 1.4215117583164458887e-7, 1.8463183175100546818e-5, 7.868691311456132591e-4,
  0.0148753612908506148525, 0.13692988092273580531, 0.59983220655588793769, 1,
];

/**
 * Of tests of one kind that a survey is put to, so many per survey find something where nothing is wrong: 1 %, as for the test of its whole
 * noise. Each of `count` tests by itself is then made at 1 %/count.
 *
 * @see A. Pope, The statistics of residuals and the detection of outliers, NOAA TR NOS 65 NGS 1, 1976 (a level for all residuals together),
 *   from memory. W. Baarda 1968 has a level of 0.1 % for each reading instead: of a hundred readings one is then a suspect in ten surveys.
 */
export const SURVEY_LEVEL = 0.01;

/** The k with which all of `count` normal variables are within ±k standard deviations, with at least that probability (Bonferroni); 0 if count is 0. */
export const factorOfAll = (count: number, coverage: number): number =>
  count === 0 ? 0 : normalQuantile(1 - (1 - coverage) / (2 * count));
