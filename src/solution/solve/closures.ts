/**
 * Repeated readings of one point from one set-up: the last reading minus the first. A set-up that has not moved closes within
 * the uncertainty of two readings, after the drift of its planes is subtracted.
 */
import { greatestBy, groupBy } from '../../base/lists.js';
import { pointLabel } from '../../survey/readings/point-label.js';
import { inOrder } from '../../survey/readings/in-order.js';
import type { OffsetReading } from '../../survey/readings/readings.js';
import type { Adjustment } from './adjustment.js';
import { factorOfAll, SURVEY_LEVEL } from '../../base/statistics/normal.js';

/** One reading of a point: time, reading (µm), and its place in the file. */
interface ClosureReading {
  readonly time: string | null;
  readonly reading: number;
  readonly row: { readonly file: string; readonly row: number };
}

/** The last reading of a point minus the first, µm. */
export interface Closure {
  readonly setup: string;
  readonly point: string;
  readonly target: string;
  readonly axis: string;
  readonly looks: number;
  readonly first: ClosureReading;
  readonly last: ClosureReading;
  readonly closure: number;
  /** The part that the drift explains, µm; absent: the set-up has no drift. */
  readonly drift?: number | undefined;
  /** What the stated uncertainty allows all closures of the survey together, µm. */
  readonly allowed: number;
  readonly exceeded: boolean;
}

/** Size of a closure after drift is subtracted, µm. */
export const leftOpen = ({ closure, drift = 0 }: Pick<Closure, 'closure' | 'drift'>): number =>
  Math.abs(closure - drift);

/** If a set-up and axis has more repeated points than this, only monuments, the largest closures and those that exceed are listed. */
const MAX_LISTED_EACH = 4;

/** All repeated points: last reading minus first, compared with what is allowed. */
export function closuresOf(adjustment: Adjustment): Closure[] {
  const { network } = adjustment;
  const looksAt = network.observations.flatMap((o, index): Look[] =>
    o.kind === 'offset' ? [{ reading: o, index }] : [],
  );
  const groups = groupBy(looksAt, ({ reading: { setup, axis, point, target } }) =>
    JSON.stringify([setup, axis, point, target]),
  );
  const repeated = [...groups].filter(([, g]) => g.length > 1).sort(([a], [b]) => (a < b ? -1 : 1));
  const k = factorOfAll(repeated.length, 1 - SURVEY_LEVEL);
  const closures = repeated.map(([, looks]): Closure => {
    const ordered = inOrder(looks, ({ reading }) => reading);
    const { reading: first, index: firstIndex } = ordered[0]!;
    const { reading: last, index: lastIndex } = ordered[ordered.length - 1]!;
    const drift = driftBetween(adjustment, firstIndex, lastIndex);
    const found = { closure: last.um - first.um, ...(drift !== null && { drift }) };
    const allowed = k * Math.SQRT2 * network.sigma[looks[0]!.index]!;
    return {
      setup: first.setup,
      point: pointLabel(first.point),
      target: first.target,
      axis: first.axis,
      looks: looks.length,
      first: look(first),
      last: look(last),
      ...found,
      allowed,
      exceeded: leftOpen(found) > allowed,
    };
  });
  return listed(closures);
}

/** All closures of a set-up and axis if they are few, else monuments, the largest and those that exceed. */
function listed(closures: readonly Closure[]): Closure[] {
  const seriesOf = (c: Closure) => JSON.stringify([c.setup, c.axis]);
  const series = groupBy(closures, seriesOf);
  return closures.filter((c) => {
    const own = series.get(seriesOf(c))!;
    return own.length <= MAX_LISTED_EACH || c.exceeded || c === greatestBy(own, leftOpen);
  });
}

const look = (r: OffsetReading): ClosureReading => ({
  time: r.time,
  reading: r.um,
  row: { file: r.source.file, row: r.source.row },
});

interface Look {
  readonly reading: OffsetReading;
  /** Index of its observation in the network. */
  readonly index: number;
}

/** Effect of the drift of the plane on the difference of two readings, µm; null: the set-up has no drift. */
function driftBetween(adjustment: Adjustment, first: number, last: number): number | null {
  const [before, after] = [driftIn(adjustment, first), driftIn(adjustment, last)];
  return before === null || after === null ? null : after - before;
}

function driftIn({ network, x }: Adjustment, observation: number): number | null {
  for (let k = network.start[observation]!; k < network.start[observation + 1]!; k++) {
    const unknown = network.column[k]!;
    if (network.unknowns[unknown]!.kind === 'drift') return network.coefficient[k]! * x[unknown]!;
  }
  return null;
}
