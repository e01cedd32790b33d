import { normalCdf, normalQuantile } from '../../base/statistics/normal.js';
import type { DecisionRuleName } from '../../survey/job/job-schema.js';
import type { Reach } from './greatest.js';

/** Result for a characteristic with a tolerance; `undecided`: neither of the others is proven under the rule. */
export type Conformity = 'conforms' | 'does-not-conform' | 'undecided';

export interface Decision {
  readonly rule: DecisionRuleName;
  /** Coverage of the interval. */
  readonly coverage: number;
  /** r of a guard band w = r·U, two-sided. */
  readonly guardBand?: number | undefined;
  /** Greatest risk of wrong acceptance, one-sided, 0 … 0.5; left out: as coverage and guard band give it. */
  readonly risk?: number | undefined;
}

/** The same decision by the rule of one tolerance; it may have none of its own. */
export const byRule = (decision: Decision, own: DecisionRuleName | null | undefined): Decision =>
  own ? { ...decision, rule: own } : decision;

/** Levels of the two ends that decide: the upper one for acceptance, the lower one for rejection. */
export function levelsOf({ coverage, guardBand = 1, risk }: Decision): { accept: number; reject: number } {
  const level =
    guardBand === 1 ? (1 - coverage) / 2 : normalCdf(-guardBand * normalQuantile((1 + coverage) / 2));
  return { accept: risk ?? level, reject: level };
}

/** A magnitude with the ends that decide about it; unit of its limit. */
export interface Judged {
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
}

/** The ends and the value that the rule uses. */
export function judgedBy(decision: Decision, reach: Reach): Judged {
  const { accept, reject } = levelsOf(decision);
  const ofInterval = (1 - decision.coverage) / 2;
  return {
    value: reach.value,
    lower: reject === ofInterval ? reach.interval[0] : reach.lowerAt(reject),
    upper: accept === ofInterval ? reach.interval[1] : reach.upperAt(accept),
  };
}

/**
 * The same as `decide(judgedBy(…))`. The lower end, which is most of the work, is asked for only where the value is beyond
 * the limit: it is never above the value.
 */
export function verdictOf(decision: Decision, reach: Reach, limit: number): Conformity {
  const { value } = reach;
  const upper = decision.rule === 'simple' ? value : reach.upperAt(levelsOf(decision).accept);
  const isWithin = value <= limit * (1 + 1e-12);
  const judged =
    isWithin || decision.rule === 'simple' ? { value, lower: value, upper } : judgedBy(decision, reach);
  return decide(judged, limit, decision.rule);
}

/**
 * The decision for one characteristic against its upper limit.
 * - `simple`: the estimate alone decides; value ≤ limit conforms. A value exactly on the limit conforms.
 * - `guarded`: conforms if the upper end at the accepted risk is inside, does not conform if the lower end is outside, else
 *   undecided. An end exactly on the limit counts as inside.
 * 'On the limit' means within one part in 1e12, so that a change of units cannot change a verdict.
 *
 * @param judged Magnitude and its ends; null: the readings do not determine it → undecided.
 * @param limit Tolerance limit, ≥ 0, same unit; for a signed characteristic half the width of its zone.
 * @throws {RangeError} a limit that is negative or not finite.
 * @see JCGM 106:2012, 8.2 (simple acceptance) and 8.3 (guarded acceptance); ISO 14253-1 for 'neither is proven'.
 */
export function decide(judged: Judged | null, limit: number, rule: DecisionRuleName): Conformity {
  if (!(limit >= 0 && Number.isFinite(limit)))
    throw new RangeError(`a limit is finite and >= 0, not ${limit}`);
  if (judged === null) return 'undecided';
  const most = limit * (1 + 1e-12);
  if (rule === 'simple') return judged.value <= most ? 'conforms' : 'does-not-conform';
  if (judged.upper <= most) return 'conforms';
  return judged.lower > most ? 'does-not-conform' : 'undecided';
}

/** The proven bound of the risk: of wrong acceptance if it conforms, of wrong rejection if it does not. */
export interface Risk {
  readonly of: 'wrong-acceptance' | 'wrong-rejection';
  readonly atMost: number;
}

/** null: nothing was decided. */
export function riskOf(verdict: Conformity, reach: Reach, limit: number): Risk | null {
  if (verdict === 'undecided') return null;
  // A value on the limit is inside, as for the verdict.
  return verdict === 'conforms'
    ? { of: 'wrong-acceptance', atMost: reach.acceptanceRisk(limit * (1 + 1e-12)) }
    : { of: 'wrong-rejection', atMost: reach.rejectionRisk(limit) };
}

/** An interval with r times its half-width to both sides of its middle, as charts show the guard band. */
export function guarded([low, high]: readonly [number, number], r: number): readonly [number, number] {
  const [middle, half] = [(low + high) / 2, (high - low) / 2];
  return r === 1 ? [low, high] : [middle - r * half, middle + r * half];
}
