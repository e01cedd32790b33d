/**
 * What may be stated beforehand, next to the readings: one entry per kind of prior, with its source in the budget, its words,
 * and, for an effect that many readings share, its unit. Schema, budget, list of effects and messages are made from it.
 *
 * To add an effect, add its entry here, its unknown in unknowns.ts and its coefficient in network.ts.
 */
import type { BudgetSource } from './budget-sources.js';

/** The object of a prior: pitch or roll of a set-up; squareness of an instrument; drift of a plane; else in words. */
interface PriorObject {
  readonly of: string;
  readonly setup: string | null;
  readonly instrument: string;
}

interface PriorFacts {
  readonly source: BudgetSource;
  /** The prior in words, as a crew would name it. */
  readonly words: (prior: PriorObject) => string;
  /** An effect that is common to many readings, so that repetition does not average it. */
  readonly effect?: {
    readonly unit: 'K/m' | 'um/m' | '%' | 'mrad' | 'um' | 'K';
    /** false: there is one for each placing or station, too many to list; they are in the budget. */
    readonly isListed: boolean;
  };
  /** true: if few readings determine it, the readings contradict it only by their own noise. */
  readonly isOwnNoise?: true;
}

const asStated = ({ of }: PriorObject): string => `the ${of} as stated`;
const listed = <const U extends string>(unit: U) => ({ unit, isListed: true }) as const;
const unlisted = <const U extends string>(unit: U) => ({ unit, isListed: false }) as const;

const PRIORS = {
  level: { source: 'level', words: ({ setup, of }) => `level of set-up ${setup} (${of})` },
  square: {
    source: 'direction-carry-over',
    words: ({ instrument }) => `squareness of instrument ${instrument}`,
  },
  drift: {
    source: 'drift',
    words: ({ setup, of }) => `no drift of set-up ${setup} (${of.slice('drift-'.length)})`,
  },
  rods: { source: 'target-assemblies', words: ({ of }) => `difference of the ${of} as stated` },
  benchmark: { source: 'benchmarks', words: asStated, effect: listed('um') },
  air: {
    source: 'air',
    words: ({ of, setup }) => `the ${of} of set-up ${setup} as stated`,
    effect: listed('K/m'),
  },
  cone: {
    source: 'cone',
    words: ({ instrument, of }) => `no cone of instrument ${instrument} (${of.slice('cone-'.length)})`,
    effect: listed('um/m'),
  },
  scale: { source: 'target-scale', words: asStated, effect: listed('%'), isOwnNoise: true },
  'target-roll': { source: 'target-roll', words: asStated, effect: listed('mrad'), isOwnNoise: true },
  seating: { source: 'seating', words: asStated, effect: unlisted('um') },
  'level-zero': { source: 'level', words: asStated, effect: listed('um/m') },
  'rail-tilt': { source: 'rail-tilt', words: asStated, effect: unlisted('um/m') },
  'thermal-bow': { source: 'temperature', words: asStated, effect: listed('K') },
  'span-temperature': { source: 'temperature', words: asStated, effect: listed('K') },
} as const satisfies Readonly<Record<string, PriorFacts>>;

export type PriorKind = keyof typeof PRIORS;
type EffectKind = {
  [K in PriorKind]: (typeof PRIORS)[K] extends { readonly effect: object } ? K : never;
}[PriorKind];

/** The facts of a kind of prior. */
export const priorFacts = (kind: PriorKind): PriorFacts => PRIORS[kind];

const isEffect = (kind: PriorKind): kind is EffectKind => priorFacts(kind).effect !== undefined;
export const effectKinds = (Object.keys(PRIORS) as PriorKind[]).filter(isEffect) as [
  EffectKind,
  ...EffectKind[],
];

/** Below this redundancy number few readings determine a scale or a roll. */
const FEW_READINGS = 0.1;

/** true: the readings contradict the prior only by their own noise. */
export const isOwnNoise = (
  o: { readonly kind: string; readonly prior?: PriorKind },
  redundancy: number,
): boolean => o.prior !== undefined && priorFacts(o.prior).isOwnNoise === true && redundancy < FEW_READINGS;

/** A prior in words. */
export const priorName = (prior: PriorObject & { readonly prior: PriorKind }): string =>
  priorFacts(prior.prior).words(prior);
