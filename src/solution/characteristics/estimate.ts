/** Value and standard uncertainty of a question near the solution, without an interval: no survey is simulated. */
import { applyFamily, combine, undetermined } from './linear-family.js';
import type { Question } from './question.js';
import type { Adjustment, Functional } from '../solve/adjustment.js';

export interface Estimate {
  /** In the characteristic's unit. */
  readonly value: number;
  /** Standard uncertainty by the law of propagation, same unit. @see JCGM 100:2008, 5.1.2 */
  readonly u: number;
  /** The value as a functional of the unknowns near the solution, in the characteristic's unit. */
  readonly functional: Functional;
}

/** null: the readings do not determine it. */
export function estimateOf(question: Question, adjustment: Adjustment): Estimate | null {
  if (question.kind === 'none') return null;
  if (question.kind === 'linear') {
    const { functional } = question;
    if (!adjustment.isDetermined(functional)) return null;
    return { value: adjustment.value(functional), u: adjustment.standardUncertainty(functional), functional };
  }
  if (question.kind === 'greatest-of') {
    const parts = question.parts.map((part) => estimateOf(part, adjustment));
    if (parts.length === 0 || parts.some((part) => part === null)) return null;
    return parts.reduce((a, b) => (Math.abs(b!.value) > Math.abs(a!.value) ? b : a));
  }
  const { family, measure, factor } = question;
  if (undetermined(family, adjustment).some((moves) => moves)) return null;
  const { value, gradient } = measure.explain(applyFamily(family, adjustment.x));
  const functional = combine(
    family,
    gradient.map(({ index, weight }) => ({ index, weight: weight * factor })),
  );
  return { value: value * factor, u: adjustment.standardUncertainty(functional), functional };
}
