/**
 * What one rail is against the datum rail: parallelism in both planes, height difference, cross-level, twist and
 * span. All look at the same two families, the differences at matching stations; twist and cross-level are those
 * in height over the distance across.
 */
import { distanceAcrossMm, type Job, type Rail } from '../job/job.js';
import { aboutMean, differences, scaled, sideOfDatum, type RailProfile } from './profiles.js';
import { magnitude, range } from './measures.js';
import type { Question } from './question.js';

export interface Pair {
  readonly vertical: RailProfile | null;
  readonly horizontal: RailProfile | null;
}

export function againstDatumQuestions(job: Job, rail: Rail, own: Pair, datum: Pair): Question[] {
  return [
    ...inHeight(job, rail, own.vertical, datum.vertical),
    ...inOffset(job, rail, own.horizontal, datum.horizontal),
  ];
}

function inHeight(job: Job, rail: Rail, own: RailProfile | null, datum: RailProfile | null): Question[] {
  const distance = distanceAcrossMm(job, rail);
  const parallelism = {
    what: 'parallelism-vertical' as const,
    rail: rail.id,
    unit: 'um' as const,
    signed: false,
  };
  const height = { what: 'height-difference' as const, rail: rail.id, unit: 'um' as const, signed: true };
  const level = { what: 'cross-level' as const, rail: rail.id, unit: 'um/m' as const, signed: true };
  const twist = { what: 'twist' as const, rail: rail.id, unit: 'um/m' as const, signed: false };
  const matched = own === null || datum === null ? null : differences(own, datum);
  const all = [parallelism, height, level, twist];
  if (matched === null) {
    const why = notMatched(job, rail, own, datum, 'vertical');
    return all.map((about) => ({ ...about, kind: 'none', why }));
  }
  const familyKey = `height|${rail.id}`;
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
  const few = `needs two matching stations; rail ${rail.id} and rail ${job.datum.id} have one`;
  const flat = distance > 0;
  const noDistance = `rails ${rail.id} and ${job.datum.id} stand at the same place across`;
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

function inOffset(job: Job, rail: Rail, own: RailProfile | null, datum: RailProfile | null): Question[] {
  const parallelism = {
    what: 'parallelism-horizontal' as const,
    rail: rail.id,
    unit: 'um' as const,
    signed: false,
  };
  const span = { what: 'span' as const, rail: rail.id, unit: 'um' as const, signed: true };
  const matched = own === null || datum === null ? null : differences(own, datum);
  if (matched === null) {
    const why = notMatched(job, rail, own, datum, 'horizontal');
    return [parallelism, span].map((about) => ({ ...about, kind: 'none', why }));
  }
  const familyKey = `offset|${rail.id}`;
  const spanKey = `span|${rail.id}`;
  const spanQuestion: Question = {
    ...span,
    kind: 'signed-extreme',
    family: scaled(matched, sideOfDatum(job, rail)),
    measure: magnitude,
    familyKey: spanKey,
    key: `${spanKey}|magnitude`,
    factor: 1,
  };
  if (matched.points.length < 2) {
    const why = `parallelism needs two matching stations; rail ${rail.id} and rail ${job.datum.id} have one`;
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
  job: Job,
  rail: Rail,
  own: RailProfile | null,
  datum: RailProfile | null,
  plane: string,
): string {
  if (own === null) return `rail ${rail.id} was not read in the ${plane} plane`;
  if (datum === null) return `the datum rail ${job.datum.id} was not read in the ${plane} plane`;
  return `no station of rail ${rail.id} read in the ${plane} plane lies between read stations of rail ${job.datum.id}`;
}
