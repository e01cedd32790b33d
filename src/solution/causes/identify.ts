/**
 * Detection and identification. A fault is detected if the misfit of the whole is beyond chance, or readings agree far better than stated, or one
 * hypothesis is better than "no fault" by enough to show a small fault that the misfit of the whole does not show. Named is every hypothesis that
 * explains the misfit and is not far worse than the best of them, the likeliest first.
 *
 * A hypothesis explains the misfit if the misfit that remains is ordinary, also within the rows that it rescales, and if nothing else is
 * conspicuous in it: one hypothesis does not explain two faults.
 *
 * @see W. Baarda 1968; P. Teunissen, J. Geodesy 2018, doi 10.1007/s00190-017-1045-7; R. Kass, A. Raftery, JASA 90 (1995) 773.
 */
import { groupBy } from '../../base/lists.js';
import { SURVEY_LEVEL } from '../../base/statistics/normal.js';
import { linearised } from '../solve/linearised.js';
import { buildNetwork, type Network } from '../solve/network.js';
import type { Job } from '../../survey/job/job.js';
import type { Reading } from '../../survey/readings/readings.js';
import type { Hypothesis } from './hypothesis.js';
import { listHypotheses } from './list.js';
import { chanceOfTurned, worstChance } from './chance.js';
import { contextOf, dot } from './projection.js';
import { solveSmall, widened } from './small-systems.js';
import { surveyRows } from './survey-rows.js';
import {
  canGain,
  ownOf,
  seenOf,
  upperTail,
  weigh,
  weighing,
  type After,
  type Seen,
  type Weighed,
  type Weighing,
} from './weigh.js';

/** Chance alone reaches this in fewer than one survey of 1,000. */
const BEYOND_CHANCE = 1e-3;
/** Readings agree so well by chance in fewer than one survey of 10,000. */
const TOO_GOOD = 1e-4;
/** Odds against no fault, per unit of prior weight that is searched (12 at a weight of 100): a longer list finds more by chance. */
const detectedGain = (weights: number): number => 2 * Math.log(4 * weights);
/** Odds of 20 to 1, "strong" evidence: 2 ln 20. */
export const STRONG = 6;
/**
 * Only a hypothesis with odds of more than 1000 to 1 against it, 2 ln 1000, is not named: a person follows a fix, and at most one survey of
 * 1,000 may be told a wrong one alone. Odds of 20 to 1 left the right one out in 1 survey of 100 with a small mistake.
 */
const NAMED = 13.8;
/** A further hypothesis with odds of 2000 to 1 in the remaining misfit is a second fault. */
const SECOND_FAULT = 15.2;
/** If readings agree too well, a free scatter always fits. A wrong unit that leaves ordinary noise is named with it, up to these odds. */
const BESIDE_SCATTER = 24;
/** Least scatter of honest readings as a share of the stated scatter. Common practice, no source. */
const BEST_INSTRUMENT = 0.5;
/** Two-sided level of the test that the rescaled rows scatter as stated. */
const OWN_LEVEL = 0.005;
/** With less redundancy than this, causes cannot be distinguished. */
export const FEWEST_CHECKS = 5;
/** If the whole is ordinary and no hypothesis is near an alarm, other labels are not tried, because each needs a new solution. */
const NEAR_ALARM = { p: 0.05, gain: 4 };
/** Two misfits with a smaller relative difference are the same. */
const SAME = 1e-6;

/** Causes that are named as one: they differ only in the reading at which they begin. The likeliest first. */
export type NamedCause = readonly Weighed[];

export interface Identified {
  readonly sigma0: number | null;
  readonly redundancy: number;
  readonly p: number;
  readonly detected: boolean;
  /** The readings agree too well. */
  readonly isTooGood: boolean;
  /** Score of "no fault" minus the score of the best hypothesis. */
  readonly gain: number;
  /** Sum of all prior weights: a search over more hypotheses finds more by chance. */
  readonly weights: number;
  /** Empty if no single hypothesis explains the misfit. */
  readonly named: readonly NamedCause[];
  /** The best scores, whether or not the hypotheses explain the misfit; for a remark. */
  readonly nearest: readonly Weighed[];
  /** Too few readings check each other to distinguish causes. */
  readonly hasTooFewChecks: boolean;
  readonly hypotheses: number;
}

