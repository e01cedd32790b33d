/**
 * Fits each hypothesis by itself. Its score is −2 ln of its marginal likelihood, without the constants of the phase; smaller is
 * better. The score of "no fault" is the misfit vᵀv.
 *
 * - numbers θ ~ N(0, τ²), τ the usual size, increased to the size that is found: misfit − bᵀ(G + I)⁻¹b + ln det(I + G), G = τC̄ᵀC̄τ;
 * - readings times f: misfit(f) − 2 ln J. The likelihood of error contrasts (restricted likelihood) has
 *   ln J = n_R ln f + ½ ln det(I + (f⁻² − 1)Q_RᵀQ_R) with Q a basis of the equations: without J every factor below 1 would be better, because it
 *   shrinks the misfit;
 * - readings that scatter k times as much: the restricted likelihood with σ → kσ, plus ln(redundancy) for the number k, whose logarithm
 *   has a Cauchy prior with quartiles at USUAL_SCATTER: half of all stated u are right within that factor (common practice, no source);
 * - a choice without a number (sign, swap, order, labels): the misfit;
 * and −2 ln of the prior weight for each.
 *
 * @see R. Kass, A. Raftery, JASA 90 (1995) 773 (marginal likelihoods, odds above 20 are strong); G. Schwarz, Ann. Statist. 6 (1978) 461 (BIC);
 *   H. Patterson, R. Thompson, Biometrika 58 (1971) 545 (restricted likelihood), from memory.
 */
import { redundancyNumbers } from '../solve/adjustment.js';
import { factorize } from '../solve/factor.js';
import { linearised } from '../solve/linearised.js';
import { buildNetwork } from '../solve/network.js';
import { selectedInverse } from '../solve/selected-inverse.js';
import { effectOf } from '../solve/unknowns.js';
import { chiSquareUpperTail } from '../../base/statistics/student-chi-square.js';
import type { Job } from '../../survey/job/job.js';
import { valueOf, type Reading } from '../../survey/readings/readings.js';
import { withValue } from './columns.js';
import type { Change, Column, Fitted, Hypothesis } from './hypothesis.js';
import {
  contextOf,
  inner,
  logDeterminant,
  project,
  residualOf,
  withSigma,
  type Context,
  type Projected,
} from './projection.js';
import { solveSmall, widened } from './small-systems.js';
import { surveyRows, type SurveyRows } from './survey-rows.js';

/** Projected columns of a linear hypothesis, in units of the usual sizes. */
export interface Seen {
  readonly columns: readonly { readonly rows: Int32Array; readonly values: Float64Array }[];
  /** τC̄ᵀC̄τ, row-major, and τC̄ᵀv. */
  readonly G: readonly number[];
  readonly b: readonly number[];
  /** Indices of the parameters that the readings can show. */
  readonly kept: readonly number[];
  /** Greatest possible size of a parameter, as a multiple of its usual size. */
  readonly most: number;
}

export interface Weighed {
  readonly hypothesis: Hypothesis;
  readonly fitted: Fitted;
  readonly score: number;
  /** Misfit + q ln n − 2 ln J. */
  readonly bic: number;
  /** The remaining misfit, and its redundancy. */
  readonly misfit: number;
  readonly redundancy: number;
  /** The network under the hypothesis, built on demand. */
  readonly after: () => After;
  readonly seen: Seen | null;
}

/** Residuals under the hypothesis. */
export interface After {
  readonly context: Context;
  /** C̄ of the fitted numbers; the caller inverts the matrix of their products. */
  readonly removed: readonly Float64Array[];
  /** Rows whose own misfit must also be ordinary; null: none. */
  readonly touched: ArrayLike<number> | null;
  /** true: its equations differ, so every column must be projected anew. */
  readonly isOther: boolean;
  /** The rows, if they differ as well. */
  readonly rows: SurveyRows | null;
}

/** Penalty for a reading that then belongs to no point: as for a reading that is wrong. */
const LOST = 15;
/** Penalty for one more unknown: as for a fitted number, ln(1 + τ²/σ²) with τ about 50 σ. */
const FREED = 8;

export interface Weighing {
  readonly job: Job;
  readonly readings: readonly Reading[];
  readonly context: Context;
  /** Redundancy number of each observation. */
  readonly checked: Float64Array;
  readonly logDet: number;
}

