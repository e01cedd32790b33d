/** Round numbers along an axis. */
import { textPx } from './chart-spec.js';
import { textWidth } from '../fonts/widths.js';

export interface Ticks {
  readonly values: readonly number[];
  readonly step: number;
  /** Decimals that the labels need. */
  readonly decimals: number;
}

/**
 * Multiples of 1, 2 or 5 × 10ⁿ inside [from, to], at most `most` of them.
 * @throws {RangeError} when the range is empty or not finite.
 */
export function niceTicks(from: number, to: number, most: number): Ticks {
  if (!(to > from) || !Number.isFinite(to - from)) throw new RangeError(`no axis from ${from} to ${to}`);
  const step = niceStep((to - from) / Math.max(1, most));
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  const values: number[] = [];
  for (let k = first; k <= last; k++) values.push(Number((k * step).toFixed(decimals)));
  return { values, step, decimals };
}

/** The smallest of 1, 2, 5 × 10ⁿ that is not below `least`. */
export function niceStep(least: number): number {
  const decade = 10 ** Math.floor(Math.log10(least));
  for (const factor of [1, 2, 5]) if (factor * decade >= least * (1 - 1e-9)) return tidy(factor * decade);
  return tidy(10 * decade);
}

/** The largest of 1, 2, 5 × 10ⁿ that is not above `most`. */
export function niceBelow(most: number): number {
  const decade = 10 ** Math.floor(Math.log10(most) + 1e-9);
  for (const factor of [5, 2]) if (factor * decade <= most * (1 + 1e-9)) return tidy(factor * decade);
  return tidy(decade);
}

const tidy = (value: number): number => Number(value.toPrecision(1));

/** Labels of an axis that runs to the right; one that would be cut off at the picture's edge is left out. */
export function labelsInside(
  ticks: readonly number[],
  labels: readonly string[],
  domain: readonly [number, number],
  widthPx: number,
  rightPx: number,
): string[] {
  return labels.map((label, i) => {
    const px = ((ticks[i]! - domain[0]) / (domain[1] - domain[0])) * widthPx;
    return px + textWidth(label, textPx) / 2 > widthPx + rightPx - 1 ? '' : label;
  });
}
