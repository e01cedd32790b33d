/** How a characteristic, or a rail, is called in tables and sentences. */
import type { CharacteristicResult, Results } from '../../results/results-schema.js';
import { positionText, withUnit } from '../format-quantity.js';
import type { Figures } from '../figures.js';
import { againstDatum, characteristicNames, referenceWords } from '../texts.js';

/** What makes two entries of two phases the same characteristic. */
export const characteristicKey = (made: CharacteristicResult): string =>
  JSON.stringify([made.what, made.rail, made.reference ?? '', made.over ?? '']);

export const datumId = (results: Results): string =>
  results.survey.rails.find((rail) => rail.datum)?.id ?? '';

/** "Rail A · Column-side rail", over the rows of a rail. */
export const railTitle = ({ id, name }: Results['survey']['rails'][number]): string =>
  `Rail ${id}${name ? ` · ${name}` : ''}`;

/** "rail B to rail A", "rail A" */
export function railWords(made: CharacteristicResult, datum: string): string {
  if (!againstDatum.has(made.what) || made.rail === datum || datum === '') return `rail ${made.rail}`;
  return made.what === 'coplanarity'
    ? `rails ${datum} and ${made.rail}`
    : `rail ${made.rail} to rail ${datum}`;
}

/** The reference line, the window, or nothing. */
export function conditionWords(made: CharacteristicResult, figures: Figures): string {
  const parts: string[] = [];
  if (made.over !== undefined)
    parts.push(`any ${withUnit(positionText(made.over, figures.units.length), figures.units.length)}`);
  // A stretch has its own line, of least squares unless a tolerance asks for another.
  if (made.reference && !(made.over !== undefined && made.reference === 'least-squares'))
    parts.push(referenceWords[made.reference]);
  return parts.join(', ');
}

/** "Straightness, vertical, of rail A" in a sentence. */
export function inSentence(made: CharacteristicResult, datum: string, figures: Figures): string {
  const condition =
    made.over === undefined ? '' : ` (${conditionWords({ ...made, reference: undefined }, figures)})`;
  return `${characteristicNames[made.what]}${condition}, ${railWords(made, datum)}`;
}

/** "9, 3": greatest first, then least; "9 – 11": a window; with the rail where it is not the row's own. */
export function atWords(made: CharacteristicResult): string {
  const foreign = made.at.some(({ rail }) => rail !== made.rail);
  const names = made.at.map(({ rail, station }) => (foreign ? `${rail}:${station}` : String(station)));
  return names.join(made.what.endsWith('-local') ? ' – ' : ', ');
}

/** Longer names of rails would crowd out the figures. */
const SHORT_ID = 3;

/**
 * A station in a table's row, with its rail where there are several: at the top of the next page or column no title
 * says it. Of rails with long names the number alone.
 */
export const stationName = (
  rails: readonly { readonly id: string }[],
  rail: string,
  station: number,
): string => (rails.length > 1 && rail.length <= SHORT_ID ? `${rail}:${station}` : String(station));
