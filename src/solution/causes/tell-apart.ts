/**
 * The reading that would distinguish two causes: the one for which their predictions differ most, in units of its uncertainty.
 * Candidates are the readings of the survey, taken again. If none of them helps, the advice of the kinds of the causes is used.
 */
import { dot, residualOf, project, type Context } from './projection.js';
import { lineOf } from './survey-rows.js';
import type { Weighed } from './weigh.js';

/** Least difference with which two causes can be distinguished with 95 % in both directions: 2 × 1.645. */
const TELLS = 3.3;

/** What to do, in words that follow a colon; null: only one cause is named. */
export function tellApart(context: Context, causes: readonly Weighed[]): string | null {
  const [one, other] = causes;
  if (one === undefined || other === undefined) return null;
  const kinds = new Set([one.hypothesis.kind, other.hypothesis.kind]);
  const isOf = (...list: string[]) => [...kinds].every((kind) => list.includes(kind));
  if (kinds.has('scatter')) return 'read one more pass; it shows whether the readings are like that.';
  if (kinds.has('sign')) {
    if (one.hypothesis.id.split('|')[3] === '' || other.hypothesis.id.split('|')[3] === '')
      return 'check the signs: move the target by a known amount, seen from each set-up, and look which way the reading goes.';
  }
  if (isOf('level', 'level-zero', 'heading'))
    return 'level the instrument in a third set-up, turned by half a turn, and read three of the stations again from there.';
  const best = bestReading(context, one, other);
  if (best !== null) return `read ${best} once more.`;
  if (isOf('drift', 'warming', 'tilt', 'turn', 'air', 'cone'))
    return 'read one more pass at another time of the day, and the first station again at its end.';
  return 'read one more pass from the same set-up.';
}

/** Greatest difference between the readings that the two causes predict; null: too small everywhere. */
function bestReading(context: Context, one: Weighed, other: Weighed): string | null {
  const [a, b] = [trueReadings(context, one), trueReadings(context, other)];
  if (a === null || b === null) return null;
  let most = TELLS;
  let best: number | null = null;
  for (let i = 0; i < a.length; i++) {
    if (context.network.observations[i]!.kind === 'prior') continue;
    const apart = Math.abs(a[i]! - b[i]!);
    if (apart > most) [most, best] = [apart, i];
  }
  if (best === null) return null;
  const o = context.network.observations[best]!;
  if (o.kind === 'offset') {
    const point = o.point.kind === 'station' ? `${lineOf(o)}:${o.point.station}` : lineOf(o);
    return `${point} (${o.axis}, target ${o.target}) from ${o.setup}`;
  }
  if (o.kind === 'slope')
    return `the step ${o.from.rail}:${o.from.station} to ${o.to.rail}:${o.to.station} (${o.axis})`;
  return o.kind === 'span' ? `the span at ${o.rail}:${o.station}` : null;
}

/** Each reading without the cause, minus the value of the present adjustment, divided by σ. */
function trueReadings(context: Context, { hypothesis: { change }, fitted }: Weighed): Float64Array | null {
  const shift = new Float64Array(context.v.length);
  const add = (column: { rows: ArrayLike<number>; values: ArrayLike<number> }, by: number) => {
    const projected = project(context, column);
    if (projected === null) return;
    // The adjustment absorbs what the residuals do not show.
    const left = residualOf(context, projected);
    for (let i = 0; i < shift.length; i++) shift[i]! -= by * left[i]!;
    for (let j = 0; j < projected.rows.length; j++) shift[projected.rows[j]!]! += by * projected.values[j]!;
  };
  if (change.kind === 'linear')
    change.parameters.forEach(({ column }, k) => add(column, -(fitted.values[k] ?? 0)));
  else if (change.kind === 'values') add(change.column, 1);
  else if (change.kind === 'factor') add(change.column, fitted.values[0]! - 1);
  else return null;
  return dot(shift, shift) > 0 ? shift : null;
}
