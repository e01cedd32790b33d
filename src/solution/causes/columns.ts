/** Columns of hypotheses, built row by row. */
import { valueOf, type Reading } from '../../survey/readings/readings.js';
import type { Column } from './hypothesis.js';
import type { Row } from './survey-rows.js';

export const withValue = (r: Reading, value: number): Reading =>
  r.kind === 'offset'
    ? { ...r, um: value }
    : r.kind === 'slope'
      ? { ...r, umPerM: value }
      : { ...r, departureUm: value };

export function columnOf<R extends Reading>(rows: readonly Row<R>[], value: (row: Row<R>) => number): Column {
  const i: number[] = [];
  const values: number[] = [];
  for (const row of rows) {
    const one = value(row);
    if (one === 0) continue;
    i.push(row.i);
    values.push(one);
  }
  return { rows: i, values };
}

/** The reading that replaces each reading, minus the reading. */
export function exchange(pairs: readonly (readonly [Row, Row])[]): Column {
  const rows: number[] = [];
  const values: number[] = [];
  for (const [a, b] of pairs) {
    const difference = valueOf(b.reading) - valueOf(a.reading);
    rows.push(a.i, b.i);
    values.push(difference, -difference);
  }
  return { rows, values };
}

/** Greatest number of starts that are tried within one set-up. If there are more, evenly spaced ones are tried. */
const MOST_STARTS = 200;

/**
 * Readings at which a change may have begun: all except the first few and the last. The beginnings of passes have as much prior weight
 * as all others together.
 *
 * @param before Least number of readings before the change. With fewer, the change is one of the whole.
 */
export function starts<R extends Reading>(
  rows: readonly Row<R>[],
  before = 1,
): { readonly from: number; readonly weight: number; readonly isPass: boolean }[] {
  const step = Math.max(1, Math.ceil(rows.length / MOST_STARTS));
  const passes = new Set<string>();
  return rows.flatMap(({ reading: { pass } }, from) => {
    const isPass = !passes.has(pass);
    passes.add(pass);
    if (from === 0 || (!isPass && (from < before || from > rows.length - 2))) return [];
    if (!isPass && from % step !== 0) return [];
    return [{ from, weight: isPass ? 1 : step / rows.length, isPass }];
  });
}
