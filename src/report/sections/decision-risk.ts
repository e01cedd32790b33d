/** What a decision rule leaves to chance. */
import { trimmedText } from '../format-quantity.js';

/**
 * Guarded acceptance: greatest chance that a characteristic right at its limit is accepted, as text. The coverage
 * interval leaves out equal shares below and above, and only one of them leads to a wrong acceptance.
 */
export const guardedRisk = (coverage: number): string => `${trimmedText((1 - coverage) * 50, 2)}\u00a0%`;
