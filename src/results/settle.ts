/** What would turn an undecided verdict into a decided one. */
import type { BudgetSource } from './results-schema.js';

/** Sources that more passes average out; the others stay as they are however often the rail is read. */
const averaged: readonly BudgetSource[] = ['readings', 'distance'];

const remedyOf: Record<BudgetSource, string> = {
  readings: 'more passes',
  distance: 'shorter sights',
  level: 'a better levelled plane (level readings along the rails, or a levelling from both ends)',
  'direction-carry-over': 'a better carried direction (monuments further apart, or read several times)',
  'height-carry-over': 'a better carried height (the target assembly read several times on both rails)',
  drift: 'quicker passes, or more closing readings at the first station',
  'target-assemblies': 'one target assembly for all readings',
  air: 'steadier air (fans that mix it, or a survey at night), or reading from the middle or from both ends',
  cone: 'reading the same stations from near and from far',
  'target-scale': 'keeping readings near the middle of the target',
  'target-roll': 'turning the target over, or readings near nought in both planes',
  seating: 'lifting the target and setting it down again between readings',
  'rail-tilt': 'a lower rod',
  temperature: 'an even temperature',
};

/**
 * @param value Estimate; `interval` its coverage interval; `limit` ≥ 0, all in one unit.
 * @param budget Share of the variance by source.
 * @param scale By how much the readings' disagreement has widened the interval; 1: not at all.
 */
export function settleSentence(
  value: number,
  interval: readonly [number, number],
  limit: number,
  budget: Partial<Record<BudgetSource, number>>,
  scale: number,
): string {
  const size = Math.abs(value);
  const margin = Math.abs(limit - size);
  // How far the interval reaches from the value towards the limit.
  const ends = interval.map(Math.abs) as [number, number];
  const reach = size <= limit ? Math.max(...ends) - size : size - Math.min(...ends);
  if (scale > 1 && margin >= reach / scale) {
    return `The readings disagree ${scale.toFixed(1)} times more than their uncertainty allows, and the interval is that much wider: find out why, first of all at the suspect readings. If they agreed, it would be narrow enough to decide.`;
  }
  // The interval must shrink to this share of its width to clear the limit, its variance to the square of it.
  const needed = (margin / reach) ** 2;
  const passive = Object.entries(budget).reduce(
    (sum, [source, share]) => sum + (averaged.includes(source as BudgetSource) ? 0 : share),
    0,
  );
  const active = 1 - passive;
  const times = needed > passive ? Math.ceil(active / (needed - passive)) : Infinity;
  if (times <= 20) {
    return `About ${times} times as many passes would narrow the interval enough to decide, if the value stays where it is.`;
  }
  const worst = (Object.entries(budget) as [BudgetSource, number][]).sort(([, a], [, b]) => b - a)[0];
  if (worst === undefined || averaged.includes(worst[0]) || margin < 0.05 * reach) {
    return 'The margin to the limit is so small beside the uncertainty that no survey of this kind would decide: adjust the rail, use a better instrument, or agree on another limit or rule.';
  }
  return `More passes alone would not decide: most of the uncertainty comes from elsewhere, and ${remedyOf[worst[0]]} would help most.`;
}
