/** Height of a rail's last station over its first; + rises with along. */
import { reason } from '../reasons/reason.js';
import type { RailProfile } from './profiles.js';
import type { Question } from './question.js';

/** @param heights Heights of the rail; null: not read. */
export function riseQuestion(rail: string, heights: RailProfile | null): Question {
  const about = { what: 'rise' as const, rail, unit: 'um' as const, signed: true };
  const [first, last] = [heights?.unknown[0], heights?.unknown.at(-1)];
  if (first === undefined || last === undefined || first === last)
    return { ...about, kind: 'none', reason: reason('slope-stations', { rail }) };
  return { ...about, kind: 'linear', functional: { index: [first, last], weight: [-1, 1] } };
}
