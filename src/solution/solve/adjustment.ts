/**
 * The weighted least-squares solution of one phase, and what can be calculated from it. Vectors and indices here are those
 * of `network.unknowns`; the order of elimination is internal.
 *
 * Every question is about a linear functional c·x of the unknowns. First `isDetermined` tests whether the readings determine
 * it: c·x must not change under any free motion. Values of functionals that do not pass have no meaning and are never
 * reported.
 */
import type { Network } from './network.js';
import type { RandomGenerator } from '../../base/statistics/random.js';
import { factorize, type Factor } from './factor.js';
import { known, selectedInverse, type SelectedInverse } from './selected-inverse.js';
import {
  backSubstitute,
  covarianceWith,
  forwardSubstitute,
  nullSpace,
  solution,
  sparseVariance,
} from './substitution.js';
import { chiSquareUpperQuantile, chiSquareUpperTail } from '../../base/statistics/student-chi-square.js';

/** A sparse linear functional of the unknowns: Σ weight[k]·x[index[k]]. An index may occur twice. */
export interface Functional {
  readonly index: ArrayLike<number>;
  readonly weight: ArrayLike<number>;
}

export interface Adjustment {
  readonly network: Network;
  readonly factor: Factor;
  readonly rank: number;
  readonly redundancy: number;
  /** One solution of the equations, µm and µm/m; its origin is arbitrary if the readings determine none. */
  readonly x: Float64Array;
  /** Observed − computed, as read. */
  readonly residual: Float64Array;
  /** Redundancy number of each observation, 0 (unchecked) … 1. */
  readonly redundancyNumber: Float64Array;
  /** Residual over its own standard deviation; 0 (never NaN) if `redundancyNumber` is 0. */
  readonly standardised: Float64Array;
  /** √(Σ(v/σ)²/redundancy), or null at redundancy 0. */
  readonly sigma0: number | null;
  readonly chiSquare: { readonly statistic: number; readonly upperTail: number } | null;
  /** σ₀ if the upper χ² test at 1 % rejects, else 1. Variances and draws below are scaled by it. */
  readonly scale: number;
  /** Free motions, one vector each, largest component 1. */
  readonly freeMotions: readonly Float64Array[];
  /** Variance of each unknown in the arbitrary origin of `x`, scale² included. */
  readonly variance: Float64Array;
  /** Covariance of two unknowns in that origin; null: not calculated (no row has both, and they are not at one position along). */
  readonly covarianceAtHand: (a: number, b: number) => number | null;
  readonly value: (f: Functional) => number;
  readonly isDetermined: (f: Functional) => boolean;
  /** Covariance of f with every unknown, scale² included. */
  readonly covarianceWith: (f: Functional) => Float64Array;
  readonly standardUncertainty: (f: Functional) => number;
  /** Overwrites `x` with one random draw of the estimation error of all unknowns, scale included. */
  readonly drawError: (generator: RandomGenerator, x: Float64Array) => void;
  /** Change of every unknown if the observations change by `change`, as read. */
  readonly respond: (change: Float64Array) => Float64Array;
  /** Weight of each observation in the estimate of f: f(x̂) = Σ weight·observed. */
  readonly influence: (f: Functional) => Float64Array;
}

/** A redundancy number below this is rounding: no other reading checks the observation. */
export const UNCHECKED = 1e-6;

/**
 * A functional changes with a free motion if its change exceeds this share of the sum of its terms, and is more than the
 * rounding of a motion whose largest component is 1 (µm, or µm/m).
 */
const MIN_RELATIVE_CHANGE = 1e-7;
const CHANGE_ROUNDING = 1e-10;

/** Functionals with at most this many unknowns use only a small part of the factor. For others a pass over all of it is faster. */
const MAX_TERMS_SPARSE = 8;

const CHI_SQUARE_SIGNIFICANCE = 0.01;

/** Share of all surveys in which a noise of `noticedNoise` is noticed. */
const NOTICED_SHARE = 0.95;

/**
 * The factor of noise (relative to the stated uncertainty) that the upper chi-square test notices in 95 of 100 surveys. With
 * this factor the statistic is its square times a χ² variable.
 *
 * @param redundancy ≥ 1.
 * @see JCGM 100 and W. Baarda, A testing procedure for use in geodetic networks, 1968 (power of a test), from memory.
 */
export const noticedNoise = (redundancy: number): number =>
  Math.sqrt(
    chiSquareUpperQuantile(CHI_SQUARE_SIGNIFICANCE, redundancy) /
      chiSquareUpperQuantile(NOTICED_SHARE, redundancy),
  );