/** @param network The network of these readings; built if it is not given. */
export function identify(
  job: Job,
  readings: readonly Reading[],
  network: Network = linearised(buildNetwork(job, readings)),
): Identified {
  const context = contextOf(network);
  const { misfit, redundancy } = context;
  const p = upperTail(misfit, redundancy);
  const sigma0 = redundancy > 0 ? Math.sqrt(misfit / redundancy) : null;
  const isTooGood = redundancy >= FEWEST_CHECKS && 1 - p < TOO_GOOD;
  const hasTooFewChecks = redundancy < FEWEST_CHECKS;
  const nothing = { named: [], nearest: [], hypotheses: 0, gain: 0, weights: 1 };
  if (hasTooFewChecks)
    return {
      sigma0,
      redundancy,
      p,
      isTooGood,
      hasTooFewChecks,
      detected: p < BEYOND_CHANCE || isTooGood,
      ...nothing,
    };

  const base = weighing(job, readings, context);
  const list = listHypotheses(surveyRows(job, network));
  const seen = seenOfAll(base, list);
  const isCheap = ({ change }: Hypothesis) => change.kind !== 'labels';
  const weights = list.reduce((sum, { weight }) => sum + weight, 0);
  // For all hypotheses that change signs or swap readings together: chance alone reaches this in at most one survey of 100.
  const boundOf = ({ hypothesis: { change, weight }, misfit: left }: Weighed): boolean => {
    if (change.kind !== 'values' && change.kind !== 'labels') return true;
    const [drop, level] = [misfit - left, (SURVEY_LEVEL * weight) / weights];
    const rank = change.kind === 'labels' ? change.rank : change.turned.length;
    if (worstChance(drop, rank) < level) return true;
    // No bound is below exp(−drop/2).
    const isHopeless = change.kind === 'labels' || Math.exp(-drop / 2) >= level;
    return !isHopeless && chanceOfTurned(drop, change.turned, context) < level;
  };
  const known = new Map<Weighed, boolean>();
  const isBeyondChance = (w: Weighed): boolean => {
    const is = known.get(w) ?? boundOf(w);
    known.set(w, is);
    return is;
  };
  const weighAll = (some: readonly Hypothesis[]) => some.flatMap((h) => weigh(base, h, seen.get(h)) ?? []);
  const hopeful = new Set(list.filter((h) => isCheap(h) && canGain(base, h)));
  const weighed = weighAll([...hopeful]);
  const gainOf = (all: readonly Weighed[]) =>
    misfit - all.filter(isBeyondChance).reduce((least, w) => Math.min(least, w.score), misfit);
  const isQuiet = p > NEAR_ALARM.p && !isTooGood && gainOf(weighed) < NEAR_ALARM.gain;
  if (!isQuiet) weighed.push(...weighAll(list.filter((h) => !isCheap(h))));

  const gain = gainOf(weighed);
  const detected = p < BEYOND_CHANCE || isTooGood || gain > detectedGain(weights);
  // A unit that scores no better than no fault is named only as an alternative to a detected fault.
  if (detected) weighed.push(...weighAll(list.filter((h) => isCheap(h) && !hopeful.has(h))));
  weighed.sort((a, b) => a.score - b.score);
  const margin = isTooGood ? BESIDE_SCATTER : NAMED;
  // A drop that chance can explain raises no alarm by itself. After an alarm it is an alternative, and excludes no other one.
  const explained = new Set(
    detected
      ? [weighed.filter(isBeyondChance), weighed].flatMap((list) => explaining(list, base, seen, margin))
      : [],
  );
  const named = merged([...explained].sort((a, b) => a.score - b.score));
  return {
    sigma0,
    redundancy,
    p,
    detected,
    isTooGood,
    gain,
    weights,
    named,
    // A factor on the readings or on their scatter makes every misfit smaller.
    nearest: weighed.filter(({ hypothesis: { kind } }) => kind !== 'unit' && kind !== 'scatter').slice(0, 3),
    hasTooFewChecks,
    hypotheses: list.length,
  };
}

function seenOfAll(base: Weighing, list: readonly Hypothesis[]): Map<Hypothesis, Seen> {
  const map = new Map<Hypothesis, Seen>();
  for (const h of list) {
    if (h.change.kind !== 'linear') continue;
    const seen = seenOf(base, h.change);
    if (seen !== null) map.set(h, seen);
  }
  return map;
}

/** @param weighed By score. */
function explaining(
  weighed: readonly Weighed[],
  base: Weighing,
  seen: ReadonlyMap<Hypothesis, Seen>,
  margin: number,
): Weighed[] {
  const none = base.context.misfit;
  const gains = (w: Weighed, least: number) => none - w.score > least || none - w.bic > least;
  const possible = weighed.filter((w) => isOrdinary(w) && gains(w, 0));
  const known = new Map<Weighed, boolean>();
  const explains = (w: Weighed) => {
    let is = known.get(w);
    if (is === undefined) known.set(w, (is = leavesNothing(w, base, seen)));
    return is;
  };
  /** All hypotheses that explain the misfit and score at most `margin` worse than the best of them. */
  const within = (measure: (w: Weighed) => number): Weighed[] => {
    const sorted = [...possible].sort((a, b) => measure(a) - measure(b));
    const best = sorted.find((w) => gains(w, STRONG) && explains(w));
    if (best === undefined) return [];
    return sorted.filter((w) => measure(w) <= measure(best) + margin && explains(w));
  };
  const likeliest = within((w) => w.score);
  const [best] = likeliest;
  // If a better one does not explain the misfit completely, more than one thing is wrong.
  if (best === undefined || weighed[0]!.score < best.score - STRONG) return [];
  const chosen = new Set([...likeliest, ...within((w) => w.bic)]);
  const isSame = (a: Weighed, b: Weighed) =>
    a.redundancy === b.redundancy && Math.abs(a.misfit - b.misfit) <= SAME * (1 + b.misfit);
  for (const w of possible)
    if (!chosen.has(w) && [...chosen].some((c) => isSame(w, c)) && explains(w)) chosen.add(w);
  // An instrument may be better than stated: a unit that leaves less than ordinary noise is as good as the neighbouring unit.
  for (const w of weighed)
    if (!chosen.has(w) && isOrdinary(w) && [...chosen].some((c) => isSameRescaling(c, w))) chosen.add(w);
  return [...chosen].sort((a, b) => a.score - b.score);
}

