/**
 * Reliability of the ties of the survey: the smallest detectable error of a monument or of a carried height, and the effect
 * of an undetected error on the judged characteristics.
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

/** Size of the error for which effects are given if nothing checks a tie, µm. */
const TOLD_FOR = 10;
const MOST_MOVED = 3;
/** Least effect that is listed, as a share of the limit. */
const NO_EFFECT = 1e-3;
/** Greatest error that is searched, µm: a greater one would be seen by eye. */
const MOST_ERROR = 2000;
/** Number of verdicts that are judged again: those that can change first. For the others the error is certainly greater. */
const JUDGED_ANEW = 2;

interface JudgedQuestion {
  readonly c: Determined & { readonly judged: NonNullable<Determined['judged']> };
  readonly question: Question;
  /** Index in the list of characteristics. */
  readonly index: number;
}

/**
 * For each tie the least detectable error, and the effect of an error just below it on the characteristics.
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

/** The verdict that changes with the smallest error; null: no error up to the greatest changes one. */
function turnedFirst(
  touched: readonly (JudgedQuestion & { readonly reachBy: (size: number) => number })[],
  job: Job,
  adjustment: Adjustment,
  answers: Answers,
  response: Float64Array,
): Reliability[number]['turns'] | null {
  // Approximation: the interval moves with the judged value. It only selects the verdicts that are judged again.
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

/** The smallest error of either sign that changes a verdict, to one part in 200; null: none up to the greatest error. */
function leastSize(from: number, turns: (size: number) => boolean): number | null {
  let sides = [1, -1];
  const either = (size: number): boolean => {
    const turning = sides.filter((side) => turns(side * size));
    // If an error of this size and sign does not change the verdict, a smaller one of the same sign does not either.
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

/** The verdict after a solution with an error of this size, with the same uncertainties. */
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
