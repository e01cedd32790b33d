/** Result for a characteristic with a tolerance; `undecided`: neither of the others is proven under the rule. */
export type Conformity = 'conforms' | 'does-not-conform' | 'undecided';

/** Decision rules in the words of JCGM 106: simple acceptance and guarded acceptance. */
export type DecisionRuleName = 'simple' | 'guarded';

/**
 * The decision for one characteristic against its upper limit.
 * - `simple`: the estimate alone decides; value ≤ limit conforms (|value| if signed). A value exactly
 *   on the limit conforms.
 * - `guarded`: the coverage interval decides; completely inside conforms, completely outside does not, else
 *   undecided. An end of the interval exactly on the limit counts as inside.
 * 'On the limit' is within one part in 1e12, so that a change of units cannot change a verdict.
 *
 * @param value Estimate, in the limit's unit; null: the readings do not determine it → undecided.
 * @param interval Coverage interval, same unit; null only if the value is null or no uncertainty is known.
 * @param limit Tolerance limit, ≥ 0, same unit.
 * @param signed true: the zone is −limit … +limit; false: a range (never negative).
 * @param guardBand r of a guard band w = r·U: the interval is widened or narrowed by this factor about its middle.
 * @throws {RangeError} a limit that is negative or not finite.
 * @see JCGM 106:2012, 8.2 (simple acceptance) and 8.3 (guarded acceptance); ISO 14253-1 for 'neither is proven'.
 */
export function decide(
  value: number | null,
  interval: readonly [number, number] | null,
  limit: number,
  rule: DecisionRuleName,
  signed: boolean,
  guardBand = 1,
): Conformity {
  if (!(limit >= 0 && Number.isFinite(limit)))
    throw new RangeError(`a limit is finite and >= 0, not ${limit}`);
  if (value === null) return 'undecided';
  const upper = limit * (1 + 1e-12);
  const lower = signed ? -upper : -Infinity;
  const isInside = (x: number): boolean => x >= lower && x <= upper;
  switch (rule) {
    case 'simple':
      return isInside(value) ? 'conforms' : 'does-not-conform';
    case 'guarded': {
      if (interval === null) return 'undecided';
      const [low, high] = guarded(interval, guardBand);
      if (isInside(low) && isInside(high)) return 'conforms';
      return low > upper || high < lower ? 'does-not-conform' : 'undecided';
    }
  }
}

/** An interval with r times its half-width to both sides of its middle; r = 1 is the interval itself, to the last digit. */
export function guarded([low, high]: readonly [number, number], r: number): readonly [number, number] {
  if (r === 1) return [low, high];
  const [middle, half] = [(low + high) / 2, (high - low) / 2];
  return [middle - r * half, middle + r * half];
}
