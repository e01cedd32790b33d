/** What a decision rule leaves to chance. */
import { trimmedText } from '../format-quantity.js';

const percent = (share: number): string => `${trimmedText(100 * share, 2)}\u00a0%`;

/**
 * Guarded acceptance: greatest chance that a characteristic right at its limit is accepted, as text. The upper end of an
 * interval errs with half of what coverage leaves, whatever the rail.
 */
export const guardedRisk = (coverage: number): string => percent((1 - coverage) / 2);

/** The same of a wrong rejection: where several places tie, the lower end has the upper one's half too. */
export const rejectionRisk = (coverage: number): string => percent(1 - coverage);
