/** What has a name of its own in each language: phases, characteristics, verdicts, reference lines, axes, rails. */
import { visible } from '../../base/diagnostics/messages.js';
import { identityOf, usualReference, type IdentityOrNull, type Naming } from '../../results/identity.js';
import type { Verdict } from '../../results/results-schema.js';
import { positionText, withUnit } from '../../results/words/format-quantity.js';
import { againstDatum } from '../../results/words/texts.js';
import type { ReferenceName } from '../../survey/characteristics/characteristic.js';
import type { CharacteristicName } from '../../survey/characteristics/characteristics.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import { areKnown, reasonWords } from '../../solution/reasons/words.js';
import type { Words } from './words.js';

type Say = Pick<Words, 'say'>;

/** "as found"; a phase that the job named itself keeps its name. */
export const phaseText = (name: PhaseName, { say }: Say): string =>
  name === 'as-found' || name === 'as-left' ? say(`phase.${name}`) : phaseWords(name);

export const nameText = (what: CharacteristicName, { say }: Say): string => say(`name.${what}`);
export const verdictText = (verdict: Verdict, { say }: Say): string => say(`verdict-word.${verdict}`);
export const referenceText = (name: ReferenceName, { say }: Say): string => say(`reference.${name}`);

const axes = ['vertical', 'horizontal', 'along'] as const;
/** An axis that is none of the three keeps its name. */
export function axisText(axis: string, { say }: Say): string {
  const known = axes.find((one) => one === axis);
  return known === undefined ? axis : say(`axis.${known}`);
}

/** "rail B to rail A", "rail A", "any two of rails A, B and C" */
export function railsWords(
  of: IdentityOrNull,
  datum: string | null,
  { say, list }: Pick<Words, 'say' | 'list'>,
): string {
  const { what, rail, against, rails } = identityOf(of);
  const isPlane = what === 'coplanarity';
  if (rails !== undefined)
    return say(isPlane ? 'rails.together' : 'rails.any-two', { rails: list(rails.map(visible)) });
  const own = visible(rail);
  if (against === undefined && (!againstDatum.has(what) || rail === datum))
    return say('rails.one', { rail: own });
  const other = against ?? datum;
  if (other === null) return say(isPlane ? 'rails.and-datum' : 'rails.to-datum', { rail: own });
  return say(isPlane ? 'rails.both' : 'rails.to', { rail: own, other: visible(other) });
}

/** "any 2000 mm", "minimum zone", "convex only", "between 0 and 5000 mm" */
export function conditionTexts(
  of: IdentityOrNull,
  { length }: Pick<Naming, 'length'>,
  words: Pick<Words, 'say'>,
): string[] {
  const { say } = words;
  const { over, reference, side, between } = identityOf(of);
  const at = (mm: number) => positionText(mm, length);
  return [
    ...(over === undefined ? [] : [say('condition.any', { length: withUnit(at(over), length) })]),
    ...(reference === undefined ? [] : [referenceText(reference, words)]),
    ...(side === undefined ? [] : [say(`side.${side}`)]),
    ...(between === undefined
      ? []
      : [say('condition.between', { from: at(between[0]), to: withUnit(at(between[1]), length) })]),
  ];
}

/** `identityName` in the language: "Straightness, vertical, between 0 and 5000 mm, rail A". */
export const identityText = (
  of: IdentityOrNull,
  naming: Naming,
  words: Pick<Words, 'say' | 'list'>,
): string =>
  [
    nameText(of.what, words),
    ...conditionTexts(
      of.reference === usualReference(of) ? { ...of, reference: undefined } : of,
      naming,
      words,
    ),
    railsWords(of, naming.datum, words),
  ].join(', ');

/** Why something has no value, from its codes; of a document without them as it says itself. */
export const whyText = (
  {
    why,
    reasons = [],
  }: { readonly why: string; readonly reasons?: readonly { readonly code: string }[] | undefined },
  words: Words,
): string => (areKnown(reasons) ? reasonWords(reasons, sayerOf(words)) : why);

const sayerOf = ({ say, mark, lower }: Words) => ({
  say,
  mark,
  name: (what: string) => lower(say(`name.${what as CharacteristicName}`)),
});