export function weighing(job: Job, readings: readonly Reading[], context: Context): Weighing {
  const { covariance } = selectedInverse(context.factor);
  return {
    job,
    readings,
    context,
    checked: redundancyNumbers(context.network, context.factor.position, covariance),
    logDet: logDeterminant(context.factor),
  };
}

/** @returns For factors one result each; null: the readings cannot show it, or it needs an impossible size. */
export function weigh(
  base: Weighing,
  hypothesis: Hypothesis,
  seen: Seen | null = null,
): Weighed | readonly Weighed[] | null {
  const { change } = hypothesis;
  switch (change.kind) {
    case 'linear':
      return linear(base, hypothesis, change, seen ?? seenOf(base, change));
    case 'values':
      return values(base, hypothesis, change);
    case 'factor':
      return factor(base, hypothesis, change);
    case 'labels':
      return labels(base, hypothesis, change);
    case 'scatter':
      return scatter(base, hypothesis, change);
  }
}

const price = ({ weight }: Hypothesis): number => -2 * Math.log(weight);

type Of<K extends Change['kind']> = Extract<Change, { readonly kind: K }>;

/** Columns of a linear hypothesis projected onto the residuals of `base`; null: the readings do not show them. */
export function seenOf({ context, checked }: Weighing, { parameters }: Of<'linear'>): Seen | null {
  const { network, v } = context;
  const [only] = parameters;
  if (parameters.length === 1 && only!.column.rows.length === 1) {
    // One observation: its redundancy number is sufficient.
    const row = only!.column.rows[0]!;
    const value = only!.column.values[0]! / network.sigma[row]!;
    const own = value * value * checked[row]!;
    if (checked[row]! < 1e-6) return null;
    return {
      columns: [{ rows: Int32Array.of(row), values: Float64Array.of(value) }],
      G: [own * only!.usual ** 2],
      b: [value * v[row]! * only!.usual],
      kept: [0],
      most: mostOf(parameters),
    };
  }
  const found = parameters.flatMap(({ column, usual }, k) => {
    const projected = project(context, column);
    return projected === null ? [] : [{ projected, usual, k }];
  });
  if (found.length === 0) return null;
  const q = found.length;
  const G = new Array<number>(q * q).fill(0);
  for (let i = 0; i < q; i++)
    for (let j = i; j < q; j++) {
      const [a, c] = [found[i]!, found[j]!];
      G[i * q + j] = G[j * q + i] =
        (i === j ? a.projected.own : inner(a.projected, c.projected)) * a.usual * c.usual;
    }
  return {
    columns: found.map(({ projected: { rows, values } }) => ({ rows, values })),
    G,
    b: found.map(({ projected, usual }) => projected.seen * usual),
    kept: found.map(({ k }) => k),
    most: mostOf(parameters),
  };
}

const mostOf = (parameters: Of<'linear'>['parameters']): number =>
  Math.min(...parameters.map(({ usual, cap }) => cap / usual));

function linear(
  { context }: Weighing,
  hypothesis: Hypothesis,
  change: Of<'linear'>,
  seen: Seen | null,
): Weighed | null {
  if (seen === null) return null;
  const kept = seen.kept.map((k) => change.parameters[k]!);
  const { score, theta } = widened(seen.G, seen.b, seen.most);
  const fit = solveSmall(seen.G, seen.b);
  if (fit.rank === 0) return null;
  const found = theta.map((t, k) => t * kept[k]!.usual);
  if (found.some((value, k) => Math.abs(value) > kept[k]!.cap)) return null;
  const misfit = Math.max(0, context.misfit - fit.drop);
  return {
    hypothesis,
    fitted: { values: valuesOf(change, kept, found) },
    score: context.misfit + score + price(hypothesis),
    bic: misfit + fit.rank * Math.log(context.v.length),
    misfit,
    redundancy: context.redundancy - fit.rank,
    seen,
    after: () => {
      const columns = kept.map(({ column }) => project(context, column)!);
      const removed = columns.map((c) => residualOf(context, c));
      const v = context.v.slice();
      removed.forEach((c, k) => {
        const t = fit.theta[k]! * kept[k]!.usual;
        for (let i = 0; i < v.length; i++) v[i]! -= t * c[i]!;
      });
      return {
        context: { ...context, v, misfit, redundancy: context.redundancy - fit.rank },
        removed,
        touched: null,
        isOther: false,
        rows: null,
      };
    },
  };
}

