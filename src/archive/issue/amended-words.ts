/** Differences between an amended report and the report before, for its first page, in the language of the report. */
import type { Words } from '../../pages/words/words.js';
import { verdictText } from '../../pages/words/names.js';
import type { Results } from '../../results/results-schema.js';
import { datumId } from '../../pages/report/sections/characteristic-names.js';
import { styleOf } from '../changes/change-words.js';
import { characteristicText, sideText } from '../changes/changes-view.js';
import { compareCharacteristics } from '../changes/compare-characteristics.js';

/** @returns One sentence per changed verdict and figure; the job's verdict first. */
export function amendedWords(before: Results, after: Results, words: Words): string[] {
  const { say } = words;
  const verdicts = { before: verdictText(before.verdict, words), after: verdictText(after.verdict, words) };
  const changes = compareCharacteristics(before, after, []);
  const style = styleOf(
    {
      style: { ...after.style, coverage: after.settings.coverage },
      about: { datum: datumId(after) },
      characteristics: changes,
    },
    words,
  );
  const side = (of: (typeof changes)[number]['before'], change: (typeof changes)[number]) => {
    const { figures, words: verdict } = sideText(of, change, style);
    return figures === '' ? verdict : say('amended.figure', { figure: figures, verdict });
  };
  return [
    ...(before.verdict === after.verdict ? [] : [say('amended.verdict', verdicts)]),
    ...changes.map((change) =>
      say('amended.line', {
        name: characteristicText(change, style),
        before: side(change.before, change),
        after: side(change.after, change),
      }),
    ),
  ];
}
