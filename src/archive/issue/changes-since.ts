/** Differences of a report from the issued report that it replaces, for its results.json. Its pages put them into words. */
import { omit } from '../../base/pick.js';
import type { Issue, Results } from '../../results/results-schema.js';
import { compareCharacteristics } from '../changes/compare-characteristics.js';

export const changesSince = (
  old: Results,
  results: Results,
): Pick<NonNullable<Issue['amends']>, 'verdictBefore' | 'changes'> => ({
  ...(old.verdict !== results.verdict && { verdictBefore: old.verdict }),
  changes: compareCharacteristics(old, results, []).map((change) =>
    omit(change, 'moved', 'causes', 'verdictCauses'),
  ),
});
