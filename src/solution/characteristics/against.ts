/**
 * One rail compared with another, usually the datum rail: parallelism in both planes, height difference, cross-level, twist
 * and span. All use the same two families, the differences at matching stations; twist and cross-level are the differences
 * in height divided by the distance across.
 */
import { distanceAcrossMm, type Rail } from '../../survey/job/job.js';
import { asking } from './asking.js';
import type { LinearFamily } from './linear-family.js';
import { aboutMean, differences, scaled, sideOf, type RailProfile } from './profiles.js';
import { range } from './measures.js';
import type { Question } from './question.js';
import { reason, type Reason } from '../reasons/reason.js';

export interface Pair {
  readonly vertical: RailProfile | null;
  readonly horizontal: RailProfile | null;
}

/** @param other The rail with which it is compared. */
export function againstQuestions(rail: Rail, own: Pair, other: Rail, others: Pair): Question[] {
  return [
    ...inHeight(rail, own.vertical, other, others.vertical),
    ...inOffset(rail, own.horizontal, other, others.horizontal),
  ];
}

function inHeight(rail: Rail, own: RailProfile | null, other: Rail, others: RailProfile | null): Question[] {
  const [parallelism, height, level, twist] = [
    asking('parallelism-vertical', rail.id),
    asking('height-difference', rail.id),
    asking('cross-level', rail.id),
    asking('twist', rail.id),
  ];
  const matched = own && others && differences(own, others);
  if (matched === null) {
    const lacking = notMatched(rail, own, other, others, 'vertical');
    return [parallelism, height, level, twist].map((ask) => ask.none(lacking));
  }
  const familyKey = `height|${rail.id}|${other.id}`;
  // A range does not change with a common constant: it is determined even if no height was carried over.
  const [spread, spreadKey] = [aboutMean(matched), `${familyKey}|about mean`];
  const distance = distanceAcrossMm(rail, other);
  const factor = 1000 / distance;
  const few = tooFew(matched, 'parallelism', rail, other);
  const noDistance = distance > 0 ? null : reason('same-place-across', { rail: rail.id, other: other.id });
  const noTwist = noDistance ?? tooFew(matched, 'twist', rail, other);
  return [
    few ? parallelism.none(few) : parallelism.range(spread, spreadKey, range),
    height.extreme(matched, familyKey),
    noDistance ? level.none(noDistance) : level.extreme(matched, familyKey, factor),
    noTwist ? twist.none(noTwist) : twist.range(spread, spreadKey, range, { factor }),
  ];
}

/** null: enough stations are matched for a range. */
const tooFew = (
  { points }: LinearFamily,
  what: 'parallelism' | 'twist',
  rail: Rail,
  other: Rail,
): Reason | null =>
  points.length >= 2 ? null : reason('two-matching-stations', { what, rail: rail.id, other: other.id });

function inOffset(rail: Rail, own: RailProfile | null, other: Rail, others: RailProfile | null): Question[] {
  const parallelism = asking('parallelism-horizontal', rail.id);
  const span = asking('span', rail.id);
  const matched = own && others && differences(own, others);
  if (matched === null) {
    const lacking = notMatched(rail, own, other, others, 'horizontal');
    return [parallelism, span].map((ask) => ask.none(lacking));
  }
  const few = tooFew(matched, 'parallelism', rail, other);
  return [
    // In the same way the distance across need not be known.
    few
      ? parallelism.none(few)
      : parallelism.range(aboutMean(matched), `offset|${rail.id}|${other.id}`, range),
    span.extreme(scaled(matched, sideOf(rail, other)), `span|${rail.id}|${other.id}`),
  ];
}

function notMatched(
  rail: Rail,
  own: RailProfile | null,
  other: Rail,
  others: RailProfile | null,
  plane: 'vertical' | 'horizontal',
): Reason {
  if (own === null) return reason('rail-unread', { rail: rail.id, plane, isDatum: false });
  if (others === null) return railUnread(other, plane);
  return reason('matching-stations', { rail: rail.id, other: other.id, plane });
}

/** The data of a rail of the job. */
export const railUnread = ({ id, datum }: Rail, plane: 'vertical' | 'horizontal'): Reason =>
  reason('rail-unread', { rail: id, plane, isDatum: datum });
