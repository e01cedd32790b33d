/** Sentences that several characteristics share, printed once with all names. */
import type { CharacteristicResult } from '../../../results/results-schema.js';
import type { Figures } from '../figures.js';
import { sentence } from '../sentence.js';
import { whyText } from '../../words/names.js';
import { inSentence } from './characteristic-names.js';

/** The reasons for characteristics without a value. */
export const reasonsOf = (characteristics: readonly CharacteristicResult[]): ReadonlySet<string> =>
  new Set(characteristics.flatMap((c) => (c.value === null ? [c.why] : [])));

/** "Twist, rail B to rail A; Cross-level, rail B to rail A: why not and which reading would tell." */
export const undeterminedLines = (
  characteristics: readonly CharacteristicResult[],
  datum: string,
  figures: Figures,
): string[] =>
  grouped(
    characteristics,
    (made) => (made.value === null ? whyText(made, figures) : undefined),
    datum,
    figures,
  ).map(([names, why]) => figures.say('undetermined.line', { names, why }));

function grouped(
  characteristics: readonly CharacteristicResult[],
  said: (made: CharacteristicResult) => string | undefined,
  datum: string,
  figures: Figures,
): [names: string, said: string][] {
  const groups = new Map<string, Set<string>>();
  for (const made of characteristics) {
    const text = said(made);
    if (text === undefined) continue;
    groups.set(text, (groups.get(text) ?? new Set()).add(inSentence(made, datum, figures)));
  }
  return [...groups].map(([text, names]) => [[...names].join('; '), sentence(text)]);
}
