/**
 * What checks each tie of the survey: the smallest error of a monument or of a carried height that would show, and what
 * one of that size does to the characteristics that are judged.
 *
 * @see W. Baarda, A testing procedure for use in geodetic networks, 1968: internal and external reliability.
 */
import type { Question } from '../solution/characteristics/question.js';
import type { Adjustment } from '../solution/solve/adjustment.js';
import { NON_CENTRALITY, shownBy, type Group } from '../solution/solve/group-errors.js';
import { questionFinder } from './question-of.js';
import { changing } from './unstated-section.js';
import type { AdjustmentResult, CharacteristicResult } from './results-schema.js';

type Reliability = NonNullable<AdjustmentResult['reliability']>;

/** Of what nothing checks, effects are told for an error of so much, µm. */
const TOLD_FOR = 10;
const MOST_MOVED = 3;

/**
 * Of each tie the least error that would show, and what one just below it would do to the characteristics.
 * @see W. Baarda, A testing procedure for use in geodetic networks, 1968 (internal and external reliability), from memory.
 */
export function reliabilitySection(
  adjustment: Adjustment,
  patterns: readonly Group[],
  questions: readonly Question[],
  characteristics: readonly CharacteristicResult[],
): Pick<AdjustmentResult, 'reliability'> {
  const ties = patterns.filter(({ kind }) => kind === 'monument' || kind === 'rail');
  const questionOf = questionFinder(questions);
  const judged = characteristics.flatMap((c) => {
    const question = c.limit === null || c.value === null ? null : questionOf(c);
    return question === null ? [] : [{ c, question }];
  });
  const reliability = ties.map((tie): Reliability[number] => {
    const { square, response, isSeen } = shownBy(tie, adjustment);
    const shows = isSeen ? (NON_CENTRALITY * adjustment.scale) / Math.sqrt(square) : null;
    const size = shows ?? TOLD_FOR;
    const moves = judged
      .flatMap(({ c, question }) => {
        const valueAt = changing(question, adjustment, response);
        const by = valueAt === null ? 0 : valueAt(size) - valueAt(0);
        return Math.abs(by) < 1e-3 * c.limit!
          ? []
          : [{ what: c.what, rail: c.rail, by, unit: c.unit, part: Math.abs(by) / c.limit! }];
      })
      .sort((a, b) => b.part - a.part)
      .slice(0, MOST_MOVED)
      .map(({ what, rail, by, unit }) => ({ what, rail, by, unit }));
    return { what: tie.what, shows, moves };
  });
  return reliability.length === 0 ? {} : { reliability };
}