const valuesOf = (
  { parameters }: Of<'linear'>,
  kept: Of<'linear'>['parameters'],
  found: readonly number[],
): number[] => parameters.map((p) => found[kept.indexOf(p)] ?? 0);

function values(base: Weighing, hypothesis: Hypothesis, change: Of<'values'>): Weighed | null {
  const { context } = base;
  const projected = project(context, change.column);
  // If the readings do not show it, it scores as "no fault": no evidence for it and none against it.
  if (projected === null) return null;
  const misfit = Math.max(0, context.misfit + 2 * projected.seen + projected.own);
  return anew(base, change.column, 1, null, {
    hypothesis,
    fitted: { values: [] },
    score: misfit + price(hypothesis),
    bic: misfit + Math.log(context.v.length),
    misfit,
    redundancy: context.redundancy,
    seen: null,
    after: () => moved(context, projected, 1, misfit, null),
  });
}

/**
 * Readings of a target whose scale or roll is stated are also coefficients: other readings change the equations. A hypothesis that
 * looks better than "no fault" is then solved anew.
 */
function anew(
  { job, readings, context }: Weighing,
  { rows, values }: Column,
  times: number,
  touched: ArrayLike<number> | null,
  w: Weighed,
): Weighed {
  const { network } = context;
  const isCoefficient = (row: number) => {
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++) {
      if (effectOf(network.unknowns[network.column[k]!]!)?.isOfReadings === true) return true;
    }
    return false;
  };
  if (w.score > context.misfit || !Array.prototype.some.call(rows, isCoefficient)) return w;
  const list = [...readings];
  for (let j = 0; j < rows.length; j++)
    list[rows[j]!] = withValue(list[rows[j]!]!, valueOf(list[rows[j]!]!) + times * values[j]!);
  const other = contextOf(linearised(buildNetwork(job, list)));
  const more = other.misfit - w.misfit;
  return {
    ...w,
    misfit: other.misfit,
    score: w.score + more,
    bic: w.bic + more,
    after: () => ({ context: other, removed: [], touched, isOther: true, rows: null }),
  };
}

function moved(
  context: Context,
  column: Projected,
  by: number,
  misfit: number,
  touched: ArrayLike<number> | null,
): After {
  const c = residualOf(context, column);
  const v = context.v.map((value, i) => value + by * c[i]!);
  return { context: { ...context, v, misfit }, removed: [], touched, isOther: false, rows: null };
}

/** One result per factor that can be better than "no fault". Factors that the readings do not distinguish are all kept. */
function factor(base: Weighing, hypothesis: Hypothesis, change: Of<'factor'>): readonly Weighed[] {
  const { context, logDet } = base;
  const { rows } = change.column;
  return scaled(base, change).flatMap(({ f, projected, misfit, least }): Weighed[] => {
    // If even the greatest ln J is not enough, the determinant is not calculated.
    if (least + price(hypothesis) > context.misfit + HOPELESS) return [];
    const changed = logDeterminant(factorize(withSigma(context.network, rows, f)));
    const logJ = rows.length * Math.log(f) + 0.5 * (changed - logDet);
    const w: Weighed = {
      hypothesis,
      fitted: { values: [f] },
      score: misfit - 2 * logJ + price(hypothesis),
      bic: misfit + Math.log(context.v.length) - 2 * logJ,
      misfit,
      redundancy: context.redundancy,
      seen: null,
      after: () => moved(context, projected, f - 1, misfit, rows),
    };
    return [anew(base, change.column, f - 1, rows, w)];
  });
}

const HOPELESS = 30;

/** false: a factor with which the hypothesis cannot score better than no fault, by either measure. Costs no determinant. */
export const canGain = (base: Weighing, { change }: Hypothesis): boolean =>
  change.kind !== 'factor' || scaled(base, change).some(({ least }) => least < base.context.misfit);

