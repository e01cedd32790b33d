/** Answers judged against the tolerances in force. */
import type { Answers } from '../characteristics/answer.js';
import type { FamilyPoint } from '../characteristics/linear-family.js';
import type { Question } from '../characteristics/question.js';
import { distanceAcrossMm, railLengthMm, type Job, type Tolerance } from '../job/job.js';
import type { Adjustment } from '../solve/adjustment.js';
import { budgetOf } from '../solve/roles.js';
import { decide } from '../verdict/decision-rule.js';
import type { Explain } from './quantity.js';
import type { BudgetSource, CharacteristicResult, Verdict } from './results-schema.js';
import { settleSentence } from './settle.js';

export function characteristicsSection(
  job: Job,
  adjustment: Adjustment,
  questions: readonly Question[],
  answers: Answers,
  sources: readonly BudgetSource[],
  explain: Explain,
): CharacteristicResult[] {
  return questions.flatMap((question): CharacteristicResult[] => {
    const about = {
      what: question.what,
      rail: question.rail,
      ...(question.reference !== undefined && { reference: question.reference }),
      ...(question.overMm !== undefined && { over: question.overMm }),
      unit: question.unit,
      signed: question.signed,
    };
    const answered = answers.answer(question);
    const tolerances = job.toleranceSet.tolerances.filter(
      (t) => applies(t, question) && !isOfAllRails(t, job),
    );
    const judged: (Tolerance | null)[] = tolerances.length > 0 ? tolerances : [null];
    if (!answered.ok) {
      const why = answered.why ?? explain(answered.moved);
      return judged.map((tolerance) => ({
        ...about,
        value: null,
        why,
        interval: null,
        u: null,
        ...limitOf(job, question, tolerance),
        verdict: tolerance === null ? 'reported' : 'undecided',
        probability: null,
        at: [],
        budget: {},
      }));
    }
    const { answer } = answered;
    const budget = budgetOf(adjustment, sources, answer.functional);
    return judged.map((tolerance): CharacteristicResult => {
      const { limit, limitLength } = limitOf(job, question, tolerance);
      const verdict: Verdict =
        limit === null
          ? 'reported'
          : decide(answer.value, answer.interval, limit, job.decision.rule, question.signed);
      const interval: [number, number] = [answer.interval[0], answer.interval[1]];
      return {
        ...about,
        value: answer.value,
        interval,
        u: answer.u,
        limit,
        limitLength,
        verdict,
        probability: limit === null ? null : answer.probabilityAtMost(limit),
        at: answer.at.map(({ rail, station }: FamilyPoint) => ({ rail, station })),
        budget,
        ...(verdict === 'undecided' &&
          limit !== null && {
            settle: settleSentence(answer.value, interval, limit, budget, adjustment.scale),
          }),
      };
    });
  });
}

/** All rails in one plane: more than two are not evaluated, and a pair is not judged in their place. */
const isOfAllRails = (t: Tolerance, job: Job): boolean =>
  t.what === 'coplanarity' &&
  t.rail === null &&
  job.rails.filter(({ direction }) => direction === 'along').length > 2;

/** A tolerance without a reference speaks of the least-squares line or plane. */
function applies(t: Tolerance, q: Question): boolean {
  if (t.what !== q.what || (t.rail !== null && t.rail !== q.rail)) return false;
  if (q.reference !== undefined && (t.reference ?? 'least-squares') !== q.reference) return false;
  return q.overMm === undefined || t.overMm === q.overMm;
}

/**
 * A limit that grows with length is taken at the length measured: the window of a local characteristic, the
 * distance across of a span, else the rail from its first to its last station.
 */
function limitOf(
  job: Job,
  q: Question,
  t: Tolerance | null,
): { limit: number | null; limitLength: number | null } {
  if (t === null) return { limit: null, limitLength: null };
  const rail = job.rails.find((r) => r.id === q.rail)!;
  const length = q.overMm ?? (q.what === 'span' ? distanceAcrossMm(job, rail) : railLengthMm(rail));
  return { limit: t.limitAt(length), limitLength: t.grows ? length : null };
}

const severity: Record<Verdict, number> = { 'does-not-conform': 3, undecided: 2, conforms: 1, reported: 0 };

/** The worst of a phase's verdicts. */
export const worstVerdict = (list: readonly { verdict: Verdict }[]): Verdict =>
  list.reduce<Verdict>(
    (worst, { verdict }) => (severity[verdict] > severity[worst] ? verdict : worst),
    'reported',
  );
