/**
 * One question about a phase: the quantities (a family, or one linear functional), and the measure that makes one number of
 * them. The file of each characteristic makes its question; the answer, with uncertainty, is calculated in the same way for
 * all.
 */
import type { Identity } from '../../survey/characteristics/identity.js';
import type { Functional } from '../solve/adjustment.js';
import type { LinearFamily } from './linear-family.js';
import type { Measure } from './measures.js';
import type { Reason } from '../reasons/reason.js';

export interface Asked extends Identity {
  readonly unit: 'um' | 'um/m';
  /** Judged by |value|; its sign has a meaning. */
  readonly signed: boolean;
}

/** A question that these readings cannot answer. */
export interface Unanswerable extends Asked {
  readonly kind: 'none';
  readonly reason: Reason;
}

/** A linear functional of the unknowns. */
export interface LinearQuestion extends Asked {
  readonly kind: 'linear';
  readonly functional: Functional;
}

/** A range, a zone, or an extreme of a family. */
export interface ProfileQuestion extends Asked {
  readonly kind: 'range' | 'signed-extreme';
  readonly family: LinearFamily;
  readonly measure: Measure;
  /** Questions with the same key have the same answer except for `factor`; it is calculated once. */
  readonly key: string;
  /** Families with the same key have the same draws. */
  readonly familyKey: string;
  /** Factor from the unit of the family to that of the characteristic: 1, or 1/distance. */
  readonly factor: number;
}

/** The greatest of several, such as the worst pair of many rails. */
export interface GreatestQuestion extends Asked {
  readonly kind: 'greatest-of';
  readonly parts: readonly ProfileQuestion[];
}

export type Question = Unanswerable | LinearQuestion | ProfileQuestion | GreatestQuestion;
