/**
 * One rail compared with another, usually the datum rail: parallelism in both planes, height difference, cross-level, twist
 * and span. All use the same two families, the differences at matching stations; twist and cross-level are the differences
 * in height divided by the distance across.
 */
import { distanceAcrossMm, type Rail } from '../../survey/job/job.js';
import { aboutMean, differences, scaled, sideOf, type RailProfile } from './profiles.js';
import { magnitude, range } from './measures.js';
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
  const distance = distanceAcrossMm(rail, other);
  const parallelism = {
    what: 'parallelism-vertical' as const,
    rail: rail.id,
    unit: 'um' as const,
    signed: false,
  };
  const height = { what: 'height-difference' as const, rail: rail.id, unit: 'um' as const, signed: true };
  const level = { what: 'cross-level' as const, rail: rail.id, unit: 'um/m' as const, signed: true };
  const twist = { what: 'twist' as const, rail: rail.id, unit: 'um/m' as const, signed: false };
  const matched = own === null || others === null ? null : differences(own, others);
  const all = [parallelism, height, level, twist];
  if (matched === null) {
    const lacking = notMatched(rail, own, other, others, 'vertical');
    return all.map((about) => ({ ...about, kind: 'none', reason: lacking }));
  }
  const familyKey = `height|${rail.id}|${other.id}`;
  const perMetre = 1000 / distance;
  const extreme = {
    kind: 'signed-extreme' as const,
    family: matched,
    measure: magnitude,
    familyKey,
    key: `${familyKey}|magnitude`,
  };
  // A range does not change with a common constant: it is determined even if no height was carried over.
  const spreadKey = `${familyKey}|about mean`;
  const spread = {
    kind: 'range' as const,
    family: aboutMean(matched),
    measure: range,
    familyKey: spreadKey,
    key: `${spreadKey}|range`,
  };
  const two = matched.points.length >= 2;
  const few = (what: 'parallelism' | 'twist') =>
    reason('two-matching-stations', { what, rail: rail.id, other: other.id });
  const flat = distance > 0;
  const noDistance = reason('same-place-across', { rail: rail.id, other: other.id });
  return [
    two
      ? { ...parallelism, ...spread, factor: 1 }
      : { ...parallelism, kind: 'none', reason: few('parallelism') },
    { ...height, ...extreme, factor: 1 },
    flat ? { ...level, ...extreme, factor: perMetre } : { ...level, kind: 'none', reason: noDistance },
    !flat
      ? { ...twist, kind: 'none', reason: noDistance }
      : two
        ? { ...twist, ...spread, factor: perMetre }
        : { ...twist, kind: 'none', reason: few('twist') },
  ];
}

function inOffset(rail: Rail, own: RailProfile | null, other: Rail, others: RailProfile | null): Question[] {
  const parallelism = {
    what: 'parallelism-horizontal' as const,
    rail: rail.id,
    unit: 'um' as const,
    signed: false,
  };
  const span = { what: 'span' as const, rail: rail.id, unit: 'um' as const, signed: true };
  const matched = own === null || others === null ? null : differences(own, others);
  if (matched === null) {
    const lacking = notMatched(rail, own, other, others, 'horizontal');
    return [parallelism, span].map((about) => ({ ...about, kind: 'none', reason: lacking }));
  }
  const familyKey = `offset|${rail.id}|${other.id}`;
  const spanKey = `span|${rail.id}|${other.id}`;
  const spanQuestion: Question = {
    ...span,
    kind: 'signed-extreme',
    family: scaled(matched, sideOf(rail, other)),
    measure: magnitude,
    familyKey: spanKey,
    key: `${spanKey}|magnitude`,
    factor: 1,
  };
  if (matched.points.length < 2) {
    const few = reason('two-matching-stations', { what: 'parallelism', rail: rail.id, other: other.id });
    return [{ ...parallelism, kind: 'none', reason: few }, spanQuestion];
  }
  // In the same way the distance across need not be known.
  const family = aboutMean(matched);
  return [
    {
      ...parallelism,
      kind: 'range',
      family,
      measure: range,
      familyKey,
      key: `${familyKey}|range`,
      factor: 1,
    },
    spanQuestion,
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
