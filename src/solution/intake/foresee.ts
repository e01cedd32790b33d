/** Warns early, while readings can still be taken, of what the report would show: no value, or readings that nothing checks. */
import { groupBy } from '../../base/lists.js';
import { undetermined, combine } from '../characteristics/linear-family.js';
import type { Question } from '../characteristics/question.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import type { Job } from '../../survey/job/job.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import { UNCHECKED, type Adjustment } from '../solve/adjustment.js';
import { explainer } from '../solve/explain.js';
import type { Reason } from '../reasons/reason.js';
import { reasonWords } from '../reasons/words.js';

/** Warns: TOLERANCE_WITHOUT_VALUE, CHARACTERISTIC_UNDETERMINED, once per reason; READINGS_UNCHECKED. */
export function foresee(
  job: Job,
  phase: PhaseName,
  adjustment: Adjustment,
  questions: readonly Question[],
): Diagnostic[] {
  const explain = explainer(job, adjustment);
  const reasons = groupBy(questions, (question) => {
    const found = whyNot(question, adjustment, explain);
    return found && reasonWords(found);
  });
  const found = [...reasons].flatMap(([why, questions]): Diagnostic[] => {
    const limited = questions.filter((q) =>
      job.toleranceSet.tolerances.some((t) => t.what === q.what && (t.rail === null || t.rail === q.rail)),
    );
    if (limited.length > 0) {
      const what = [...new Set(limited.map((q) => q.what))].join(', ');
      const rail = [...new Set(limited.map((q) => q.rail))].join(', ');
      return [{ code: 'TOLERANCE_WITHOUT_VALUE', severity: 'warning', data: { what, rail, why } }];
    }
    // The crew knows what was not read at all, and most surveys have no distance across.
    const others = questions.filter((q) => q.kind !== 'none' && q.what !== 'span');
    if (others.length === 0) return [];
    const what = [...new Set(others.map((q) => `${q.what} of rail ${q.rail}`))].join(', ');
    const data = { phase: phaseWords(phase), what, why };
    return [{ code: 'CHARACTERISTIC_UNDETERMINED', severity: 'warning', data }];
  });
  return [...found, ...unchecked(phase, adjustment)];
}

function whyNot(
  question: Question,
  adjustment: Adjustment,
  explain: ReturnType<typeof explainer>,
): readonly Reason[] | null {
  if (question.kind === 'none') return [question.reason];
  if (question.kind === 'linear')
    return adjustment.isDetermined(question.functional) ? null : explain([question.functional]);
  if (question.kind === 'greatest-of')
    return (
      question.parts.map((part) => whyNot(part, adjustment, explain)).find((why) => why !== null) ?? null
    );
  const moving = undetermined(question.family, adjustment).indexOf(true);
  return moving < 0 ? null : explain([combine(question.family, [{ index: moving, weight: 1 }])]);
}

function unchecked(phase: PhaseName, { network, redundancyNumber }: Adjustment): Diagnostic[] {
  const own = network.observations.flatMap((o, i) => (o.kind === 'prior' ? [] : [i]));
  const count = own.filter((i) => redundancyNumber[i]! <= UNCHECKED).length;
  if (count === 0) return [];
  const data = { phase: phaseWords(phase), count, of: own.length };
  return [{ code: 'READINGS_UNCHECKED', severity: 'warning', data }];
}
