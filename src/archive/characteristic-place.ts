/** The characteristic and the phase of a row of the register or of the changes. */
import { identityOf } from '../results/identity.js';
import type { CharacteristicPlace, CharacteristicResult } from '../results/results-schema.js';

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
