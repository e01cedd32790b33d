/** The characteristic and the phase of a row of the register or of the changes. */
import * as z from 'zod';
import { identityOf, identityShape } from '../results/identity.js';
import type { CharacteristicResult } from '../results/results-schema.js';
import { phaseName } from '../survey/job/job-schema.js';

/** For schemas of more than this: `...characteristicPlace.shape`. A reference and a window are always there, or null. */
export const characteristicPlace = z.strictObject({
  phase: phaseName,
  ...identityShape,
  reference: identityShape.reference.unwrap().nullable(),
  over: identityShape.over.unwrap().nullable(),
  unit: z.enum(['um', 'um/m']),
});

export type CharacteristicPlace = z.infer<typeof characteristicPlace>;

/** The keys by which a characteristic is found in another report. */
export const placeOf = (
  phase: CharacteristicPlace['phase'],
  of: CharacteristicResult,
): CharacteristicPlace => ({
  phase,
  ...identityOf(of),
  reference: of.reference ?? null,
  over: of.over ?? null,
  unit: of.unit,
});
