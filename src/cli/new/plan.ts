/** What is planned: what is known of a survey before anyone has been at the machine. */
import type { CharacteristicName, PhaseName } from '../../survey/job/job-schema.js';
import type { Language } from '../../survey/job/languages.js';
import type { Estimate } from '../../survey/job/job.js';
import type { LengthUnit, SlopeUnit } from '../../base/units/units.js';

export type Quantity<U extends string> = { readonly value: number; readonly unit: U };

export interface Plan {
  readonly id: string;
  readonly title: string | null;
  readonly customer: string | null;
  readonly site: string | null;
  readonly machine: string | null;
  /** Who surveys, and when (ISO date). */
  readonly by: string | null;
  readonly on: string | null;
  /** Nominal places; readings are then in µm or in thou. */
  readonly units: 'mm' | 'in';
  /** Number of rails, side by side, with the same stations; the first is the datum. */
  readonly rails: number;
  /** Along, increasing, in `units`; the same on every rail. */
  readonly stations: readonly number[];
  /** Of each rail, ascending from 0, in `units`. */
  readonly across: readonly number[];
  /**
   * one: all rails in one shot from the middle. two: one set-up reads the datum rail, another the rest, and
   * two monuments carry the direction over, one target on the datum rail the height.
   */
  readonly setups: 'one' | 'two';
  readonly passes: number;
  readonly phases: readonly PhaseName[];
  /** Crews that take passes in turn, each with a readings file of its own. */
  readonly crews: number;
  /** Standard uncertainty of a reading (k = 1) and its growth a metre, in µm or thou. */
  readonly u: number;
  readonly perMetre: number;
  readonly level: Quantity<'arcsec' | 'um/m'>;
  /** Gradient of temperature next to the rails, K/m, + warmer above; null: not measured. */
  readonly air: Estimate | null;
  /** How far a target's scale may be off, %; null: not known. */
  readonly targetScale: number | null;
  /** What the target can read either side, in `units`; null: not stated. */
  readonly range: number | null;
  /** At how many stations the distance across is measured, and how well, in `units`. */
  readonly spans: number;
  readonly spanU: number;
  /** What a level reads from station to station, and how well, in `slopeUnit`: nothing, each rail, or from rail to rail too. */
  readonly slopes: 'none' | 'along' | 'both';
  readonly slopeU: number;
  /** A set of the office, by its path from the job folder, and the grade of it; null: `tolerances` hold. */
  readonly toleranceSet: { readonly file: string; readonly grade: string | null } | null;
  readonly tolerances: readonly {
    readonly what: CharacteristicName;
    readonly limit: number;
    readonly unit: LengthUnit | SlopeUnit;
  }[];
  readonly rule: 'guarded' | 'simple';
  /** From adjuster to adjuster along each rail, and the travel that each has left, in `units`; null: none are named. */
  readonly adjusterSpacing: number | null;
  readonly travel: number | null;
  readonly paper: 'A4' | 'Letter';
  /** Of the field sheet and of the report. */
  readonly language: Language;
}

export const slopeUnit = ({ units }: Pick<Plan, 'units'>): 'um/m' | 'thou/ft' =>
  units === 'mm' ? 'um/m' : 'thou/ft';

export const readingUnit = ({ units }: Pick<Plan, 'units'>): 'um' | 'thou' =>
  units === 'mm' ? 'um' : 'thou';

export const railId = (index: number): string => String.fromCharCode('A'.charCodeAt(0) + index);
export const MOST_RAILS = 8;
export const MOST_STATIONS = 1000;
export const MOST_PASSES = 20;

export const railIds = ({ rails }: Pick<Plan, 'rails'>): string[] =>
  Array.from({ length: rails }, (_, k) => railId(k));

/** From each rail to the next; one, where they are all equal. */
export const gapsOf = ({ across }: Pick<Plan, 'across'>): number[] => {
  const gaps = across.slice(1).map((here, k) => tidy(here - across[k]!));
  return new Set(gaps).size === 1 ? gaps.slice(0, 1) : gaps;
};

/** A file's place in the job folder. */
/** The files of a phase, one for each crew, and which passes are in each. */
export const offsetFiles = (
  phase: PhaseName,
  { crews, passes }: Pick<Plan, 'crews' | 'passes'>,
): { readonly file: string; readonly holds: (pass: number) => boolean }[] =>
  Array.from({ length: crews }, (_, k) => ({
    file: `readings/${phase}${crews === 1 ? '' : `-crew-${k + 1}`}.csv`,
    // A closing look is of a pass after the last.
    holds: (pass) => (Math.min(pass, passes) - 1) % crews === k,
  }));
export const slopeFile = (phase: PhaseName): string => `readings/${phase}-level.csv`;
export const spanFile = (phase: PhaseName): string => `readings/${phase}-span.csv`;

/** Without the noise of unit conversion: 9 digits are 1 µm in 1 km. */
export const tidy = (value: number): number => Number(value.toPrecision(9));
