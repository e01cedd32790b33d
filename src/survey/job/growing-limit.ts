/** Tolerance limits, fixed or growing with length. */
import { distanceAcrossMm, railLengthMm, type Limit, type Rail } from './job.js';
import type { Identity } from '../characteristics/identity.js';
import type { LimitInput } from './job-schema.js';
import { fromMm, toBase } from '../../base/units/units.js';

/**
 * The limit at a length, in the limit's own unit; lengths in the job's length unit.
 *
 * limit(L) = limit for L ≤ upTo, else limit + more.limit · (L − upTo) / more.each, at most `most`: in proportion, as
 * in "0.02 mm up to 1 m, 0.005 mm more for each further metre, at most 0.05 mm". For a table: the limit of the first step
 * that is long enough; NaN beyond the last step.
 */
export function limitAt(limit: LimitInput, length: number): number {
  if (typeof limit === 'number') return limit;
  if ('steps' in limit) return limit.steps.find(({ upTo }) => length <= upTo * (1 + 1e-12))?.limit ?? NaN;
  const beyond = Math.max(0, length - limit.upTo);
  return Math.min(limit.limit + (limit.more.limit * beyond) / limit.more.each, limit.most ?? Infinity);
}

/**
 * @param of null: the tolerance has two sides instead, and the limit is zero.
 * @param lengthMm Length of the measured feature.
 * @returns µm, or µm/m.
 */
export function limitOver(of: Limit | null, lengthMm: number): number {
  if (of === null) return 0;
  const { stated, unit, lengthUnit } = of;
  const limit = limitAt(stated, fromMm(lengthMm, lengthUnit));
  return toBase(limit, unit);
}

/**
 * The length for which a limit is calculated, mm: the window of a local characteristic, the distance across of a span, the
 * working length, else the rail from its first to its last station.
 *
 * @param other The other rail of the pair.
 */
export function limitLengthMm(
  { what, over, between }: Pick<Identity, 'what' | 'over' | 'between'>,
  rail: Rail,
  other: Rail,
): number {
  if (over !== undefined) return over;
  if (what === 'span') return distanceAcrossMm(rail, other);
  return between === undefined ? railLengthMm(rail) : between[1] - between[0];
}

/** Whether the limit depends on length. */
export const goesByLength = ({ stated }: Limit): boolean => typeof stated === 'object';
