/**
 * Each hypothesis fitted by itself, and how well it does: the score is −2 ln of its marginal likelihood, constants of the
 * phase left out, smaller is better. No fault at all scores the misfit vᵀv.
 *
 * - numbers θ ~ N(0, τ²), τ the usual size, widened to what is found: misfit − bᵀ(G + I)⁻¹b + ln det(I + G), G = τC̄ᵀC̄τ;
 * - readings times f: misfit(f) − 2 ln J. The likelihood of error contrasts (restricted likelihood) has
 *   ln J = n_R ln f + ½ ln det(I + (f⁻² − 1)Q_RᵀQ_R) with Q a basis of the equations: without J each factor below 1 wins, for it
 *   shrinks the misfit;
 * - readings that scatter k times as much: the restricted likelihood with σ → kσ, and ln(redundancy) for the number k, whose logarithm
 *   has Cauchy's distribution, quartiles at USUAL_SCATTER: half of all stated u are right within that factor (common practice, no source);
 * - a choice without a number (sign, swap, order, labels): the misfit;
 * and −2 ln of the prior weight for all.
 *
 * @see R. Kass, A. Raftery, JASA 90 (1995) 773 (marginal likelihoods, odds above 20 are strong); G. Schwarz, Ann. Statist. 6 (1978) 461 (BIC);
 *   H. Patterson, R. Thompson, Biometrika 58 (1971) 545 (restricted likelihood), from memory.
 */
import { redundancyNumbers } from '../solve/adjustment.js';
import { factorize } from '../solve/factor.js';
import { linearised } from '../solve/linearised.js';
import { buildNetwork } from '../solve/network.js';
import { selectedInverse } from '../solve/selected-inverse.js';
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

/** Columns of a linear hypothesis as the residuals show them, in units of the usual sizes. */
export interface Seen {
  readonly columns: readonly { readonly rows: Int32Array; readonly values: Float64Array }[];
  /** τC̄ᵀC̄τ, row-major, and τC̄ᵀv. */
  readonly G: readonly number[];
  readonly b: readonly number[];
  /** Which parameters of the hypothesis these are: those of which the readings show anything. */
  readonly kept: readonly number[];
  /** Beyond so many times its usual size one of them is what nobody would have. */
  readonly most: number;
}

export interface Weighed {
  readonly hypothesis: Hypothesis;
  readonly fitted: Fitted;
  readonly score: number;
  /** Misfit + q ln n − 2 ln J. */
  readonly bic: number;
  /** What it leaves, and its redundancy. */
  readonly misfit: number;
  readonly redundancy: number;
  /** The phase as it then is: made only when it is asked for. */
  readonly after: () => After;
  readonly seen: Seen | null;
}

/** Residuals once the hypothesis is taken into account. */
export interface After {
  readonly context: Context;
  /** C̄ of the numbers that were fitted, written out, and the inverse of their products is left to the asker. */
  readonly removed: readonly Float64Array[];
  /** Rows whose own misfit must be ordinary too; null: none. */
  readonly touched: ArrayLike<number> | null;
  /** Whether its equations are others: then all has to be projected anew. */
  readonly isOther: boolean;
  /** The rows, where they too are others. */
  readonly rows: SurveyRows | null;
}

/** A reading that then belongs to no point costs like one that was found to be wrong. */
const LOST = 15;
/** And an unknown more like a number that was fitted: ln(1 + τ²/σ²) with τ some fifty times σ. */
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

/** @returns Of factors one each; null where the readings cannot show it, or where it needs a number that nobody would have. */
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

/** Columns of a linear hypothesis against the residuals of `base`; null: no trace. */
export function seenOf({ context, checked }: Weighing, { parameters }: Of<'linear'>): Seen | null {
  const { network, v } = context;
  const [only] = parameters;
  if (parameters.length === 1 && only!.column.rows.length === 1) {
    // One observation: its redundancy number is all there is to know.
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
  // Without a trace it is as good as no fault: no evidence for it, and none against.
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
 * Readings of a target whose scale or roll is stated are coefficients as well: with other readings the equations are others. What looks
 * better than no fault is then solved anew.
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
      const { kind } = network.unknowns[network.column[k]!]!;
      if (kind === 'scale' || kind === 'target-roll') return true;
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

/** Of each factor that is not hopeless: two that the readings do not tell apart are two names. */
function factor(base: Weighing, hypothesis: Hypothesis, change: Of<'factor'>): readonly Weighed[] {
  const { context, logDet } = base;
  const { rows } = change.column;
  return scaled(base, change).flatMap(({ f, projected, misfit, least }): Weighed[] => {
    // Where even the greatest ln J is hopeless no determinant is worked out.
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

/** The misfit with each factor; `least`: a bound below misfit − 2 ln J. Empty where the readings cannot show it. */
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
  // Each reading that is lost takes a degree of freedom and what it added to the misfit with it.
  // Labels may also set unknowns free that were held together: numbers that were fitted.
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
/** Steps towards the likeliest scatter: each takes what the residuals of these rows come to with the scatter before. */
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
