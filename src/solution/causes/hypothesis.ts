/** One thing that may be wrong, and what it would change in the equations of the model. */
import type { Job } from '../../survey/job/job.js';
import type { Reading } from '../../survey/readings/readings.js';
import type { Fix } from './fix.js';

/** How the readings change, as read (µm or µm/m), for one unit of a parameter; sparse: row, value. */
export interface Column {
  readonly rows: ArrayLike<number>;
  readonly values: ArrayLike<number>;
}

/** An unknown of a hypothesis. `usual`: the usual size of such a mistake; `cap`: the greatest possible size. */
export interface Parameter {
  readonly column: Column;
  readonly usual: number;
  readonly cap: number;
  /** 'um' | 'um/m' | 'um/h'; '' for a number without a unit. */
  readonly unit: ParameterUnit;
}

export type ParameterUnit = 'um' | 'um/m' | 'um/h' | 'K/m' | '%' | '';

/** Rows whose sign changes, each by itself, and pairs of rows that are swapped. */
export type Turned = readonly (readonly [number] | readonly [number, number])[];

export type Change =
  /** Unknown numbers: the readings are too large by Σ θ·column. */
  | { readonly kind: 'linear'; readonly parameters: readonly Parameter[] }
  /** The right reading is the reading plus `column`: a sign, a swap. */
  | { readonly kind: 'values'; readonly column: Column; readonly turned: Turned }
  /** The right reading is the reading times one of these factors; `column`: the readings themselves. */
  | { readonly kind: 'factor'; readonly column: Column; readonly factors: readonly number[] }
  /**
   * Other labels, or another job: the equations change. `rank`: greatest rank of the difference of the equations. `lost`: readings
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

/** No mistake: the readings are right, and they show an effect that the job does not state. */
const unstated: ReadonlySet<CauseKind> = new Set(['scatter', 'warming', 'air', 'cone']);
export const isMistake = (kind: CauseKind): boolean => !unstated.has(kind);

/** Result of the fit of a hypothesis. */
export interface Fitted {
  /** Estimate of each parameter; a factor is one number; a choice without a number has none. */
  readonly values: readonly number[];
}

export interface Hypothesis {
  readonly kind: CauseKind;
  /** Identity of the change, independent of the order of the rows: 'sign|S2|vertical'. */
  readonly id: string;
  /** For changes from a reading on: the same for changes that differ only in the reading. */
  readonly family?: string;
  /** Prior weight, relative to one ordinary mistake. */
  readonly weight: number;
  readonly change: Change;
  /** What happened: a clause, "the vertical readings from S2 have the other sign". */
  readonly cause: (fitted: Fitted) => string;
  readonly fix: (fitted: Fitted) => Fix | null;
  /** The readings without the mistake, to try a fix that a person makes in the files; absent: not tried. */
  readonly repair?: (fitted: Fitted) => readonly Reading[];
}
