/**
 * The description of a characteristic, independent of readings: name, unit, sign, rails, tolerances and words. The schema of
 * job.json, the checks of tolerances, the questions of `new`, the report and the register are made from it. The question
 * about a survey is in src/solution/characteristics.
 */
import type { UnitFamily } from '../../base/units/units.js';

export const referenceNames = ['least-squares', 'minimum-zone', 'end-points'] as const;
export type ReferenceName = (typeof referenceNames)[number];

export interface Characteristic<Name extends string = string, Meaning extends string = string> {
  readonly name: Name;
  /** As the report prints it. */
  readonly title: string;
  /** length: value and limit are lengths (µm in results.json); slope: µm/m. */
  readonly family: UnitFamily;
  /** any: every rail; along: rails along; against-datum: rails along except the datum; cross: cross rails. */
  readonly rails: 'any' | 'along' | 'against-datum' | 'cross';
  /** It needs a distance across from the datum, to divide by it or to measure it. */
  readonly needsDistance: boolean;
  /** It is evaluated in windows of the length `over`. */
  readonly local: boolean;
  /** A tolerance may ask it of any stretch of the length `over`. */
  readonly overLength: boolean;
  /** It is only asked by a tolerance, not of every job. */
  readonly onlyByTolerance: boolean;
  /** Reference lines or planes; the first one is used for the verdict unless the tolerance names another. */
  readonly references: readonly ReferenceName[];
  /** It is about the joints of a rail. */
  readonly ofJoints: boolean;
  /** What + means; null: the characteristic has no sign. A signed one may have different limits to its two sides. */
  readonly sign: string | null;
  /** A tolerance may ask it of several rails together. */
  readonly ofGroups: boolean;
  /** The report says to which rail it is relative. */
  readonly relative: boolean;
  /** Characteristics with one meaning share its label and its text, which the words of pages have. */
  readonly meaning: Meaning;
  /**
   * Clause of ISO 230-1:1996 that its kind of test is in; null: that standard has no test of it. The numbers are from memory,
   * of the edition of 1996; later editions number otherwise.
   */
  readonly clause: string | null;
  /** How `new` asks for its tolerance; null: it does not ask. */
  readonly prompt: string | null;
}

type Needed = 'name' | 'title' | 'family' | 'rails' | 'meaning';

/** Makes a characteristic; what is left out is false, null or empty. */
export const characteristic = <const Name extends string, const Meaning extends string>(
  described: Pick<Characteristic<Name, Meaning>, Needed> & Partial<Characteristic<Name, Meaning>>,
): Characteristic<Name, Meaning> => ({
  needsDistance: false,
  local: false,
  overLength: false,
  onlyByTolerance: false,
  references: [],
  ofJoints: false,
  sign: null,
  ofGroups: false,
  relative: false,
  clause: null,
  prompt: null,
  ...described,
});
