/** What a whole set-up shares (air, cone, targets): how much of it is in the intervals, and how much would matter. */
import type {
  CharacteristicResult,
  PhaseResults,
  Results,
  UnstatedSource,
} from '../../../results/results-schema.js';
import { lastPhase, type Figures } from '../figures.js';
import { numberText, roundUncertainty } from '../../../results/words/format-quantity.js';
import { say } from '../../words/say.js';
import { readingText } from './survey.js';

const unitTexts = { 'K/m': 'K/m', 'um/m': 'µm/m', '%': '%', mrad: 'mrad', um: 'µm', K: 'K' } as const;

/** Two digits, with its unit. */
export const sizeText = (size: number, unit: keyof typeof unitTexts): string => {
  const decimals = size === 0 ? 0 : Math.max(0, 1 - Math.floor(Math.log10(Math.abs(size))));
  return `${numberText(size, Math.min(6, decimals))}\u00a0${unitTexts[unit]}`;
};

/** Rounded as every value with its expanded uncertainty. */
function foundText(value: number, expanded: number, unit: keyof typeof unitTexts): string {
  const rounded = roundUncertainty(expanded);
  return `${numberText(value, rounded.decimals)}\u00a0±\u00a0${numberText(rounded.value, rounded.decimals)}\u00a0${unitTexts[unit]}`;
}

/** The characteristic whose verdict such an effect would change first; null: none, whatever a hall has. */
function firstToChange(
  { characteristics }: PhaseResults,
  source: UnstatedSource,
): { readonly made: CharacteristicResult; readonly upTo: number } | null {
  let first: { made: CharacteristicResult; upTo: number } | null = null;
  for (const made of characteristics) {
    const upTo = made.holdsUpTo?.find((h) => h.source === source)?.upTo;
    if (upTo !== undefined && (first === null || upTo < first.upTo)) first = { made, upTo };
  }
  return first;
}

/** For the method: what is stated, as it was found; what is not, with its size. */
export function effectSentences(results: Results, figures: Figures): string {
  const { phase } = lastPhase(results);
  const sentences: string[] = [];
  const stated = phase.effects ?? [];
  if (stated.length > 0) {
    const some = stated.slice(0, 12).map(({ kind, of, setup, unit, value, u, statedU }) => {
      const name = `${kind === 'air' || kind === 'cone' ? `${kind}, ` : ''}${of}${setup === null ? '' : ` of ${setup}`}`;
      return `${name}: stated to ${sizeText(statedU, unit)}, found ${foundText(value, figures.k * u, unit)} from it`;
    });
    const more =
      stated.length > some.length ? `; and ${stated.length - some.length} more in results.json` : '';
    sentences.push(`In the intervals, as unknowns with what is stated of them: ${some.join('; ')}${more}.`);
  }
  const unstated = phase.unstated ?? [];
  if (unstated.length > 0) {
    const list = unstated.map(({ source, unit, size, readingUm, rail, station }) => {
      const first = firstToChange(phase, source);
      return say('effects.unstated.one', {
        effect: say(`effect.${source}`),
        size: sizeText(size, unit),
        reading: readingText(readingUm, figures),
        at: `${rail}:${station}`,
        turns: first === null ? 'no' : 'yes',
        turn: first === null ? '' : sizeText(first.upTo, unit),
      });
    });
    sentences.push(say('effects.unstated', { list: list.join('; ') }));
  }
  if (sentences.length === 0) return '';
  return `Light bends towards colder air with the curvature k/R, k = 503·(p/T²)·(0.0343 + dT/dh) (p in hPa, T in K, dT/dh in K/m; R the earth’s radius), by half the curvature times the distance squared; a cone adds its angle times the distance, a scale its share of the reading, a roll its angle times the reading of the other plane. Repeated passes average none of it but seating. ${sentences.join(' ')}`;
}
