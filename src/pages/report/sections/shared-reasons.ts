/** Sentences that several characteristics share, each said once with the names of all. */
import type { CharacteristicResult, Remedy } from '../../../results/results-schema.js';
import type { Figures } from '../figures.js';
import { sentence } from '../sentence.js';
import { inSentence } from './characteristic-names.js';

/** Why those that are not determined are not. */
export const reasonsOf = (characteristics: readonly CharacteristicResult[]): ReadonlySet<string> =>
  new Set(characteristics.flatMap((c) => (c.value === null ? [c.why] : [])));

/** "Twist, rail B to rail A; Cross-level, rail B to rail A: why not and which reading would tell." */
export const undeterminedLines = (
  characteristics: readonly CharacteristicResult[],
  datum: string,
  figures: Figures,
): string[] =>
  grouped(characteristics, (made) => (made.value === null ? made.why : undefined), datum, figures).map(
    ([names, why]) => `${names}: ${why}`,
  );

/** "To settle twist, rail B to rail A: what would." */
export const settleLines = (
  characteristics: readonly CharacteristicResult[],
  datum: string,
  figures: Figures,
): string[] =>
  grouped(characteristics, settleText, datum, figures).map(
    ([names, settle]) => `To settle ${names}: ${settle}`,
  );

/** What would settle it, with what would help most by the model; undefined: nothing is said. */
export function settleText({ settle, helps }: CharacteristicResult): string | undefined {
  if (settle === undefined || helps === undefined || helps.ways.length === 0) return settle;
  const [first, ...others] = helps.ways.map(({ way, narrower }) => [WAYS[way], percent(narrower)] as const);
  const list = [
    `${first![0]} would make the interval ${first![1]} narrower`,
    ...others.map((o) => o.join(' ')),
  ];
  return `${settle} By the model of this survey, ${list.join(', ')}; ${percent(helps.needed)} would decide.`;
}

const percent = (share: number): string => `${Math.round(100 * share)}\u00a0%`;

export const WAYS: Readonly<Record<Remedy, string>> = {
  'more-passes': 'twice as many passes',
  'other-end': 'the same stations read once more from the other end',
  middle: 'instruments that stand in the middle of what they read',
  'new-setups': 'everything read once more from newly levelled set-ups',
  'turned-level': 'everything read once more with the instrument turned by half a circle and levelled anew',
  'even-air': 'air half as uneven (mixed by fans, or at night)',
  'centred-target': 'readings near the middle of the targets',
  'turned-target': 'everything read once more with the targets turned over',
  'own-placings': 'targets that are lifted and set down before each reading',
  'lower-rod': 'rods half as high',
  'known-temperature': 'temperatures known twice as well',
  quicker: 'readings taken in half the time',
  'monuments-again': 'monuments read twice as often',
  'heights-again': 'carried heights read twice as often',
  'one-target': 'one target assembly for all readings',
};

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
