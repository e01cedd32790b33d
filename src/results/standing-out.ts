/** Suspects that a person should look at. */
import type { AdjustmentResult, Suspect } from './results-schema.js';

/**
 * What a target's scale or roll is multiplied by is itself a reading. Where few readings tell of it, their own noise seems
 * to contradict what is stated: the test is not made for such a coefficient.
 */
export const OWN_NOISE = 'the noise of the readings that it multiplies';

/** Suspects, less those whose own noise explains them. */
export const standingOut = ({ suspects }: Pick<AdjustmentResult, 'suspects'>): Suspect[] =>
  suspects.filter(({ explainedBy }) => explainedBy !== OWN_NOISE);
