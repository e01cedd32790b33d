/** Whether a figure moved by more than rounding. */
import { lastDigit, type ReportUnit } from '../../results/words/format-quantity.js';

/** The rule, as the list states it. */
export const RULE =
  'A figure has moved when it differs by more than half a unit of the last digit to which the earlier report prints it, which is as much as rounding alone can do; a probability, by more than half a per cent; a limit, and whatever a report does not print to the digits of an uncertainty, by more than a part in a thousand million.';

/** Of exact figures: as much as another processor or runtime may differ by. */
const EXACT = 1e-9;

const PROBABILITY = 0.005;

export interface Printed {
  readonly unit: ReportUnit;
  /** Coverage factor of expanded uncertainties. */
  readonly k: number;
}

/**
 * How far apart two figures are in last digits of the earlier report, which prints them by the uncertainty `u`.
 * Above a half they have moved.
 */
export const digitsApart = (before: number, after: number, u: number, { unit, k }: Printed): number =>
  Math.abs(after - before) / lastDigit(k * u, unit);

export const hasMoved = (digits: number | null): boolean => digits === null || digits > 0.5;

/** Of two figures of which either may be missing. */
export function differs(
  before: number | null,
  after: number | null,
  apart: (before: number, after: number) => boolean,
): boolean {
  return before === null || after === null ? before !== after : apart(before, after);
}

export const areApart = (a: number, b: number): boolean =>
  Math.abs(a - b) > EXACT * Math.max(Math.abs(a), Math.abs(b));

export const areChancesApart = (a: number, b: number): boolean => Math.abs(a - b) > PROBABILITY;