/** The misfit with each factor; `least`: a lower bound of misfit − 2 ln J. Empty: the readings cannot show it. */
function scaled({ context, checked }: Weighing, { column, factors }: Of<'factor'>) {
  const projected = project(context, column);
  if (projected === null) return [];
  const { length } = column.rows;
  // Q_RᵀQ_R has n_R eigenvalues from 0 to 1 with this mean. ln(1 + cλ) is concave in λ, so ln J is greatest where all are equal.
  const leverage = 1 - meanOf(column.rows, checked);
  return factors.map((f) => {
    const misfit = Math.max(0, context.misfit + 2 * (f - 1) * projected.seen + (f - 1) ** 2 * projected.own);
    const most = length * (Math.log(f) + 0.5 * Math.log1p((1 / (f * f) - 1) * leverage));
    return { f, projected, misfit, least: misfit - 2 * most };
  });
}

function meanOf(rows: ArrayLike<number>, values: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < rows.length; j++) sum += values[rows[j]!]!;
  return sum / rows.length;
}

function labels({ context }: Weighing, hypothesis: Hypothesis, change: Of<'labels'>): Weighed | null {
  const { job, readings, lost } = change.make();
  if (readings.length === 0) return null;
  const network = linearised(buildNetwork(job, readings));
  const other = contextOf(network);
  if (other.redundancy < 1) return null;
  // A reading that is lost reduces the redundancy by one, and the misfit by its own part.
  // Other labels may also separate unknowns that were one: further fitted numbers.
  const freed = Math.max(0, context.redundancy - lost - other.redundancy);
  const misfit = other.misfit + LOST * lost;
  return {
    hypothesis,
    fitted: { values: [] },
    score: misfit + FREED * freed + price(hypothesis),
    bic: misfit + (1 + lost + freed) * Math.log(context.v.length),
    misfit: other.misfit,
    redundancy: other.redundancy,
    seen: null,
    after: () => ({
      context: other,
      removed: [],
      touched: null,
      isOther: true,
      rows: surveyRows(job, network),
    }),
  };
}

const USUAL_SCATTER = 2;
/** Fixed-point iteration to the likeliest scatter: each step uses the residuals of these rows under the scatter of the step before. */
const STEPS = 4;

function scatter(base: Weighing, hypothesis: Hypothesis, { rows }: Of<'scatter'>): Weighed | null {
  const { job, readings, context, checked } = base;
  const own = ownOf(context, checked, rows);
  if (own.redundancy < 1) return null;
  const about = own.misfit - own.redundancy - own.redundancy * Math.log(own.misfit / own.redundancy);
  if (!(about - Math.log(Math.max(1, own.redundancy)) > 2)) return null;
  let k = Math.sqrt(own.misfit / own.redundancy);
  let other = contextOf(withSigma(context.network, rows, k));
  for (let step = 1; step < STEPS; step++) {
    const now = ownOf(other, weighing(job, readings, other).checked, rows);
    const change = Math.sqrt(now.misfit / now.redundancy);
    if (!(change > 0) || Math.abs(change - 1) < 1e-3) break;
    k *= change;
    other = contextOf(withSigma(context.network, rows, k));
  }
  const restricted =
    other.misfit + 2 * rows.length * Math.log(k) + logDeterminant(other.factor) - base.logDet;
  const unusual = 2 * Math.log1p((Math.log(k) / Math.log(USUAL_SCATTER)) ** 2);
  return {
    hypothesis,
    fitted: { values: [k] },
    score: restricted + Math.log(Math.max(1, own.redundancy)) + unusual + price(hypothesis),
    bic: restricted + Math.log(context.v.length),
    misfit: other.misfit,
    redundancy: context.redundancy - 1,
    seen: null,
    after: () => ({ context: other, removed: [], touched: null, isOther: true, rows: null }),
  };
}

/** Misfit of some rows, and their share of the redundancy. */
export function ownOf(
  { v }: Context,
  checked: Float64Array,
  rows: ArrayLike<number>,
): { misfit: number; redundancy: number } {
  let [misfit, redundancy] = [0, 0];
  for (let j = 0; j < rows.length; j++) {
    misfit += v[rows[j]!]! ** 2;
    redundancy += checked[rows[j]!]!;
  }
  return { misfit, redundancy };
}

/** P(χ² > misfit). */
export const upperTail = (misfit: number, redundancy: number): number =>
  redundancy > 0 ? chiSquareUpperTail(misfit, redundancy) : 1;
