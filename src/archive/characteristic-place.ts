/** Which characteristic of which phase a line of the register or of the changes speaks of. */
import { z } from 'zod';
import { characteristicNames, phaseName, referenceNames } from '../survey/job/job-schema.js';
import type { CharacteristicResult } from '../results/results-schema.js';

/** For schemas of more than this: `...characteristicPlace.shape`. */
export const characteristicPlace = z.strictObject({
  phase: phaseName,
  what: z.enum(characteristicNames),
  rail: z.string(),
  reference: z.enum(referenceNames).nullable(),
  /** Length of the window of a local characteristic, mm. */
  over: z.number().nullable(),
  unit: z.enum(['um', 'um/m']),
});

export type CharacteristicPlace = z.infer<typeof characteristicPlace>;

/** By what a characteristic is found again in another report. */
export const placeOf = (
  phase: CharacteristicPlace['phase'],
  { what, rail, reference, over, unit }: CharacteristicResult,
): CharacteristicPlace => ({
  phase,
  what,
  rail,
  reference: reference ?? null,
  over: over ?? null,
  unit,
});
