import type { Verdict } from '../results/results-schema.js';

/** As the console says them. */
export const verdictWords: Record<Verdict, string> = {
  conforms: 'conforms',
  'does-not-conform': 'does not conform',
  undecided: 'undecided',
  reported: 'reported (no tolerance)',
};
