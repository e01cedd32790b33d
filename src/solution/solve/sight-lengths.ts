/** Distance of each point from its instrument. */
import type { Job } from '../../survey/job/job.js';
import type { OffsetReading } from '../../survey/readings/readings.js';

/** @returns Plan distance from a reading's set-up to its point, m. */
export function sightLengths(job: Job): (r: Pick<OffsetReading, 'setup' | 'point'>) => number {
  const setups = new Map(job.setups.map((s) => [s.id, s]));
  const rails = new Map(job.rails.map((r) => [r.id, r]));
  const monuments = new Map(job.monuments.map((m) => [m.id, m]));
  return ({ setup: id, point }) => {
    const setup = setups.get(id)!;
    const place =
      point.kind === 'station'
        ? rails.get(point.rail)!.stations[point.station - 1]!
        : monuments.get(point.monument)!;
    return Math.hypot(place.alongMm - setup.alongMm, place.acrossMm - setup.acrossMm) / 1000;
  };
}
