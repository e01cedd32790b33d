/**
 * Whether a crew checked the level and the zero of a set-up again: after the last new point, an earlier point was read again.
 * Only this shows whether the instrument moved during the survey.
 */
import type { Axis } from '../job/job.js';
import { inOrder } from './in-order.js';
import { pointLabel } from './point-label.js';
import type { OffsetReading, Reading } from './readings.js';

export interface LookedAgain {
  readonly setup: string;
  /** true: the level plane, by a second reading in height; null: no height was read from here. */
  readonly level: boolean | null;
  /** true: the zero of the line, by a second reading sideways or along; null: neither was read from here. */
  readonly zero: boolean | null;
}

/** Per set-up with readings, in the order of the readings. */
export function lookedAgain(readings: readonly Reading[]): LookedAgain[] {
  const offsets = readings.filter((r): r is OffsetReading => r.kind === 'offset');
  return [...new Set(offsets.map(({ setup }) => setup))].map((setup) => {
    const of = (...axes: Axis[]): boolean | null => {
      const each = axes.flatMap((axis) => {
        const own = offsets.filter((r) => r.setup === setup && r.axis === axis);
        return own.length === 0 ? [] : [cameBack(own)];
      });
      return each.length === 0 ? null : each.some(Boolean);
    };
    return { setup, level: of('vertical'), zero: of('horizontal', 'along') };
  });
}

/** true: after the last new point, another point was read again. */
function cameBack(looks: readonly OffsetReading[]): boolean {
  const keys = inOrder(looks, (r) => r).map(({ point, target }) => `${pointLabel(point)}\u0000${target}`);
  const last = keys.findLastIndex((key, i) => keys.indexOf(key) === i);
  return keys.slice(last + 1).some((key) => key !== keys[last]);
}
