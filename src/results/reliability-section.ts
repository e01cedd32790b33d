/**
 * What checks each tie of the survey: the smallest error of a monument or of a carried height that would show, and what
 * one of that size does to the characteristics that are judged.
 *
 * @see W. Baarda, A testing procedure for use in geodetic networks, 1968: internal and external reliability.
 */
import type { Question } from '../solution/characteristics/question.js';
import type { Answers } from '../solution/characteristics/answer.js';
import type { Job } from '../survey/job/job.js';
import { dot, type Adjustment } from '../solution/solve/adjustment.js';
import { byRule, decide } from '../solution/verdict/decision-rule.js';
import { NON_CENTRALITY, shownBy, tiesOf } from '../solution/solve/tie-errors.js';
import type { AdjustedPhase } from './adjusted-phase.js';
import { questionFinder } from './question-of.js';
import { middleOf, reachAlong, shifted } from './unstated-section.js';
import type { AdjustmentResult, CharacteristicResult, Determined, Verdict } from './results-schema.js';

type Reliability = NonNullable<AdjustmentResult['reliability']>;

/** Of what nothing checks, effects are told for an error of this size, µm. */
const TOLD_FOR = 10;
const MOST_MOVED = 3;
/** A smaller share of the limit is no effect. */
const NO_EFFECT = 1e-3;
/** No greater error is looked for, µm: it would be seen on the floor. */
const MOST_ERROR = 2000;
/** Verdicts that might turn first are judged anew; of the others the error is surely greater. */
const JUDGED_ANEW = 2;

interface JudgedQuestion {
  readonly c: Determined & { readonly judged: NonNullable<Determined['judged']> };
  readonly question: Question;
  /** In the list of characteristics. */
  readonly index: number;
}

/**
 * Of each tie the least error that would show, and what one just below it would do to the characteristics.
 * @see W. Baarda, A testing procedure for use in geodetic networks, 1968 (internal and external reliability), from memory.
 */
export function reliabilitySection(
  job: Job,
  { adjustment, answers, questions }: Pick<AdjustedPhase, 'adjustment' | 'answers' | 'questions'>,
  characteristics: readonly CharacteristicResult[],
): Pick<AdjustmentResult, 'reliability'> {
  const ties = tiesOf(job, adjustment);
  const questionOf = questionFinder(questions);
  const judged = characteristics.flatMap((c, index): JudgedQuestion[] => {
    const question = c.value === null || c.judged === undefined ? null : questionOf(c);
    return question === null ? [] : [{ c: c as JudgedQuestion['c'], question, index }];
  });
  const reliability = ties.map((tie): Reliability[number] => {
    const { square, response, isSeen } = shownBy(tie, adjustment);
    const shows = isSeen ? (NON_CENTRALITY * adjustment.scale) / Math.sqrt(square) : null;
    const size = shows ?? TOLD_FOR;
    const touched = judged.flatMap((one) => {
      const reachAt = reachAlong(one.question, adjustment, response, middleOf(one.c.zone));
      if (reachAt === null) return [];
      const start = reachAt(0);
      const by = Math.max(...[size, -size].map((s) => Math.abs(reachAt(s) - start)));
      return by < NO_EFFECT * one.c.limit!
        ? []
        : [{ ...one, by, reachBy: (s: number) => reachAt(s) - start }];
    });
    const moves = [...touched]
      .sort((a, b) => b.by / b.c.limit! - a.by / a.c.limit!)
      .slice(0, MOST_MOVED)
      .map(({ c: { what, rail, unit }, by }) => ({ what, rail, by, unit }));
    const turns = isSeen ? null : turnedFirst(touched, job, adjustment, answers, response);
    return { what: tie.what, shows, moves, ...(turns !== null && { turns }) };
  });
  return reliability.length === 0 ? {} : { reliability };
}

/** The verdict that the least error turns; null: none that anybody could make. */
function turnedFirst(
  touched: readonly (JudgedQuestion & { readonly reachBy: (size: number) => number })[],
  job: Job,
  adjustment: Adjustment,
  answers: Answers,
  response: Float64Array,
): Reliability[number]['turns'] | null {
  // Where the interval moves as what is judged does; near enough to say which are worth the judge.
  const roughly = touched.flatMap(({ c, reachBy, ...one }) => {
    const size = leastSize(
      1,
      (s) => decide(shifted(c.judged, reachBy(s)), c.judged.limit, c.rule ?? job.decision.rule) !== c.verdict,
    );
    return size === null ? [] : [{ ...one, c, size }];
  });
  const first = roughly.sort((a, b) => a.size - b.size).slice(0, JUDGED_ANEW);
  const found = first.flatMap(({ c, question, index, size }) => {
    const verdictAt = (s: number): Verdict => verdictWith(c, question, job, adjustment, answers, response, s);
    const exact = leastSize(size / 2, (s) => verdictAt(s) !== c.verdict);
    if (exact === null) return [];
    const to = [exact, -exact].map(verdictAt).find((verdict) => verdict !== c.verdict) ?? c.verdict;
    return [{ size: exact, characteristic: index, to }];
  });
  return found.sort((a, b) => a.size - b.size)[0] ?? null;
}

/** The least size, to either side, at which something turns, to one part in 200; null: up to the greatest error nothing does. */
function leastSize(from: number, turns: (size: number) => boolean): number | null {
  let sides = [1, -1];
  const either = (size: number): boolean => {
    const turning = sides.filter((side) => turns(side * size));
    // A smaller error to a side that does not turn at this size does not turn there either.
    if (turning.length > 0) sides = turning;
    return turning.length > 0;
  };
  let [held, turned] = [0, Math.min(from, MOST_ERROR)];
  while (!either(turned)) {
    if (turned >= MOST_ERROR) return null;
    [held, turned] = [turned, Math.min(MOST_ERROR, 1.6 * turned)];
  }
  while (turned - held > turned / 200) {
    const middle = (held + turned) / 2;
    if (either(middle)) turned = middle;
    else held = middle;
  }
  return turned;
}

/** The verdict of the survey solved with an error of this size; what is known of its errors stays the same. */
function verdictWith(
  { zone, judged, rule }: JudgedQuestion['c'],
  question: Question,
  job: Job,
  adjustment: Adjustment,
  answers: Answers,
  response: Float64Array,
  size: number,
): Verdict {
  const decision = byRule(job.decision, rule);
  const x = adjustment.x.map((v, i) => v + size * response[i]!);
  const then = answers.after({ ...adjustment, x, value: (f) => dot(f, x) });
  return then.verdict(question, judged.limit, zone, decision);
}
