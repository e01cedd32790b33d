/** Remedies for an undecided characteristic, and how much each makes its interval narrower, calculated with the model. */
import type { Job } from '../survey/job/job.js';
import { adjust, type Functional } from '../solution/solve/adjustment.js';
import { noiseIn } from '../solution/solve/noise-in.js';
import { buildNetwork } from '../solution/solve/network.js';
import type { AdjustedPhase } from './adjusted-phase.js';
import { ways } from './remedies.js';
import { remedies, type BudgetSource, type CharacteristicResult, type Remedy } from './results-schema.js';
import { shareToLose } from './settle.js';
import { questionFinder } from './question-of.js';

/** Greatest number of readings of a survey for which remedies are calculated. */
const MOST_READINGS = 5000;
/** Greatest number of listed remedies, and the least effect of a listed one. */
const MOST_TOLD = 3;
const LEAST_TOLD = 0.05;
/** Least share of the variance for which a source has a remedy. */
const SMALL = 0.01;

/** An undecided characteristic that has a value. */
export interface Open {
  readonly made: CharacteristicResult;
  readonly functional: Functional;
  /** Share of its width that the interval must lose. */
  readonly needed: number;
}

/** @returns The characteristics; undecided ones with the best remedies. */
export function withHelps(
  job: Job,
  { adjustment, questions, answers }: AdjustedPhase,
  characteristics: readonly CharacteristicResult[],
): CharacteristicResult[] {
  const { network } = adjustment;
  const readings = network.observations.flatMap((o) => (o.kind === 'prior' ? [] : [o]));
  const open = undecidedOf({ questions, answers }, characteristics);
  if (open.length === 0 || readings.length > MOST_READINGS) return [...characteristics];
  const matters = new Set(
    open.flatMap(({ made }) =>
      Object.entries(made.budget).flatMap(([source, share]) =>
        share > SMALL ? [source as BudgetSource] : [],
      ),
    ),
  );
  const narrower = new Map<Remedy, readonly number[]>();
  for (const way of remedies) {
    const { against, survey } = ways[way];
    if (against !== undefined && !against.some((source) => matters.has(source))) continue;
    const other = survey({ job, readings }, network);
    if (other === null) continue;
    const then = adjust(buildNetwork(other.job, other.readings));
    narrower.set(
      way,
      open.map(
        ({ functional }) =>
          1 - noiseIn(then, adjustment, functional) / noiseIn(adjustment, adjustment, functional),
      ),
    );
  }
  const helpsOf = new Map(
    open.map(({ made, needed }, k) => [
      made,
      {
        needed,
        ways: [...narrower]
          .map(([way, shares]) => ({ way, narrower: shares[k]! }))
          .filter((one) => one.narrower >= LEAST_TOLD)
          .sort((a, b) => b.narrower - a.narrower)
          .slice(0, MOST_TOLD),
      },
    ]),
  );
  return characteristics.map((made) => {
    const helps = helpsOf.get(made);
    return helps === undefined ? made : { ...made, helps };
  });
}

/** The undecided characteristics that have a value, each with the functional that decides it. */
export function undecidedOf(
  { questions, answers }: Pick<AdjustedPhase, 'questions' | 'answers'>,
  characteristics: readonly CharacteristicResult[],
): Open[] {
  const questionOf = questionFinder(questions);
  return characteristics.flatMap((made): Open[] => {
    const question = made.verdict === 'undecided' ? questionOf(made) : null;
    const answered = question === null ? null : answers.answer(question);
    if (question === null || !answered?.ok || made.judged === undefined) return [];
    const { zone, judged } = made;
    const about = zone && answers.inZone(question, zone);
    const { functional } = (about?.ok ? about : answered).answer;
    return [{ made, functional, needed: shareToLose(judged, judged.limit) }];
  });
}
