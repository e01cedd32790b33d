import type { Job, Place2D } from '../job/job.js';
import type { PointRef } from './readings.js';

/** The nominal place of a station or monument of the job. */
export const placeOfPoint = (
  { rails, monuments }: Pick<Job, 'rails' | 'monuments'>,
  point: PointRef,
): Place2D =>
  point.kind === 'station'
    ? rails.find(({ id }) => id === point.rail)!.stations[point.station - 1]!
    : monuments.find(({ id }) => id === point.monument)!;
