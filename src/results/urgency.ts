/** Order of characteristics by their distance from the limit: one rule for report, register and changes. */
import type { Judged } from '../solution/verdict/decision-rule.js';
import type { CharacteristicResult, Verdict } from './results-schema.js';

const severity: Readonly<Record<Verdict, number>> = {
  'does-not-conform': 0,
  undecided: 1,
  conforms: 2,
  reported: 3,
};

/** Magnitude with the ends that decide; null: there is no value. Documents before 0.6.0 have the interval alone. */
export function judgedFigures({
  judged,
  value,
  interval,
}: Pick<CharacteristicResult, 'judged' | 'value' | 'interval'>): Judged | null {
  if (judged !== undefined) return judged;
  if (value === null || interval === null) return null;
  const [low, high] = interval;
  return {
    value: Math.abs(value),
    lower: Math.max(0, low, -high),
    upper: Math.max(Math.abs(low), Math.abs(high)),
  };
}

/** The limit of the judged value; null: none. */
export const limitJudged = ({
  judged,
  limit,
}: Pick<CharacteristicResult, 'judged' | 'limit'>): number | null => judged?.limit ?? limit;

/** A figure as a share of its limit: 1 on the limit. If the limit is zero or less, the excess. */
export const shareOf = (figure: number, limit: number): number =>
  limit > 0 ? figure / limit : 1 + (figure - limit) / Math.max(1, Math.abs(limit));

/** Upper end of the interval as a share of the limit; infinite if there is no value. */
export function reachShare(c: Pick<CharacteristicResult, 'judged' | 'value' | 'interval' | 'limit'>): number {
  const [figures, limit] = [judgedFigures(c), limitJudged(c)];
  if (limit === null) return -Infinity;
  return figures === null ? Infinity : shareOf(figures.upper, limit);
}

/** Worst first: does not conform, undecided, conforms; among equal verdicts by the upper end of the interval. */
export const byUrgency = (a: CharacteristicResult, b: CharacteristicResult): number =>
  severity[a.verdict] - severity[b.verdict] || compare(reachShare(b), reachShare(a));

/** Equal infinities are equal. */
const compare = (a: number, b: number): number => (a === b ? 0 : a - b);

/** The worst verdict of a phase. */
export const worstVerdict = (list: readonly { verdict: Verdict }[]): Verdict =>
  list.reduce<Verdict>(
    (worst, { verdict }) => (severity[verdict] < severity[worst] ? verdict : worst),
    'reported',
  );
