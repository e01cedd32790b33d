/**
 * What may be stated beforehand, next to the readings: each kind of prior with its source in the budget and its words. The
 * effects that several readings share are described in effects/.
 */
import type { BudgetSource } from './budget-sources.js';
import type { PriorObject } from './effects/effect.js';
import { effectNamed, effects, type EffectName } from './effects/effects.js';

interface PriorFacts {
  readonly source: BudgetSource;
  /** The prior in words, as a crew would name it. */
  readonly words: (prior: PriorObject) => string;
}

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
} as const satisfies Readonly<Record<string, PriorFacts>>;

export type PriorKind = keyof typeof PRIORS | EffectName;

/** The names of all effects. */
export const effectKinds = effects.map(({ name }) => name) as [EffectName, ...EffectName[]];

/** The facts of a kind of prior. */
export const priorFacts = (kind: PriorKind): PriorFacts =>
  Object.hasOwn(PRIORS, kind) ? PRIORS[kind as keyof typeof PRIORS] : effectNamed(kind as EffectName);

/** Below this redundancy number few readings determine an effect. */
const FEW_READINGS = 0.1;

/** true: the readings contradict the prior only by their own noise. */
export const isOwnNoise = (
  o: { readonly kind: string; readonly prior?: PriorKind },
  redundancy: number,
): boolean =>
  redundancy < FEW_READINGS && effects.some(({ name, isOwnNoise }) => name === o.prior && isOwnNoise);

/** A prior in words. */
export const priorName = (prior: PriorObject & { readonly prior: PriorKind }): string =>
  priorFacts(prior.prior).words(prior);
