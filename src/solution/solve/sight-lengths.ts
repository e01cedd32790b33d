/** Distance of each point from its instrument. */
import type { Job } from '../../survey/job/job.js';
import { placeOfPoint } from '../../survey/readings/place-of-point.js';
import type { OffsetReading } from '../../survey/readings/readings.js';

/** @returns Plan distance from a reading's set-up to its point, m. */
export function sightLengths(job: Job): (r: Pick<OffsetReading, 'setup' | 'point'>) => number {
  const setups = new Map(job.setups.map((s) => [s.id, s]));
  return ({ setup: id, point }) => {
    const [setup, place] = [setups.get(id)!, placeOfPoint(job, point)];
    return Math.hypot(place.alongMm - setup.alongMm, place.acrossMm - setup.acrossMm) / 1000;
  };
}
