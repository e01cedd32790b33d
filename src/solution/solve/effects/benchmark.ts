/** A monument whose height is stated: heights are known from it, up to the error of that statement. */
import type { Estimate, Job } from '../../../survey/job/job.js';
import type { OffsetReading } from '../../../survey/readings/readings.js';
import { effect } from './effect.js';

/** The stated height of what the reading is of, µm; null: it is not a height of a benchmark. */
export const benchmarkHeight = ({ monuments }: Job, { axis, point }: OffsetReading): Estimate | null =>
  axis === 'vertical' && point.kind === 'monument'
    ? (monuments.find(({ id }) => id === point.monument)?.heightUm ?? null)
    : null;

/** In place of the unknown height of the monument. */
export const benchmark = effect({
  name: 'benchmark',
  source: 'benchmarks',
  unit: 'um',
  inPhase: (job) => ({
    offset: ({ reading, sign }) => {
      const height = benchmarkHeight(job, reading);
      if (height === null || reading.point.kind !== 'monument') return null;
      const { monument } = reading.point;
      return {
        key: `benchmark\u0000${monument}`,
        perUnit: sign,
        of: `height of ${monument}`,
        u: height.u,
        correctedUm: sign * height.value,
      };
    },
  }),
});