/** @param c What explains the misfit. */
const isSameRescaling = (c: Weighed, { hypothesis: { kind, id }, misfit }: Weighed): boolean =>
  kind === 'unit' &&
  (c.hypothesis.id === 'scatter|all' ? id === 'unit|offsets' : c.hypothesis.id === id && misfit <= c.misfit);

/** Of few checks chance leaves less than the best instrument does. */
function isOrdinary({ misfit, redundancy }: Weighed): boolean {
  const p = upperTail(misfit, redundancy);
  return p > BEYOND_CHANCE && (1 - p > TOO_GOOD || misfit >= BEST_INSTRUMENT ** 2 * redundancy);
}

function leavesNothing(w: Weighed, base: Weighing, seen: ReadonlyMap<Hypothesis, Seen>): boolean {
  const after = w.after();
  if (after.touched !== null) {
    const own = ownOf(after.context, base.checked, after.touched);
    const p = upperTail(own.misfit, own.redundancy);
    if (own.redundancy > 0 && (p < OWN_LEVEL || p > 1 - OWN_LEVEL)) return false;
  }
  return greatestGain(after, seen, base) <= SECOND_FAULT;
}

/** Drop of the score by a second hypothesis with numbers. */
function greatestGain(
  after: After,
  seen: ReadonlyMap<Hypothesis, Seen>,
  { job, readings }: Weighing,
): number {
  let most = 0;
  const note = (h: Hypothesis, { G, b, most: widest }: Pick<Seen, 'G' | 'b' | 'most'>) => {
    most = Math.max(most, -widened(G, b, widest).score + 2 * Math.log(h.weight));
  };
  if (after.isOther) {
    const base = weighing(job, readings, after.context);
    const list = after.rows === null ? [...seen.keys()] : listHypotheses(after.rows);
    for (const [h, own] of seenOfAll(base, list)) note(h, own);
    return most;
  }
  const { v } = after.context;
  const inverse = products(after.removed);
  for (const [h, { columns, G, b: before, kept, most: widest }] of seen) {
    if (h.change.kind !== 'linear') continue;
    const { parameters } = h.change;
    const usual = kept.map((k) => parameters[k]!.usual);
    const b = columns.map((c, k) => usual[k]! * sparseDot(c, v));
    const cross = columns.map((c, k) => after.removed.map((r) => usual[k]! * sparseDot(c, r)));
    const q = before.length;
    const left = G.map((g, at) => g - inverse(cross[Math.floor(at / q)]!, cross[at % q]!));
    for (let k = 0; k < q; k++) left[k * (q + 1)] = Math.max(left[k * (q + 1)]!, 1e-9 * G[k * (q + 1)]!);
    note(h, { G: left, b, most: widest });
  }
  return most;
}

function sparseDot({ rows, values }: Seen['columns'][number], dense: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < rows.length; j++) sum += values[j]! * dense[rows[j]!]!;
  return sum;
}

/** xᵀ(RᵀR)⁻¹y for the removed columns R. */
function products(removed: readonly Float64Array[]): (x: readonly number[], y: readonly number[]) => number {
  const q = removed.length;
  if (q === 0) return () => 0;
  const M = removed.flatMap((a) => removed.map((b) => dot(a, b)));
  const scale = removed.map((_, k) => Math.sqrt(M[k * (q + 1)]!));
  const S = M.map((m, at) => m / (scale[Math.floor(at / q)]! * scale[at % q]!));
  return (x, y) => {
    const { theta } = solveSmall(
      S,
      y.map((value, k) => value / scale[k]!),
      1e-9,
    );
    return dot(
      x.map((value, k) => value / scale[k]!),
      theta,
    );
  };
}

/** Joins changes that differ only in the reading at which they begin. */
const merged = (list: readonly Weighed[]): NamedCause[] => [
  ...groupBy(list, ({ hypothesis: { kind, family, id }, fitted }) =>
    kind === 'unit' ? `${id} ${fitted.values[0]}` : (family ?? id),
  ).values(),
];