/** Weighted least squares. Unknowns that the readings leave free are set to zero; every network has a solution. */
export function adjust(network: Network): Adjustment {
  const factor = factorize(network);
  const { order, position, size } = factor;
  const toUnknowns = (v: Float64Array): Float64Array => {
    const x = new Float64Array(size);
    for (let p = 0; p < size; p++) x[order[p]!] = v[p]!;
    return x;
  };
  const toPositions = (f: Functional): Float64Array => {
    const c = new Float64Array(size);
    for (let k = 0; k < f.index.length; k++) c[position[f.index[k]!]!]! += f.weight[k]!;
    return c;
  };

  const x = toUnknowns(solution(factor));
  const freeMotions = nullSpace(factor).map(toUnknowns);
  const inverse = selectedInverse(factor);
  const residual = residuals(network, x);
  const redundancyNumber = redundancyNumbers(network, position, inverse.covariance);
  const redundancy = network.observed.length - factor.rank;

  let statistic = 0;
  for (let i = 0; i < residual.length; i++) statistic += (residual[i]! / network.sigma[i]!) ** 2;
  const sigma0 = redundancy > 0 ? Math.sqrt(statistic / redundancy) : null;
  const chiSquare =
    redundancy > 0 ? { statistic, upperTail: chiSquareUpperTail(statistic, redundancy) } : null;
  const isNoisy = chiSquare !== null && chiSquare.upperTail < CHI_SQUARE_SIGNIFICANCE;
  const scale = isNoisy ? Math.max(1, sigma0!) : 1;

  const covariance = (f: Functional): Float64Array =>
    toUnknowns(covarianceWith(factor, toPositions(f))).map((v) => v * scale * scale);
  const variance = sparseVariance(factor);
  const work = new Float64Array(size);
  const draw = new Float64Array(size);

  return {
    network,
    factor,
    rank: factor.rank,
    redundancy,
    x,
    residual,
    redundancyNumber,
    standardised: residual.map((v, i) =>
      redundancyNumber[i]! > UNCHECKED ? v / (network.sigma[i]! * Math.sqrt(redundancyNumber[i]!)) : 0,
    ),
    sigma0,
    chiSquare,
    scale,
    freeMotions,
    variance: toUnknowns(inverse.variance).map((v) => v * scale * scale),
    covarianceAtHand: (a, b) => {
      const unscaled = inverse.covariance(position[a]!, position[b]!);
      return unscaled === null ? null : unscaled * scale * scale;
    },
    value: (f) => dot(f, x),
    isDetermined: (f) => freeMotions.every((motion) => !moves(f, motion)),
    covarianceWith: covariance,
    standardUncertainty: (f) => {
      if (f.index.length <= MAX_TERMS_SPARSE)
        return (
          scale *
          Math.sqrt(
            variance(
              Array.from(f.index, (i) => position[i]!),
              f.weight,
            ),
          )
        );
      const y = forwardSubstitute(factor, toPositions(f));
      let sum = 0;
      for (const v of y) sum += v * v;
      return scale * Math.sqrt(sum);
    },
    drawError: (generator, out) => {
      generator.fillNormals(work, 0, size);
      for (let p = 0; p < size; p++) work[p] = scale * work[p]!;
      backSubstitute(factor, work, draw);
      for (let p = 0; p < size; p++) out[order[p]!] = draw[p]!;
    },
    respond: (change) => {
      const c = new Float64Array(size);
      for (let row = 0; row < change.length; row++) {
        const weighted = change[row]! / network.sigma[row]! ** 2;
        if (weighted === 0) continue;
        for (let k = network.start[row]!; k < network.start[row + 1]!; k++)
          c[position[network.column[k]!]!]! += network.coefficient[k]! * weighted;
      }
      return toUnknowns(covarianceWith(factor, c));
    },
    influence: (f) => {
      const c = covarianceWith(factor, toPositions(f));
      return rowProducts(network, position, c).map((v, i) => v / network.sigma[i]! ** 2);
    },
  };
}

/** f·x. @param x A value for each unknown. */
export function dot(f: Functional, x: ArrayLike<number>): number {
  let sum = 0;
  for (let k = 0; k < f.index.length; k++) sum += f.weight[k]! * x[f.index[k]!]!;
  return sum;
}

function moves(f: Functional, motion: Float64Array): boolean {
  let sum = 0;
  let terms = 0;
  let weights = 0;
  for (let k = 0; k < f.index.length; k++) {
    const term = f.weight[k]! * motion[f.index[k]!]!;
    sum += term;
    terms += Math.abs(term);
    weights += Math.abs(f.weight[k]!);
  }
  return Math.abs(sum) > MIN_RELATIVE_CHANGE * terms + CHANGE_ROUNDING * weights;
}

function residuals(network: Network, x: Float64Array): Float64Array {
  const v = new Float64Array(network.observed.length);
  for (let row = 0; row < v.length; row++) {
    let computed = 0;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++) {
      computed += network.coefficient[k]! * x[network.column[k]!]!;
    }
    v[row] = network.observed[row]! - computed;
  }
  return v;
}

/** r_i = 1 − a_i Σ a_iᵀ / σ_i², with a_i the row and Σ the covariance matrix at unit scale. */
export function redundancyNumbers(
  network: Network,
  position: Int32Array,
  covariance: SelectedInverse['covariance'],
): Float64Array {
  const r = new Float64Array(network.observed.length);
  for (let row = 0; row < r.length; row++) {
    let variance = 0;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++) {
      const a = network.coefficient[k]!;
      const p = position[network.column[k]!]!;
      variance += a * a * known(covariance(p, p));
      for (let l = network.start[row]!; l < k; l++) {
        const covarianceHere = known(covariance(p, position[network.column[l]!]!));
        variance += 2 * a * network.coefficient[l]! * covarianceHere;
      }
    }
    const share = 1 - variance / network.sigma[row]! ** 2;
    r[row] = share < UNCHECKED ? 0 : share;
  }
  return r;
}

/** a_i·c for every row i, c by position. */
export function rowProducts(network: Network, position: Int32Array, c: Float64Array): Float64Array {
  const products = new Float64Array(network.observed.length);
  for (let row = 0; row < products.length; row++) {
    let sum = 0;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++) {
      sum += network.coefficient[k]! * c[position[network.column[k]!]!]!;
    }
    products[row] = sum;
  }
  return products;
}

/** The row of observation i as a functional of the unknowns. */
export const rowOf = (network: Network, i: number): Functional => ({
  index: network.column.subarray(network.start[i]!, network.start[i + 1]!),
  weight: network.coefficient.subarray(network.start[i]!, network.start[i + 1]!),
});
