/** Slope of a rail's least-squares line against gravity; + rises with along. */
import { asking } from './asking.js';
import { slopeOf, type RailProfile } from './profiles.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';

/** @param heights Heights of the rail; null: not read. */
export function levelAlongQuestion(rail: string, heights: RailProfile | null): Question {
  const ask = asking('level-along', rail);
  const slope = heights && slopeOf(heights);
  return slope === null ? ask.none(reason('slope-stations', { rail })) : ask.linear(slope);
}
