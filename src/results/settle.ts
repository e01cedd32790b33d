/** What would decide an undecided verdict. */
import type { BudgetSource } from './results-schema.js';
import type { Settling } from '../solution/reasons/reason.js';
import type { Judged } from '../solution/verdict/decision-rule.js';

/** Sources that more passes reduce; the others do not change with the number of passes. */
const averaged: readonly BudgetSource[] = ['readings', 'distance'];

/** Distance of a magnitude from its limit, and of the deciding end of its interval. */
const distances = ({ value, lower, upper }: Judged, limit: number) => ({
  margin: Math.abs(limit - value),
  reach: value <= limit ? upper - value : value - lower,
});

/** Share of its width that an interval must lose to exclude the limit, if the value does not change. */
export function shareToLose(judged: Judged, limit: number): number {
  const { margin, reach } = distances(judged, limit);
  return 1 - margin / reach;
}

/**
 * @param judged Magnitude with its ends, in the unit of the limit.
 * @param budget Share of the variance by source.
 * @param scale Factor by which disagreement of the readings has widened the interval; 1: none.
 */
export function settlingOf(
  judged: Judged,
  limit: number,
  budget: Partial<Record<BudgetSource, number>>,
  scale: number,
): Settling {
  const { margin, reach } = distances(judged, limit);
  if (scale > 1 && margin >= reach / scale) {
    return { code: 'readings-disagree', data: { times: scale } };
  }
  // The interval must decrease to this share of its width, and its variance to the square of the share.
  const needed = (margin / reach) ** 2;
  const passive = Object.entries(budget).reduce(
    (sum, [source, share]) => sum + (averaged.includes(source as BudgetSource) ? 0 : share),
    0,
  );
  const active = 1 - passive;
  const times = needed > passive ? Math.ceil(active / (needed - passive)) : Infinity;
  if (times <= 20) {
    return { code: 'more-passes', data: { times } };
  }
  const worst = (Object.entries(budget) as [BudgetSource, number][]).sort(([, a], [, b]) => b - a)[0];
  if (worst === undefined || averaged.includes(worst[0]) || margin < 0.05 * reach) {
    return { code: 'margin-too-small', data: {} };
  }
  return { code: 'not-by-passes', data: {} };
}
