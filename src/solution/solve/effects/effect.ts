/**
 * An effect that several readings share (of a set-up, an instrument, a target, a rail, the spans), so that repeated readings do
 * not average it. If the job states it, it is an unknown of the model with a prior.
 *
 * To add an effect, add its description in a file here and its line in effects.ts. Its stated value is a key of job.json, and
 * its words on pages are `doc.kind-NAME` of the catalogue.
 */
import type { Instrument, Job, Rail, Setup, Target } from '../../../survey/job/job.js';
import type { OffsetReading, Reading, SpanReading } from '../../../survey/readings/readings.js';
import type { BudgetSource } from '../budget-sources.js';

/** The object of a prior: a set-up, an instrument, else in words. */
export interface PriorObject {
  /** pitch or roll of a set-up; squareness of an instrument; drift of a plane of a set-up; else the object in words. */
  readonly of: string;
  readonly setup: string | null;
  /** '': no instrument. */
  readonly instrument: string;
}

/** The part of one effect in one reading. */
export interface Part {
  /** Key of the unknown: `KIND\0OBJECT…`, the same for any order of the rows. */
  readonly key: string;
  /** Change of the reading, as read (µm, or µm/m for a prior of a level), per unit of the effect. */
  readonly perUnit: number;
  /** The object of the prior, in words: 'scale of T1'. */
  readonly of: string;
  readonly setup?: string;
  readonly instrument?: string;
  /** Standard uncertainty of the stated value, unit of the effect. */
  readonly u: number;
  /** Place of an effect that belongs to one place along the rails, m. */
  readonly place?: { readonly alongM: number; readonly acrossM: number };
  /** Change of the reading by the stated value, which is subtracted from it, µm. */
  readonly correctedUm?: number;
}

/** A reading from a set-up, and what it was read with. */
export interface OffsetRow {
  readonly reading: OffsetReading;
  readonly setup: Setup;
  readonly instrument: Instrument;
  /** Sign of `plus` in the axis of the reading. */
  readonly sign: 1 | -1;
  /** Distance in plan, m. */
  readonly distanceM: number;
  /** Place of the point, m. */
  readonly place: { readonly alongM: number; readonly acrossM: number };
  /** The rail of a station; null: a monument. */
  readonly rail: Rail | null;
  /** null: the job does not declare the target. */
  readonly target: Target | null;
}

/** The effect in the rows of one phase. null: not in this row. */
export interface EffectInPhase {
  readonly offset?: (row: OffsetRow) => Part | null;
  readonly span?: (reading: SpanReading) => Part | null;
  /** In the prior that a levelled set-up has no pitch or roll. */
  readonly level?: (of: 'pitch' | 'roll', setup: Setup, instrument: Instrument) => readonly Part[];
  /** Standard uncertainty by the effect of a reading that shares it with no other reading, µm: a part of its own noise. */
  readonly ownUm?: (row: OffsetRow) => number;
}

export interface EffectDescription<Name extends string = string> {
  readonly name: Name;
  readonly source: BudgetSource;
  /** Its prior in words, as a crew would name it. */
  readonly words: (prior: PriorObject) => string;
  readonly unit: 'K/m' | 'um/m' | '%' | 'mrad' | 'um' | 'K';
  /** false: there is one per placing or station, too many to list; they are in the budget. */
  readonly isListed: boolean;
  /** true: readings at different places that share it are tied to each other by it. */
  readonly joins: boolean;
  /** true: readings are its coefficients, so another value of a reading changes the equations. */
  readonly isOfReadings: boolean;
  /** true: if few readings determine it, they contradict the prior only by their own noise. */
  readonly isOwnNoise: boolean;
  /** true: repeated readings differ by it, so their scatter is more than noise. */
  readonly isInRepeats: boolean;
  /** @param readings All used readings of the phase. */
  readonly inPhase: (job: Job, readings: readonly Reading[]) => EffectInPhase;
}

/** The usual description: an effect that is listed, and that joins readings. */
export const effect = <const Name extends string>(
  facts: Pick<EffectDescription<Name>, 'name' | 'source' | 'unit' | 'inPhase'> &
    Partial<EffectDescription<Name>>,
): EffectDescription<Name> => ({
  words: ({ of }) => `the ${of} as stated`,
  isListed: true,
  joins: true,
  isOfReadings: false,
  isOwnNoise: false,
  isInRepeats: false,
  ...facts,
});
