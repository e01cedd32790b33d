/** Slope of a rail's least-squares line against gravity; + rises with along. */
import { slopeOf, type RailProfile } from './profiles.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';

/** @param heights Heights of the rail; null: not read. */
export function levelAlongQuestion(rail: string, heights: RailProfile | null): Question {
  const about = { what: 'level-along' as const, rail, unit: 'um/m' as const, signed: true };
  const functional = heights === null ? null : slopeOf(heights);
  if (functional === null) {
    return {
      ...about,
      kind: 'none',
      reason: reason('slope-stations', { rail }),
    };
  }
  return { ...about, kind: 'linear', functional };
}
