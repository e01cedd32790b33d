/**
 * Effect of a change of the readings on the residuals, with the existing factorisation of the phase.
 *
 * With A the whitened equations, R their factor (RᵀR = AᵀA), c a whitened column, v the whitened residuals and c̄ = c − A·(AᵀA)⁻¹Aᵀc
 * its projection onto the residuals: w = R⁻ᵀAᵀc, c̄ᵀd̄ = cᵀd − wᵀw′, c̄ᵀv = cᵀv. A column costs one forward substitution.
 *
 * @see W. Baarda, A testing procedure for use in geodetic networks, 1968; P. Teunissen, J. Geodesy 2018, doi 10.1007/s00190-017-1045-7.
 */
import { factorize, type Factor } from '../solve/factor.js';
import type { Network } from '../solve/network.js';
import { covarianceWith, forwardSubstitute, solution } from '../solve/substitution.js';
import type { Column } from './hypothesis.js';

export interface Context {
  readonly network: Network;
  readonly factor: Factor;
  /** Residuals over their standard uncertainties. */
  readonly v: Float64Array;
  /** vᵀv. */
  readonly misfit: number;
  readonly redundancy: number;
}

/** A whitened column and its projection: `own` = c̄ᵀc̄, `seen` = c̄ᵀv. */
export interface Projected {
  readonly rows: Int32Array;
  readonly values: Float64Array;
  readonly own: number;
  readonly seen: number;
  /** R⁻ᵀAᵀc, in the order of the elimination. */
  readonly w: Float64Array;
}

/** A projection below this share of the squared length of its column is rounding: the readings cannot show the column. */
const NO_TRACE = 1e-9;

export function contextOf(network: Network): Context {
  const factor = factorize(network);
  const x = solution(factor);
  const v = new Float64Array(network.observed.length);
  let misfit = 0;
  for (let row = 0; row < v.length; row++) {
    let computed = 0;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++)
      computed += network.coefficient[k]! * x[factor.position[network.column[k]!]!]!;
    v[row] = (network.observed[row]! - computed) / network.sigma[row]!;
    misfit += v[row]! ** 2;
  }
  return { network, factor, v, misfit, redundancy: v.length - factor.rank };
}

/** @returns null: the readings cannot show it. */
export function project({ network, factor, v }: Context, column: Column): Projected | null {
  const { length } = column.rows;
  const rows = Int32Array.from(column.rows);
  const values = new Float64Array(length);
  const c = new Float64Array(factor.size);
  let [own, seen] = [0, 0];
  for (let j = 0; j < length; j++) {
    const row = rows[j]!;
    const value = column.values[j]! / network.sigma[row]!;
    values[j] = value;
    own += value * value;
    seen += value * v[row]!;
    const weighted = value / network.sigma[row]!;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++)
      c[factor.position[network.column[k]!]!]! += network.coefficient[k]! * weighted;
  }
  const length2 = own;
  const w = forwardSubstitute(factor, c);
  own -= dot(w, w);
  return own > NO_TRACE * length2 ? { rows, values, own, seen, w } : null;
}

/** c̄ᵀd̄ of two columns. */
export function inner(a: Projected, b: Projected): number {
  let sum = 0;
  const isAlike = a.rows.length === b.rows.length && a.rows.every((row, j) => row === b.rows[j]);
  if (isAlike) sum = dot(a.values, b.values);
  else {
    const at = new Map<number, number>();
    for (let j = 0; j < a.rows.length; j++) at.set(a.rows[j]!, a.values[j]!);
    for (let j = 0; j < b.rows.length; j++) sum += b.values[j]! * (at.get(b.rows[j]!) ?? 0);
  }
  return sum - dot(a.w, b.w);
}

/** c̄, one value per observation. */
export function residualOf({ network, factor }: Context, { rows, values }: Projected): Float64Array {
  const c = new Float64Array(factor.size);
  const out = new Float64Array(network.observed.length);
  for (let j = 0; j < rows.length; j++) {
    const row = rows[j]!;
    out[row]! += values[j]!;
    const weighted = values[j]! / network.sigma[row]!;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++)
      c[factor.position[network.column[k]!]!]! += network.coefficient[k]! * weighted;
  }
  const x = covarianceWith(factor, c);
  for (let row = 0; row < out.length; row++) {
    let sum = 0;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++)
      sum += network.coefficient[k]! * x[factor.position[network.column[k]!]!]!;
    out[row]! -= sum / network.sigma[row]!;
  }
  return out;
}

/** ln det of the normal equations, for the determined unknowns; for ratios between networks of the same structure. */
export function logDeterminant({ diagonal, border }: Factor): number {
  let sum = 0;
  for (const d of diagonal) if (d !== 0) sum += Math.log(Math.abs(d));
  const width = border.members.length + 1;
  for (let row = 0; row < border.basic.length; row++)
    sum += Math.log(Math.abs(border.r[row * width + border.basic[row]!]!));
  return 2 * sum;
}

/** The network after the standard uncertainties of some rows are multiplied by `by`. */
export function withSigma(network: Network, rows: ArrayLike<number>, by: number): Network {
  const sigma = network.sigma.slice();
  for (let j = 0; j < rows.length; j++) sigma[rows[j]!]! *= by;
  return { ...network, sigma };
}

export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
