/** Slope of a rail's least-squares line against gravity; + rises with along. */
import { asking } from './asking.js';
import { slopeOf, type RailProfile } from './profiles.js';
import { slopesWithin } from './rate-of-change.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';

/** The slope of greatest magnitude of any stretch of at most this length against gravity. */
export function levelOverQuestion(rail: string, heights: RailProfile | null, overMm: number): Question {
  const ask = asking('level-along', rail, { over: overMm });
  if (heights === null) return ask.none(reason('slope-stations', { rail }));
  const family = slopesWithin(heights, overMm);
  return family === null
    ? ask.none(reason('rate-apart', { rail, overMm }))
    : ask.extreme(family, `level over|${rail}|${overMm}`);
}

/** @param heights Heights of the rail; null: not read. */
export function levelAlongQuestion(rail: string, heights: RailProfile | null): Question {
  const ask = asking('level-along', rail);
  const slope = heights && slopeOf(heights);
  return slope === null ? ask.none(reason('slope-stations', { rail })) : ask.linear(slope);
}
