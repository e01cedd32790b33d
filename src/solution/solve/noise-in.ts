/** The uncertainty that another survey of the same unknowns would have. */
import type { Adjustment, Functional } from './adjustment.js';

/** Standard uncertainty (as the instruments state it) of a functional of the unknowns of `own`, in another survey of them. */
export function noiseIn(survey: Adjustment, own: Adjustment, { index, weight }: Functional): number {
  const there = Array.from(index, (i) => survey.network.find(own.network.keys[i]!));
  // An unknown that the other survey does not have (the rod of a target that is left out) is the same for all its readings.
  const kept = there.flatMap((i, k) => (i === undefined ? [] : [{ i, w: weight[k]! }]));
  const functional = {
    index: Int32Array.from(kept, ({ i }) => i),
    weight: Float64Array.from(kept, ({ w }) => w),
  };
  return survey.standardUncertainty(functional) / survey.scale;
}
