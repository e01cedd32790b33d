/** How a characteristic, or a rail, is called in tables and sentences. */
import type { CharacteristicResult, Results } from '../../../results/results-schema.js';
import {
  judgedText,
  positionText,
  unitFor,
  withUnit,
  type ReportUnit,
} from '../../../results/words/format-quantity.js';
import type { Figures } from '../figures.js';
import { railsText, usualReference } from '../../../results/identity.js';
import { characteristicNames, referenceWords } from '../../../results/words/texts.js';

export { identityKey as characteristicKey } from '../../../results/identity.js';

export const datumId = (results: Results): string =>
  results.survey.rails.find((rail) => rail.datum)?.id ?? '';

/** "Rail A · Column-side rail", over the rows of a rail. */
export const railTitle = ({ id, name }: Results['survey']['rails'][number]): string =>
  `Rail ${id}${name ? ` · ${name}` : ''}`;

/** "rail B to rail A", "rail A" */
export const railWords = (made: CharacteristicResult, datum: string): string =>
  railsText(made, datum === '' ? null : datum);

/** The reference line, the window, or nothing. */
export function conditionWords(made: CharacteristicResult, figures: Figures): string {
  const parts: string[] = [];
  if (made.over !== undefined)
    parts.push(`any ${withUnit(positionText(made.over, figures.units.length), figures.units.length)}`);
  // A stretch has its own line, of least squares unless a tolerance asks for another.
  if (made.reference && !(made.over !== undefined && made.reference === 'least-squares'))
    parts.push(referenceWords[made.reference]);
  const { units } = figures;
  if (made.side !== undefined) parts.push(made.side === 'both' ? 'to either side' : sideWords[made.side]);
  if (made.between !== undefined) {
    const [from, to] = made.between.map((at) => positionText(at, units.length));
    parts.push(`between ${from} and ${withUnit(to!, units.length)}`);
  }
  const { zone } = made;
  if (zone && zone.least !== null && zone.greatest !== null && zone.least !== zone.greatest) {
    const unit = unitFor(units, made.unit);
    const text = (value: number) =>
      judgedText(
        { value, expanded: figures.k * (made.u ?? 0), interval: null, limit: null, signed: true },
        unit,
      ).value;
    parts.push(`from ${text(zone.least)} to ${text(zone.greatest)}`);
  }
  return parts.join(', ');
}

const sideWords = { convex: 'convex only', hollow: 'hollow only' } as const;

/** "±40", "−0 to +40", "at most 40", of a characteristic with a limit. */
export function limitWords(
  made: { signed: boolean; zone?: { from: number | null; to: number | null } | undefined },
  limit: string,
  unit: ReportUnit,
): string {
  if (made.zone === undefined) return `${made.signed ? '±' : ''}${limit}`;
  const side = (value: number) => {
    const size = String(Number(Math.abs(unit.fromBase(value)).toPrecision(6)));
    return `${value > 0 ? '+' : value < 0 || Object.is(value, -0) ? '\u2212' : ''}${size}`;
  };
  const { from, to } = made.zone;
  if (from === null) return `at most ${side(to!)}`;
  return to === null ? `at least ${side(from)}` : `${side(from)} to ${side(to)}`;
}

/** "Straightness, vertical, of rail A" in a sentence. */
export function inSentence(made: CharacteristicResult, datum: string, figures: Figures): string {
  const isUsual = made.reference === usualReference(made);
  const condition = conditionWords(isUsual ? { ...made, reference: undefined } : made, figures);
  return `${characteristicNames[made.what]}${condition === '' ? '' : ` (${condition})`}, ${railWords(made, datum)}`;
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
