/** Differences between an amended report and the report before, for its first page. */
import { english } from '../../pages/words/words.js';
import { compareCharacteristics } from '../changes/compare-characteristics.js';
import {
  coverageFactor,
  resultText,
  reportUnits,
  unitFor,
  withUnit,
} from '../../results/words/format-quantity.js';
import { phaseWords, verdictWords } from '../../results/words/texts.js';
import { identityName, namingFor, namingOf } from '../../results/identity.js';
import { figureText } from '../../pages/report/figures.js';
import { limitWords } from '../../pages/report/sections/characteristic-names.js';
import type { Results } from '../../results/results-schema.js';

/** @returns One sentence per changed verdict and figure; the job's verdict first. */
export function amendedWords(before: Results, after: Results): string[] {
  const lines =
    before.verdict === after.verdict
      ? []
      : [`The verdict was: ${verdictWords[before.verdict]}; it is: ${verdictWords[after.verdict]}.`];
  const units = reportUnits(after.style);
  const k = coverageFactor(after.settings.coverage);
  const changes = compareCharacteristics(before, after, []);
  const naming = namingFor(changes, namingOf(after));
  for (const change of changes) {
    const name = `${identityName(change, naming)}, ${phaseWords(change.phase)}`;
    const words = (side: typeof change.before) => {
      if (side === null) return 'not in the report';
      if (side.value === null) return 'without a value';
      const unit = unitFor(units, change.unit);
      const text = resultText({ ...side, value: side.value, signed: change.signed }, k, unit);
      const limit =
        side.limit === null
          ? ''
          : `, limit ${withUnit(limitWords({ ...side, signed: change.signed }, text.limit!, unit, english), unit)}`;
      return `${figureText(change.signed, text, unit, english)}${limit}, ${verdictWords[side.verdict].toLowerCase()}`;
    };
    lines.push(`${name}: was ${words(change.before)}; is ${words(change.after)}.`);
  }
  return lines;
}
