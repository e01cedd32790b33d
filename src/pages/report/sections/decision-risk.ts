/** What a decision rule leaves to chance. */
import type { Results } from '../../../results/results-schema.js';
import { normalCdf, normalQuantile } from '../../../base/statistics/normal.js';
import type { Figures } from '../figures.js';
import { trimmedText } from '../../../results/words/format-quantity.js';

const percent = (share: number): string => `${trimmedText(100 * share, 2)}\u00a0%`;

/**
 * Guarded acceptance: greatest chance that a characteristic right at its limit is accepted, as text. The upper end of an
 * interval errs with half of what coverage leaves, whatever the rail.
 */
export const guardedRisk = (coverage: number, r = 1): string =>
  percent(r === 1 ? (1 - coverage) / 2 : normalCdf(-r * normalQuantile((1 + coverage) / 2)));

/** The same of a wrong rejection: where several places tie, the lower end has the upper one's half too. */
export const rejectionRisk = (coverage: number, r = 1): string =>
  percent(r === 1 ? 1 - coverage : 2 * normalCdf(-r * normalQuantile((1 + coverage) / 2)));

/** What has to lie within a limit: "the whole 95 % interval", or a guard band of another width. */
export const guardWords = ({ guardBand = 1 }: Results['settings'], figures: Figures): string =>
  guardBand === 1
    ? `the whole ${figures.coverage} interval`
    : `the value with its guard band w\u00a0=\u00a0${trimmedText(guardBand, 2)}·U`;
