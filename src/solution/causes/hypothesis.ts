/** One thing that may be wrong, and what it would change in the equations of the model. */
import type { Job } from '../../survey/job/job.js';
import type { Reading } from '../../survey/readings/readings.js';
import type { Fix } from './fix.js';

/** How the readings change, as read (µm or µm/m), for one unit of a parameter; sparse: row, value. */
export interface Column {
  readonly rows: ArrayLike<number>;
  readonly values: ArrayLike<number>;
}

/** An unknown of a hypothesis. `usual`: the size that such a mistake has as a rule; `cap`: nobody makes a greater one. */
export interface Parameter {
  readonly column: Column;
  readonly usual: number;
  readonly cap: number;
  /** 'um' | 'um/m' | 'um/h' or none, for words. */
  readonly unit: ParameterUnit;
}

export type ParameterUnit = 'um' | 'um/m' | 'um/h' | 'K/m' | '%' | '';

/** Rows of the readings whose sign turns, each alone, and pairs of rows that change places. */
export type Turned = readonly (readonly [number] | readonly [number, number])[];

export type Change =
  /** Unknown numbers: the readings hold Σ θ·column too much. */
  | { readonly kind: 'linear'; readonly parameters: readonly Parameter[] }
  /** Right is what was read plus `column`: a sign, a swap. */
  | { readonly kind: 'values'; readonly column: Column; readonly turned: Turned }
  /** Right is what was read times one of these factors; `column`: the readings themselves. */
  | { readonly kind: 'factor'; readonly column: Column; readonly factors: readonly number[] }
  /**
   * Other labels, or another job: other equations. `rank`: greatest rank of the difference of the equations. `lost`: readings
   * that then belong to no point.
   */
  | {
      readonly kind: 'labels';
      readonly rank: number;
      readonly make: () => {
        readonly job: Job;
        readonly readings: readonly Reading[];
        readonly lost: number;
      };
    }
  /** The readings scatter by another factor than stated. */
  | { readonly kind: 'scatter'; readonly rows: ArrayLike<number> };

export const causeKinds = [
  'sign',
  'unit',
  'constant',
  'rod',
  'monument',
  'tilt',
  'turn',
  'level',
  'level-zero',
  'heading',
  'square',
  'drift',
  'columns',
  'rails',
  'monument-ids',
  'target-ids',
  'order',
  'shift',
  'reading',
  'prior',
  'scatter',
  'warming',
  'air',
  'cone',
] as const;
export type CauseKind = (typeof causeKinds)[number];

/** What no one did wrong: the readings are as they are, and something that the job does not state shows in them. */
const unstated: ReadonlySet<CauseKind> = new Set(['scatter', 'warming', 'air', 'cone']);
export const isMistake = (kind: CauseKind): boolean => !unstated.has(kind);

/** What a fitted hypothesis came out as. */
export interface Fitted {
  /** Of each parameter; a factor as one number; none for a choice without a number. */
  readonly values: readonly number[];
}

export interface Hypothesis {
  readonly kind: CauseKind;
  /** The same for the same change, whatever the order of the rows: 'sign|S2|vertical'. */
  readonly id: string;
  /** Of changes from a reading on: those that differ in the reading only share it. */
  readonly family?: string;
  /** Relative to one ordinary mistake. */
  readonly weight: number;
  readonly change: Change;
  /** What happened: a clause, "the vertical readings from S2 have the other sign". */
  readonly cause: (fitted: Fitted) => string;
  readonly fix: (fitted: Fitted) => Fix | null;
  /** The readings as they would have been, for trying a fix that a person makes in the files; absent: not tried. */
  readonly repair?: (fitted: Fitted) => readonly Reading[];
}
