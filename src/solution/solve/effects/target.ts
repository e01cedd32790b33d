/** Effects of a target assembly: its scale, its roll, and its seating where it is placed. */
import type { Axis } from '../../../survey/job/job.js';
import type { OffsetReading, Reading } from '../../../survey/readings/readings.js';
import { effect } from './effect.js';

export const scale = effect({
  name: 'scale',
  source: 'target-scale',
  unit: '%',
  joins: false,
  isOfReadings: true,
  isOwnNoise: true,
  inPhase: () => ({
    offset: ({ reading, target }) =>
      target === null || target.scaleU === null
        ? null
        : {
            key: `scale\u0000${target.id}`,
            perUnit: reading.um / 100,
            of: `scale of ${target.id}`,
            u: 100 * target.scaleU,
          },
  }),
});

/** A rolled target reads a part of the offset in the other plane. */
export const targetRoll = effect({
  name: 'target-roll',
  source: 'target-roll',
  unit: 'mrad',
  joins: false,
  isOfReadings: true,
  isOwnNoise: true,
  inPhase: (job, readings) => {
    if (!(job.targets ?? []).some(({ rollU }) => rollU !== null)) return {};
    const otherPlane = crosswise(readings);
    return {
      offset: ({ reading, setup, target }) => {
        const { axis } = reading;
        if (target === null || target.rollU === null || axis === 'along') return null;
        const plane = axis === 'vertical' ? 'horizontal' : 'vertical';
        const other = otherPlane.get(rowKey(reading, plane)) ?? otherPlane.get(lookKey(reading, plane));
        if (other === undefined) return null;
        const both = setup.sign.vertical * setup.sign.horizontal;
        return {
          key: `target-roll\u0000${target.id}`,
          perUnit: ((axis === 'vertical' ? 1 : -1) * both * other) / 1000,
          of: `roll of ${target.id}`,
          u: target.rollU / 1000,
        };
      },
    };
  },
});

/** Readings of one placing share its seating. The seating of a reading without such a partner is part of its noise. */
export const seating = effect({
  name: 'seating',
  source: 'seating',
  unit: 'um',
  isListed: false,
  isInRepeats: true,
  inPhase: (_, readings) => {
    const shared = sharedPlacings(readings);
    const placingOf = (r: OffsetReading) => (shared.has(placingKey(r)) ? (r.placing ?? null) : null);
    return {
      offset: ({ reading, target, sign, place }) => {
        const placing = placingOf(reading);
        if (target === null || target.seatU === null || placing === null) return null;
        const { axis } = reading;
        return {
          key: `seat-${axis}\u0000${target.id}\u0000${placing}`,
          perUnit: sign,
          of: `seating ${placing} of ${target.id}, ${axis}`,
          u: target.seatU,
          place,
        };
      },
      ownUm: ({ reading, target }) => (placingOf(reading) === null ? (target?.seatU ?? 0) : 0),
    };
  },
});

/** Key of readings of both planes that belong together: of one row, or else of one reading of a target. */
const rowKey = ({ source }: OffsetReading, axis: Axis): string =>
  JSON.stringify([source.file, source.row, axis]);
const lookKey = ({ setup, point, target, pass }: OffsetReading, axis: Axis): string =>
  JSON.stringify([setup, point, target, pass, axis]);

/** Readings of the other plane by row, and by target: the mean of all its rows, µm. */
function crosswise(readings: readonly Reading[]): Map<string, number> {
  const sums = new Map<string, { sum: number; count: number }>();
  for (const r of readings) {
    if (r.kind !== 'offset') continue;
    for (const key of [rowKey(r, r.axis), lookKey(r, r.axis)]) {
      const known = sums.get(key) ?? { sum: 0, count: 0 };
      sums.set(key, { sum: known.sum + r.um, count: known.count + 1 });
    }
  }
  return new Map([...sums].map(([key, { sum, count }]) => [key, sum / count]));
}

const placingKey = ({ axis, target, placing }: OffsetReading): string =>
  JSON.stringify([axis, target, placing]);

/** Placings with more than one reading in one axis. */
function sharedPlacings(readings: readonly Reading[]): Set<string> {
  const [once, more] = [new Set<string>(), new Set<string>()];
  for (const r of readings) {
    if (r.kind !== 'offset' || (r.placing ?? null) === null) continue;
    const key = placingKey(r);
    (once.has(key) ? more : once).add(key);
  }
  return more;
}
