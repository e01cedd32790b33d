/** Slope of a rail's least-squares line against gravity; + rises with along, that of a cross rail with across. */
import type { Rail } from '../../survey/job/job.js';
import { asking } from './asking.js';
import { slopeOf, type RailProfile } from './profiles.js';
import { slopesWithin } from './rate-of-change.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';

const nameOf = ({ direction }: Rail) => (direction === 'along' ? 'level-along' : 'level-across');

/** The slope of greatest magnitude of any stretch of at most this length against gravity. */
export function levelOverQuestion(rail: Rail, heights: RailProfile | null, overMm: number): Question {
  const { id } = rail;
  const ask = asking(nameOf(rail), id, { over: overMm });
  if (heights === null) return ask.none(reason('slope-stations', { rail: id }));
  const family = slopesWithin(heights, overMm);
  return family === null
    ? ask.none(reason('rate-apart', { rail: id, overMm }))
    : ask.extreme(family, `level over|${id}|${overMm}`);
}

/** @param heights Heights of the rail; null: not read. */
export function levelQuestion(rail: Rail, heights: RailProfile | null): Question {
  const ask = asking(nameOf(rail), rail.id);
  const slope = heights && slopeOf(heights);
  return slope === null ? ask.none(reason('slope-stations', { rail: rail.id })) : ask.linear(slope);
}
