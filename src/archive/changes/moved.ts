/** Whether a figure moved by more than rounding. */
import { lastDigit, type ReportUnit } from '../../results/words/format-quantity.js';

/** The rule, as the list prints it. */
export const RULE =
  'A figure has moved if it differs by more than half a unit of the last digit that the earlier report prints (rounding alone can do as much). A confidence has moved if it differs by more than half a per cent. A limit, and every figure that is not printed to the digits of its uncertainty, has moved if it differs by more than one part in a thousand million.';

/** For exact figures: relative difference that another processor or runtime may cause. */
const SAME_FIGURE = 1e-9;

/** Difference of two probabilities that counts as none. */
const SAME_PROBABILITY = 0.005;

export interface Printed {
  readonly unit: ReportUnit;
  /** Coverage factor of expanded uncertainties. */
  readonly k: number;
}

/**
 * Difference of two figures in units of the last digit that the earlier report prints, which depends on the uncertainty `u`.
 * Above one half the figure has moved.
 */
export const digitsApart = (before: number, after: number, u: number, { unit, k }: Printed): number =>
  Math.abs(after - before) / lastDigit(k * u, unit);

export const hasMoved = (digits: number | null): boolean => digits === null || digits > 0.5;

/** true: the figures differ, or only one of them exists. */
export function differs(
  before: number | null,
  after: number | null,
  apart: (before: number, after: number) => boolean,
): boolean {
  return before === null || after === null ? before !== after : apart(before, after);
}

export const areApart = (a: number, b: number): boolean =>
  Math.abs(a - b) > SAME_FIGURE * Math.max(Math.abs(a), Math.abs(b));

export const areChancesApart = (a: number, b: number): boolean => Math.abs(a - b) > SAME_PROBABILITY;
