/**
 * Detection and identification. Detected: the misfit of the whole is beyond chance, or readings agree far better than stated, or one
 * hypothesis gains enough over "no fault" to show small faults that the whole dilutes. Named: every hypothesis that
 * explains the misfit and is not clearly worse than the best of them, the likeliest first.
 *
 * A hypothesis explains if what it leaves is ordinary, also within the rows that it rescales, and if nothing more stands out of what
 * is left: two faults at once are explained by no single one.
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

/** Chance does as much in fewer than one survey of a thousand. */
const BEYOND_CHANCE = 1e-3;
/** Chance agrees as well in fewer than one survey of ten thousand. */
const TOO_GOOD = 1e-4;
/** Odds against no fault, for each unit of prior weight that is searched (12 at a weight of 100): a longer list finds more by chance. */
const detectedGain = (weights: number): number => 2 * Math.log(4 * weights);
/** Odds of 20 to 1, "strong" evidence: 2 ln 20. */
const STRONG = 6;
/** What stands out of the rest with odds of 2000 to 1 is a second fault. */
const SECOND_FAULT = 15.2;
/** Where readings agree too well: a free scatter always fits, so a unit that leaves ordinary noise is named next to it up to these odds. */
const BESIDE_SCATTER = 24;
/** Readings scatter by this share of what is stated, or more. Common practice, no source. */
const BEST_INSTRUMENT = 0.5;
/** Rows that are rescaled must scatter as stated themselves, to this two-sided level. */
const OWN_LEVEL = 0.005;
/** Fewer checks than these tell no causes apart. */
export const FEWEST_CHECKS = 5;
/** Where the whole is ordinary and nothing else is near an alarm, other labels are not tried: each is solved anew. */
const NEAR_ALARM = { p: 0.05, gain: 4 };
/** The relative difference below which two misfits are one. */
const SAME = 1e-6;

/** Causes that come out as one: they differ in the reading from which they hold. The likeliest first. */
export type NamedCause = readonly Weighed[];

export interface Identified {
  readonly sigma0: number | null;
  readonly redundancy: number;
  readonly p: number;
  readonly detected: boolean;
  /** It is the agreement that is too good. */
  readonly isTooGood: boolean;
  /** Drop of the score by the best hypothesis, over no fault. */
  readonly gain: number;
  /** Sum of all prior weights: a search over many hypotheses finds that much more by chance. */
  readonly weights: number;
  /** Empty where no single one explains the misfit. */
  readonly named: readonly NamedCause[];
  /** Best scores, whether or not they explain it; for a remark. */
  readonly nearest: readonly Weighed[];
  /** Too few readings check each other for causes to be told apart. */
  readonly hasTooFewChecks: boolean;
  readonly hypotheses: number;
}

/** @param network Of these readings; made anew where it is not given. */
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
  // Of all that turns or moves readings together, chance does as much in one survey of a hundred at most.
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
  // A unit that scores no better than no fault can only be the second name of a fault that is detected.
  if (detected) weighed.push(...weighAll(list.filter((h) => isCheap(h) && !hopeful.has(h))));
  weighed.sort((a, b) => a.score - b.score);
  const margin = isTooGood ? BESIDE_SCATTER : STRONG;
  // Chance alone never raises an alarm; next to what did, what chance may have helped is a rival, and does not shut others out.
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
    // A unit or a scatter makes any misfit smaller.
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
  const possible = weighed.filter((w) => isOrdinary(w) && (none - w.score > STRONG || none - w.bic > STRONG));
  const known = new Map<Weighed, boolean>();
  const explains = (w: Weighed) => {
    let is = known.get(w);
    if (is === undefined) known.set(w, (is = leavesNothing(w, base, seen)));
    return is;
  };
  /** All that explain and are at most `margin` worse than the best of them. */
  const within = (measure: (w: Weighed) => number): Weighed[] => {
    const sorted = [...possible].sort((a, b) => measure(a) - measure(b));
    const best = sorted.find(explains);
    if (best === undefined) return [];
    return sorted.filter((w) => measure(w) <= measure(best) + margin && explains(w));
  };
  const likeliest = within((w) => w.score);
  const [best] = likeliest;
  // A better one that does not explain it all says that more than this is wrong.
  if (best === undefined || weighed[0]!.score < best.score - STRONG) return [];
  const chosen = new Set([...likeliest, ...within((w) => w.bic)]);
  const isSame = (a: Weighed, b: Weighed) =>
    a.redundancy === b.redundancy && Math.abs(a.misfit - b.misfit) <= SAME * (1 + b.misfit);
  for (const w of possible)
    if (!chosen.has(w) && [...chosen].some((c) => isSame(w, c)) && explains(w)) chosen.add(w);
  // An instrument may be better than stated: a unit that leaves less than ordinary noise is no worse than its neighbour.
  for (const w of weighed)
    if (!chosen.has(w) && isOrdinary(w) && [...chosen].some((c) => isSameRescaling(c, w)))
      chosen.add(w);
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

/** What a further hypothesis with numbers would gain on top. */
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

/** Changes from a reading on that differ only in the reading are one name. */
const merged = (list: readonly Weighed[]): NamedCause[] => [
  ...groupBy(list, ({ hypothesis: { kind, family, id }, fitted }) =>
    kind === 'unit' ? `${id} ${fitted.values[0]}` : (family ?? id),
  ).values(),
];
