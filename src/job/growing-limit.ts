/** Tolerance limits, fixed or growing with length. */
import type { ToleranceInput } from './job-schema.js';

/**
 * The limit at a length, in the limit's own unit; lengths in the job's length unit.
 *
 * limit(L) = limit for L ≤ upTo, else limit + more.limit · (L − upTo) / more.each, at most `most`: pro rata, as
 * in "0.02 mm up to 1 m, 0.005 mm more for each further metre, at most 0.05 mm".
 */
export function limitAt(limit: NonNullable<ToleranceInput['limit']>, length: number): number {
  if (typeof limit === 'number') return limit;
  const beyond = Math.max(0, length - limit.upTo);
  return Math.min(limit.limit + (limit.more.limit * beyond) / limit.more.each, limit.most ?? Infinity);
}
