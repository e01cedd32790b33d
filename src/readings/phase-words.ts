import type { PhaseName } from '../job/job-schema.js';

/** As people say it. */
export const phaseWords: Readonly<Record<PhaseName, string>> = {
  'as-found': 'as found',
  'as-left': 'as left',
};
