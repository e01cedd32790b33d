/** What a report calls itself: an acceptance needs a tolerance to be judged against. */
import type { Results } from '../../results/results-schema.js';
import { phasesOf } from './figures.js';
import { english, type Words } from '../words/words.js';

export const hasTolerances = (results: Results): boolean =>
  phasesOf(results).some(({ phase }) => phase.characteristics.some((made) => made.limit !== null));

/**
 * "Acceptance report", or "Measurement report" where the job states no tolerance; "What-if report" where it was
 * judged by a set that is not its own.
 */
export const documentKind = (results: Results, { say }: Words): string => say(`kind.${kindOf(results)}`);

const kindOf = (results: Results) =>
  results.whatIf !== undefined ? 'what-if' : hasTolerances(results) ? 'acceptance' : 'measurement';

/** The title of the page and of the PDF: "Rail alignment acceptance report TH-2031". */
export const documentTitle = (results: Results, { say }: Words = english): string =>
  say(`title.${kindOf(results)}`, { job: results.job });

/** Not issued, and no what-if. */
export const isDraft = ({ issue, whatIf }: Pick<Results, 'issue' | 'whatIf'>): boolean =>
  issue === undefined && whatIf === undefined;

/** The number it was issued under; of a draft the job's. */
export const reportNumber = ({ issue, job }: Pick<Results, 'issue' | 'job'>): string => issue?.number ?? job;
