/** Which tolerance judges which characteristic. */
import type { Tolerance } from '../../survey/job/job.js';
import type { Question } from './question.js';
import { conditionsOf } from './tolerance-questions.js';

/** A tolerance without a reference is for the least-squares line or plane. */
export function applies(t: Tolerance, q: Question): boolean {
  if (t.what !== q.what) return false;
  if ((t.rails ?? []).join('\u0000') !== (q.rails ?? []).join('\u0000')) return false;
  if (t.rails === null && t.rail !== null && t.rail !== q.rail) return false;
  const asked = conditionsOf(t);
  if (asked.against !== q.against || asked.side !== q.side) return false;
  if (asked.between?.join() !== q.between?.join()) return false;
  // A side is always measured from the line through the ends.
  if (q.side === undefined && q.reference !== undefined && (t.reference ?? 'least-squares') !== q.reference)
    return false;
  return (t.overMm ?? undefined) === q.over;
}
