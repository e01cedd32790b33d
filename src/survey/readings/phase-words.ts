import type { PhaseName } from '../job/job-schema.js';

/** As people say it: "as found", "after first round". */
export const phaseWords = (name: PhaseName): string => name.replaceAll('-', ' ');
