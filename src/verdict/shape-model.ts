import { factorBand, solveBand } from './banded-cholesky.js';
import { roughnessPenalty, type RoughnessPenalty } from './roughness-penalty.js';
import { segmentTrend } from './segment-trend.js';
import { copyRow, type ProfileSample } from './profile-sample.js';

/**
 * What the prior of `drawShapes` is made of, before its amounts are chosen.
 * All arrays have shape (n); σ² is the variance of the noise about each segment's line.
 */
export interface ShapeModel {
  readonly n: number;
  readonly sigma2: Float64Array;
  /** Root mean square of σ; 0 where the noise is nothing but offset and trend. */
  readonly sigma: number;
  /** Root mean square of the observed deviations from their lines, at least sigma. */
  readonly spread: number;
  readonly penalties: readonly RoughnessPenalty[];
  /** The part of the observed profile that a penalty's free polynomial takes whole: its mean or its line. */
  readonly trend: (penalty: RoughnessPenalty) => Float64Array;
  /** Observed less that trend. */
  readonly detrended: (penalty: RoughnessPenalty) => Float64Array;
}

/** One choice of amounts: variance q of the differences, τ² of w at each station, and what is let go. */
export interface ShapeCell {
  readonly penalty: RoughnessPenalty;
  readonly q: number;
  /** τ², shape (n). */
  readonly tau2: Float64Array;
  /** Added to q at each difference, shape (rows); null where nothing is. */
  readonly kinks: Float64Array | null;
  /** Log marginal likelihood plus log prior. */
  readonly logWeight: number;
}

export function shapeModel(sample: ProfileSample): ShapeModel {
  const { observed, positions } = sample;
  const n = observed.length;
  const segments = sample.segments ?? [0];
  const sigma2 = varianceAboutLines(sample, segments);
  const noise = Math.sqrt(sigma2.reduce((sum, v) => sum + v, 0) / n);
  const mean = segmentTrend(observed, positions, segments, false);
  const line = segmentTrend(observed, positions, segments);
  const aboutMean = observed.map((d, i) => d - mean[i]!);
  const aboutLine = observed.map((d, i) => d - line[i]!);
  // A millionth of the shape and less counts as none: it would leave the matrices below no digits.
  const sigma = noise > 1e-6 * rootMeanSquare(aboutLine) ? noise : 0;
  const spread = Math.max(sigma, rootMeanSquare(aboutLine));
  const ramp = 3 * Math.max(spread, rootMeanSquare(aboutMean));
  const penalties =
    sigma > 0 ? [1, 2, 3].map((m) => roughnessPenalty(positions, segments, m, ramp, 3 * spread)) : [];
  return {
    n,
    sigma2,
    sigma,
    spread,
    penalties,
    trend: (penalty) => (penalty.order === 1 ? mean : line),
    detrended: (penalty) => (penalty.order === 1 ? aboutMean : aboutLine),
  };
}

const rootMeanSquare = (values: Float64Array): number =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);

/** σ² from the draws. Zero throughout where they are nothing but offset and trend (to rounding). */
function varianceAboutLines(sample: ProfileSample, segments: readonly number[]): Float64Array {
  const { noise, positions } = sample;
  const n = positions.length;
  const variance = new Float64Array(n);
  const e = new Float64Array(n);
  const line = new Float64Array(n);
  const used = Math.min(noise.count, 500);
  let total = 0;
  for (let b = 0; b < used; b++) {
    copyRow(noise.values, b * n, e);
    segmentTrend(e, positions, segments, true, line);
    for (let i = 0; i < n; i++) {
      variance[i] = variance[i]! + (e[i]! - line[i]!) ** 2 / used;
      total += (e[i]! * e[i]!) / used;
    }
  }
  segments.forEach((first, k) => {
    const end = segments[k + 1] ?? n;
    const m = end - first;
    const correction = m > 2 ? m / (m - 2) : 0; // two degrees of freedom went into the line
    for (let i = first; i < end; i++) variance[i] = variance[i]! * correction;
  });
  const sum = variance.reduce((a, v) => a + v, 0);
  if (!(sum > 1e-20 * total)) return new Float64Array(n);
  // Near the ends of a short segment little is left about its line: no station is taken as near perfect.
  return variance.map((v) => Math.max(v, (0.2 * sum) / n));
}

/** Band matrix and vectors that the steps below share; one at a time may use it. */
export interface ShapeWorkspace {
  readonly band: Float64Array; // (n × 4)
  readonly weight: Float64Array; // 1 / (σ² + τ²), of the cell last factored
  readonly x: Float64Array;
  readonly unit: Float64Array;
}

export const shapeWorkspace = (n: number): ShapeWorkspace => ({
  band: new Float64Array(4 * n),
  weight: new Float64Array(n),
  x: new Float64Array(n),
  unit: new Float64Array(n),
});

/** Factors A = W + RᵀQ⁻¹R into `work`, W = 1/(σ² + τ²); returns log det A + log det Q, NaN where A is singular to rounding. */
export function factorCell(
  model: ShapeModel,
  cell: Omit<ShapeCell, 'logWeight'>,
  work: ShapeWorkspace,
): number {
  const { n, sigma2 } = model;
  const { order, rows, starts, coefficients } = cell.penalty;
  const { band, weight } = work;
  const stride = order + 1;
  band.fill(0, 0, n * stride);
  let logDetQ = 0;
  for (let r = 0; r < rows; r++) {
    const q = cell.q + (cell.kinks === null ? 0 : cell.kinks[r]!);
    if (cell.kinks !== null) logDetQ += Math.log(q);
    for (let a = 0; a < stride; a++) {
      const scaled = coefficients[r * stride + a]! / q;
      const at = (starts[r]! + a) * stride + a;
      for (let c = 0; c <= a; c++) band[at - c] = band[at - c]! + scaled * coefficients[r * stride + c]!;
    }
  }
  if (cell.kinks === null) logDetQ = rows * Math.log(cell.q);
  for (let i = 0; i < n; i++) {
    weight[i] = 1 / (sigma2[i]! + cell.tau2[i]!);
    band[i * stride] = band[i * stride]! + weight[i]!;
  }
  return factorBand(band, n, order) + logDetQ;
}

/**
 * The cell with its weight: the log marginal likelihood of the readings, free polynomial integrated out; −Infinity
 * where the matrix is singular to rounding (all but noiseless readings of an all but straight curve).
 */
export function weighCell(
  model: ShapeModel,
  amounts: Omit<ShapeCell, 'logWeight'>,
  logPrior: number,
  work: ShapeWorkspace,
): ShapeCell {
  const { n } = model;
  const y = model.detrended(amounts.penalty);
  let sum = factorCell(model, amounts, work) - 2 * amounts.penalty.logConstant;
  if (Number.isNaN(sum)) return { ...amounts, logWeight: -Infinity };
  const { weight, x, band } = work;
  for (let i = 0; i < n; i++) {
    x[i] = weight[i]! * y[i]!;
    sum += x[i]! * y[i]! - Math.log(weight[i]!);
  }
  solveBand(band, n, amounts.penalty.order, x);
  for (let i = 0; i < n; i++) sum -= x[i]! * weight[i]! * y[i]!;
  return { ...amounts, logWeight: logPrior - 0.5 * sum };
}
