/** Attitude of each set-up of a phase: its beam from the datum rail's line and from gravity. */
import { groupBy } from '../base/lists.js';
import { axes, type Axis, type Job } from '../survey/job/job.js';
import type { Adjustment, Functional } from '../solution/solve/adjustment.js';
import { normalQuantile } from '../base/statistics/normal.js';
import type { OffsetReading } from '../survey/readings/readings.js';
import { keyOf, type Network } from '../solution/solve/network.js';
import { railProfile, slopeOf } from '../solution/characteristics/profiles.js';
import { quantityOf, unknown } from './quantity.js';
import type { Explainer } from '../solution/solve/explain.js';
import type { Quantity, SetupResult } from './results-schema.js';
import { reason } from '../solution/reasons/reason.js';

/** Attitude, largest readings and drift of each set-up with readings. */
export function setupsSection(job: Job, adjustment: Adjustment, explain: Explainer): SetupResult[] {
  const { network } = adjustment;
  const datum = railProfile(network, job.datum, 'horizontal');
  const datumSlope = datum === null ? null : slopeOf(datum);
  const readings = readingsBySetup(network);
  return job.setups.flatMap((setup): SetupResult[] => {
    const rows = readings.get(setup.id);
    if (rows === undefined) return [];
    const instrument = job.instruments.find((i) => i.id === setup.instrument)!;
    const largest = (axis: Axis): number | null =>
      rows.reduce<number | null>(
        (most, o) => (o.axis === axis ? Math.max(most ?? 0, Math.abs(o.um)) : most),
        null,
      );
    const tilt = (kind: 'pitch' | 'roll'): Quantity => {
      const index = network.find(keyOf.setup(kind, setup.id));
      return index === undefined
        ? unknown([reason('set-up-no-heights', { setup: setup.id })])
        : quantityOf(adjustment, { index: [index], weight: [1] }, explain);
    };
    return [
      {
        id: setup.id,
        readings: rows.length,
        yaw: yawOf(adjustment, setup.id, datumSlope, explain),
        pitch: tilt('pitch'),
        roll: tilt('roll'),
        largest: Object.fromEntries(axes.map((axis) => [axis, largest(axis)])) as SetupResult['largest'],
        rangeLimit: instrument.rangeLimit,
        ...(setup.drift && { drift: driftOf(job, adjustment, setup.id, explain) }),
      },
    ];
  });
}

const readingsBySetup = ({ observations }: Network) =>
  groupBy(
    observations.filter((o): o is OffsetReading => o.kind === 'offset'),
    ({ setup }) => setup,
  );

/** Drift rate of each plane, and whether it differs from zero at the job's coverage. */
function driftOf(
  job: Job,
  adjustment: Adjustment,
  setup: string,
  explain: Explainer,
): NonNullable<SetupResult['drift']> {
  const k = normalQuantile((1 + job.decision.coverage) / 2);
  return axes.flatMap((axis) => {
    const index = adjustment.network.find(keyOf.drift(axis, setup));
    if (index === undefined) return [];
    const rate = quantityOf(adjustment, { index: [index], weight: [1] }, explain);
    return [{ axis, rate, significant: rate.value !== null && Math.abs(rate.value) > k * rate.u }];
  });
}

/** Yaw relative to the datum rail's least-squares line. */
function yawOf(
  adjustment: Adjustment,
  setup: string,
  datumSlope: Functional | null,
  explain: Explainer,
): Quantity {
  const index = adjustment.network.find(keyOf.setup('yaw', setup));
  if (index === undefined) return unknown([reason('set-up-no-offsets', { setup })]);
  if (datumSlope === null) return unknown([reason('datum-no-horizontal-line', {})]);
  return quantityOf(
    adjustment,
    {
      index: [index, ...Array.from(datumSlope.index)],
      weight: [1, ...Array.from(datumSlope.weight, (w) => -w)],
    },
    explain,
  );
}
