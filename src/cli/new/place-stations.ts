/** Where the planned stations are, from two of length, spacing and count. */
import { fromMm } from '../../base/units/units.js';
import { SAME_PLACE_MM } from '../../survey/job/resolve-rails.js';
import { MOST_STATIONS, tidy } from './plan.js';

export interface StationsAsked {
  first?: number;
  length?: number;
  spacing?: number;
  count?: number;
}

/**
 * Evenly from the first; where the spacing does not divide the length, the end of the rail is a station too.
 *
 * @returns Places, or what is wrong.
 */
export function placeStations(
  { first = 0, length, spacing, count }: StationsAsked,
  unit: 'mm' | 'in',
): number[] | string {
  const evenly = (step: number, n: number) => Array.from({ length: n }, (_, k) => tidy(first + k * step));
  /** Two stations must be told apart by their places. */
  const room = fromMm(2 * SAME_PLACE_MM, unit);
  if (count !== undefined && spacing !== undefined) {
    const whole = (count - 1) * spacing;
    if (length !== undefined && Math.abs(length - whole) > room)
      return `${count} stations ${spacing} ${unit} apart reach over ${tidy(whole)} ${unit}, not ${length} ${unit}`;
    return spacing > room ? evenly(spacing, count) : `stations must be more than ${tidy(room)} ${unit} apart`;
  }
  if (length === undefined) return 'wanted: two of length, spacing and count';
  const step = spacing ?? length / ((count ?? 2) - 1);
  if (!(step > room)) return `stations must be more than ${tidy(room)} ${unit} apart`;
  if (count !== undefined) return evenly(step, count);
  const steps = Math.floor(length / step + room / step / 2);
  if (steps < 1) return `wanted: at most the length of the rail, ${length} ${unit}`;
  if (steps + 2 > MOST_STATIONS) return `at most ${MOST_STATIONS} stations to a rail can be planned`;
  const places = evenly(step, steps + 1);
  const end = tidy(first + length);
  return end - places[places.length - 1]! > room ? [...places, end] : places;
}
