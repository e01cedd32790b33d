/** An adjusted phase: the common input of its results, the plan of corrections and the trace of a figure. */
import { Answers } from '../solution/characteristics/answer.js';
import { askAll } from '../solution/characteristics/ask.js';
import type { Question } from '../solution/characteristics/question.js';
import type { PhaseName } from '../survey/job/job-schema.js';
import type { Job } from '../survey/job/job.js';
import type { Reading, Readings } from '../survey/readings/readings.js';
import { adjust, type Adjustment } from '../solution/solve/adjustment.js';
import { buildNetwork } from '../solution/solve/network.js';

export interface AdjustedPhase {
  readonly adjustment: Adjustment;
  readonly questions: readonly Question[];
  /** Simulated surveys are drawn once and shared. */
  readonly answers: Answers;
}

/** Solves the readings of one phase, and lists all its questions. */
export function adjustPhase(
  job: Job,
  readings: readonly Reading[],
  adjustment: Adjustment = adjust(buildNetwork(job, readings)),
): AdjustedPhase {
  return {
    adjustment,
    questions: askAll(job, adjustment.network),
    answers: new Answers(adjustment, job.decision.coverage),
  };
}

/** Every phase with readings, in the order of the survey. @param solved Phases that are solved already. */
export const adjustPhases = (
  job: Job,
  { phases }: Readings,
  solved?: ReadonlyMap<PhaseName, Adjustment>,
): ReadonlyMap<PhaseName, AdjustedPhase> =>
  new Map(
    [...phases].flatMap(([name, list]) =>
      list.length === 0 ? [] : [[name, adjustPhase(job, list, solved?.get(name))]],
    ),
  );
