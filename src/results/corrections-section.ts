/** Physical corrections that were applied, and temperature as a caution. */
import { railLengthMm, type Job } from '../survey/job/job.js';
import { thermalBowUm } from '../solution/solve/corrections.js';
import type { Results } from './results-schema.js';

/** Corrections of the readings before the solution. */
export const correctionsSection = (job: Job): Results['corrections'] => ({
  earthCurvature: job.corrections.earthCurvature,
  spanAt20: job.corrections.spanAt20,
  thermalBow: job.rails.flatMap((rail) => {
    if (rail.thermal === null) return [];
    const { expansion, topWarmerByK, heightMm } = rail.thermal;
    return [
      {
        rail: rail.id,
        topWarmerByK,
        bowUm: thermalBowUm(expansion, topWarmerByK, railLengthMm(rail), heightMm),
      },
    ];
  }),
});
