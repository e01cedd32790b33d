/** Names of characteristics and rails in tables and sentences. */
import type { CharacteristicResult, Results } from '../../../results/results-schema.js';
import { judgedText, unitFor, type ReportUnit } from '../../../results/words/format-quantity.js';
import type { Figures } from '../figures.js';
import { capitalised } from '../sentence.js';
import { usualReference } from '../../../results/identity.js';
import { conditionTexts, nameText, railsWords } from '../../words/names.js';
import type { Words } from '../../words/words.js';

export { identityKey as characteristicKey } from '../../../results/identity.js';

export const datumId = (results: Results): string =>
  results.survey.rails.find((rail) => rail.datum)?.id ?? '';

/** "Rail A · Column-side rail", over the rows of a rail. */
export const railTitle = (
  { id, name }: Results['survey']['rails'][number],
  { say }: Pick<Words, 'say'>,
): string => {
  const rail = capitalised(say('rails.one', { rail: id }));
  return name ? `${rail} · ${name}` : rail;
};

/** "rail B to rail A", "rail A" */
export const railWords = (
  made: CharacteristicResult,
  datum: string,
  words: Pick<Words, 'say' | 'list'>,
): string => railsWords(made, datum === '' ? null : datum, words);

/** The reference line, the window, or nothing. */
export function conditionWords(made: CharacteristicResult, figures: Figures): string {
  const { say, units } = figures;
  // A stretch has its own line: least squares, unless a tolerance names another.
  const isOwnLine = made.over !== undefined && made.reference === 'least-squares';
  const parts = conditionTexts(isOwnLine ? { ...made, reference: undefined } : made, units, figures);
  const { zone, rule } = made;
  if (rule !== undefined) parts.push(say('condition.rule', { rule }));
  if (zone && zone.least !== null && zone.greatest !== null && zone.least !== zone.greatest) {
    const unit = unitFor(units, made.unit);
    const text = (value: number) =>
      judgedText(
        { value, expanded: figures.k * (made.u ?? 0), interval: null, limit: null, signed: true },
        unit,
      ).value;
    parts.push(say('condition.from-to', { from: text(zone.least), to: text(zone.greatest) }));
  }
  return parts.join(', ');
}

/** "±40", "−0 to +40", "at most 40", of a characteristic with a limit. */
export function limitWords(
  made: Parameters<typeof limitParts>[0],
  limit: string,
  unit: ReportUnit,
  words: Pick<Words, 'say'>,
): string {
  const [from, to] = limitParts(made, limit, unit, words);
  return to === undefined ? from! : words.say('range', { from: from!, to });
}

/** Of two sides both, the lower one first; else one. */
export function limitParts(
  made: { signed: boolean; zone?: { from: number | null; to: number | null } | undefined },
  limit: string,
  unit: ReportUnit,
  { say }: Pick<Words, 'say'>,
): string[] {
  if (made.zone === undefined) return [`${made.signed ? '±' : ''}${limit}`];
  const side = (value: number) => {
    const size = String(Number(Math.abs(unit.fromBase(value)).toPrecision(6))).replace('.', unit.mark ?? '.');
    return `${value > 0 ? '+' : value < 0 || Object.is(value, -0) ? '\u2212' : ''}${size}`;
  };
  const { from, to } = made.zone;
  if (from === null) return [say('limit.at-most', { limit: side(to!) })];
  return to === null ? [say('limit.at-least', { limit: side(from) })] : [side(from), side(to)];
}

/** "Straightness, vertical, of rail A" in a sentence. */
export function inSentence(made: CharacteristicResult, datum: string, figures: Figures): string {
  const isUsual = made.reference === usualReference(made);
  const condition = conditionWords(isUsual ? { ...made, reference: undefined } : made, figures);
  const parts = { name: nameText(made.what, figures), rails: railWords(made, datum, figures) };
  return condition === ''
    ? figures.say('characteristic', parts)
    : figures.say('characteristic.condition', { ...parts, condition });
}

/** Longest id of a rail that is printed next to a station number. */
const SHORT_ID = 3;

/**
 * A station in a row of a table, with its rail if there are several, because the next page or column has no heading with
 * the rail. For a rail with a long id only the number.
 */
export const stationName = (
  rails: readonly { readonly id: string }[],
  rail: string,
  station: number,
): string => (rails.length > 1 && rail.length <= SHORT_ID ? `${rail}:${station}` : String(station));
