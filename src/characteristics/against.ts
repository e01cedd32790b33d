/**
 * What one rail is against another, the datum rail as a rule: parallelism in both planes, height difference, cross-level, twist and
 * span. All look at the same two families, the differences at matching stations; twist and cross-level are those
 * in height over the distance across.
 */
import { distanceAcrossMm, type Rail } from '../job/job.js';
import { aboutMean, differences, scaled, sideOf, type RailProfile } from './profiles.js';
import { magnitude, range } from './measures.js';
import type { Question } from './question.js';

export interface Pair {
  readonly vertical: RailProfile | null;
  readonly horizontal: RailProfile | null;
}

/** @param other The rail that it is held against. */
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
    const why = notMatched(rail, own, other, others, 'vertical');
    return all.map((about) => ({ ...about, kind: 'none', why }));
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
  // A range does not see a common constant: it is there even where no height was carried over.
  const spreadKey = `${familyKey}|about mean`;
  const spread = {
    kind: 'range' as const,
    family: aboutMean(matched),
    measure: range,
    familyKey: spreadKey,
    key: `${spreadKey}|range`,
  };
  const two = matched.points.length >= 2;
  const few = `needs two matching stations; rail ${rail.id} and rail ${other.id} have one`;
  const flat = distance > 0;
  const noDistance = `rails ${rail.id} and ${other.id} stand at the same place across`;
  return [
    two
      ? { ...parallelism, ...spread, factor: 1 }
      : { ...parallelism, kind: 'none', why: `parallelism ${few}` },
    { ...height, ...extreme, factor: 1 },
    flat ? { ...level, ...extreme, factor: perMetre } : { ...level, kind: 'none', why: noDistance },
    !flat
      ? { ...twist, kind: 'none', why: noDistance }
      : two
        ? { ...twist, ...spread, factor: perMetre }
        : { ...twist, kind: 'none', why: `twist ${few}` },
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
    const why = notMatched(rail, own, other, others, 'horizontal');
    return [parallelism, span].map((about) => ({ ...about, kind: 'none', why }));
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
    const why = `parallelism needs two matching stations; rail ${rail.id} and rail ${other.id} have one`;
    return [{ ...parallelism, kind: 'none', why }, spanQuestion];
  }
  // Likewise the distance across need not be known.
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
  plane: string,
): string {
  if (own === null) return `rail ${rail.id} was not read in the ${plane} plane`;
  if (others === null)
    return `${other.datum ? 'the datum rail' : 'rail'} ${other.id} was not read in the ${plane} plane`;
  return `no station of rail ${rail.id} read in the ${plane} plane lies between read stations of rail ${other.id}`;
}
