/** What a whole set-up shares (air, cone, targets): how much of it is in the intervals, and how much would matter. */
import type {
  CharacteristicResult,
  PhaseResults,
  Results,
  UnstatedSource,
} from '../../../results/results-schema.js';
import { lastPhase, type Figures } from '../figures.js';
import { numberText, roundUncertainty } from '../../../results/words/format-quantity.js';
import { listed } from '../sentence.js';

import { readingText } from './survey.js';

const sourceNames: Readonly<Record<UnstatedSource, string>> = {
  air: 'a gradient of temperature in the air, warmer above or below',
  'air-sideways': 'a gradient of temperature in the air, warmer to one side',
  cone: 'a cone of the swept planes',
  'target-scale': 'an error of the targets’ scale',
  'target-roll': 'a roll of the targets',
  'level-zero-along': 'the level’s own zero, along its heading',
  'level-zero-across': 'the level’s own zero, across its heading',
  bow: 'a top of the machine that becomes warmer than its foot during the survey',
  seating: 'seating of the targets, which differs from placing to placing',
};

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
    const some = unstated.map(({ source, unit, size, readingUm, rail, station }) => {
      const first = firstToChange(phase, source);
      const holds = first === null ? '' : `, and the verdicts hold up to ${sizeText(first.upTo, unit)}`;
      return `${sourceNames[source]}: ${sizeText(size, unit)} would add up to ${readingText(readingUm, figures)} (${rail}:${station})${holds}`;
    });
    sentences.push(
      `Not in the intervals, because the job states nothing of it: ${listed(some).replaceAll(' and ', '; ')}.`,
    );
  }
  if (sentences.length === 0) return '';
  return `Light bends towards colder air with the curvature k/R, k = 503·(p/T²)·(0.0343 + dT/dh) (p in hPa, T in K, dT/dh in K/m; R the earth’s radius), by half the curvature times the distance squared; a cone adds its angle times the distance, a scale its share of the reading, a roll its angle times the reading of the other plane. Repeated passes average none of it but seating. ${sentences.join(' ')}`;
}
