/** The characteristics with a limit as rows, numbered as in Table 1, with the texts that page 1 and Table 1 share. */
import type { CharacteristicResult, Determined, Results } from '../../../results/results-schema.js';
import { judgedFigures, limitJudged, shareOf } from '../../../results/urgency.js';
import {
  judgedText,
  plusMinus,
  unitFor,
  withUnit,
  type ReportUnit,
  percentText,
} from '../../../results/words/format-quantity.js';
import { placeText, stationText } from '../place-text.js';
import { phasesOf, twoDigits, type Figures } from '../figures.js';
import { capitalised } from '../sentence.js';
import { nameText } from '../../words/names.js';
import type { Words } from '../../words/words.js';
import type { Bar, Span } from './bars.js';
import { characteristicKey, conditionWords, datumId, limitParts, railWords } from './characteristic-names.js';

export interface JudgedRow {
  /** Number in Table 1. */
  readonly n: number;
  /** Heading above its rows in Table 1. */
  readonly group: string;
  readonly made: CharacteristicResult;
  /** The same in the first of several phases. */
  readonly before: CharacteristicResult | null;
  /** Index in the list of its phase. */
  readonly index: number;
}

/** Rows of the last phase, in the order of Table 1: by rail or pair of rails. */
export function judgedRows(results: Results, words: Words): JudgedRow[] {
  const phases = phasesOf(results);
  const last = phases.at(-1)!.phase.characteristics;
  const earlier = phases.length > 1 ? phases[0]!.phase.characteristics : [];
  const seen = new Map<string, number>();
  const keyed = (list: readonly CharacteristicResult[]) => {
    seen.clear();
    return list.map((made) => {
      const key = characteristicKey(made);
      const n = (seen.get(key) ?? 0) + (made.limit === null ? 0 : 1);
      seen.set(key, n);
      return { key: `${key} ${n}`, made };
    });
  };
  const byKey = new Map(keyed(earlier).map(({ key, made }) => [key, made]));
  const datum = datumId(results);
  const rows = keyed(last).flatMap(({ key, made }, index) =>
    made.limit === null
      ? []
      : [{ made, before: byKey.get(key) ?? null, index, group: groupOf(made, datum, results, words) }],
  );
  const groups = [...new Set(rows.map(({ group }) => group))];
  return groups
    .flatMap((group) => rows.filter((row) => row.group === group))
    .map((row, k) => ({ ...row, n: k + 1 }));
}

function groupOf(made: CharacteristicResult, datum: string, { survey }: Results, words: Words): string {
  if (made.rails !== undefined || made.what === 'coplanarity') return words.say('table1.together');
  const rails = railWords(made, datum, words);
  const name = survey.rails.find(({ id }) => rails === words.say('rails.one', { rail: id }))?.name;
  return capitalised(name ? words.say('table1.rail', { rail: rails, name }) : rails);
}

/** "rail B", "rails A, B and C", "rail A, any 1000 mm": what is under the name of a row. */
export const rowWhere = (made: CharacteristicResult, results: Results, figures: Figures): string => {
  return [railWords(made, datumId(results), figures), conditionWords({ ...made, zone: undefined }, figures)]
    .filter(Boolean)
    .join(', ');
};

export const rowName = (made: CharacteristicResult, words: Words): string => nameText(made.what, words);

/** The ends of a signed figure, the one nearest to its own limit first. For a range or a single functional, the figure itself. */
interface End {
  readonly value: number;
  readonly u: number;
  /** '': the whole rail. */
  readonly at: string;
  /** Its own limit; null: that side is open. */
  readonly limit: number | null;
}

function endsOf(made: Determined, words: Words): readonly End[] {
  const from = made.zone === undefined ? -made.limit! : made.zone.from;
  const to = made.zone === undefined ? made.limit! : made.zone.to;
  if (!made.signed || made.extremes === undefined)
    return [{ value: made.value, u: made.u, at: placeText(made, words), limit: to ?? from }];
  const { least, greatest } = made.extremes;
  const up: End = { ...greatest, at: stationText(greatest), limit: to };
  const down: End = { ...least, at: stationText(least), limit: from };
  return made.value === greatest.value ? [up, down] : [down, up];
}

/** The texts of a row; a signed figure has one per end. */
export function rowTexts(made: CharacteristicResult, figures: Figures) {
  const { say } = figures;
  const unit = unitFor(figures.units, made.unit);
  const limits = limitTexts(made, unit, figures);
  const [first, second] = limits as [string, string?];
  const limit = second === undefined ? first : say('range', { from: first, to: second });
  const texts = (values: string[], spreads: string[], at: string[], said: string) => ({
    values,
    /** ± U of each end, or the interval. */
    spreads,
    at,
    limits,
    unit: unit.label,
    /** "−40 ± 11 µm at D:11", "up to 13.8 µm": in a sentence. */
    said,
    /** The limit in a sentence, with its unit. */
    limitSaid: withUnit(limit, unit),
  });
  if (made.value === null) return texts([say('not-determined')], ['–'], ['–'], say('not-determined'));
  const { signed, interval, verdict } = made;
  const textOf = ({ value, u, limit: own }: Pick<End, 'value' | 'u' | 'limit'>) =>
    judgedText(
      {
        ...{ value, signed, expanded: figures.k * u, interval: signed ? null : interval },
        limit: own === null ? null : Math.abs(own),
      },
      unit,
    );
  if (!signed) {
    const text = textOf(made);
    const [from, to] = text.interval!;
    const said =
      verdict === 'does-not-conform'
        ? say('figure.range', { figure: withUnit(text.value, unit), from, to: withUnit(to, unit) })
        : say('figure.up-to', { figure: withUnit(to, unit) });
    return texts(
      [text.value],
      [say('range', { from, to })],
      [placeText(made, figures) || say('row.whole-rail')],
      said,
    );
  }
  const ends = endsOf(made, figures).filter(({ limit: own }, k) => k === 0 || own !== null);
  const shown = ends.map(textOf);
  const at = ends.map((end) => end.at || say('row.whole-rail'));
  const figure = withUnit(plusMinus(shown[0]!), unit);
  return {
    ...texts(
      shown.map(({ value }) => value),
      shown.map(({ expanded }) => `± ${expanded}`),
      at,
      ends[0]!.at === '' ? figure : say('figure.at', { figure, at: ends[0]!.at }),
    ),
    // Each end with its own limit.
    limits: limits.length > 1 && ends[0]!.limit === made.zone?.to ? [...limits].reverse() : limits,
  };
}

/** "40", "±60"; of two sides both, the lower one first. */
function limitTexts(made: CharacteristicResult, unit: ReportUnit, figures: Figures): string[] {
  if (made.limit === null) return ['–'];
  const { value, u, signed, interval, limit } = made;
  const judged = { value: value ?? 0, expanded: figures.k * (u ?? 0), signed, limit };
  const one = judgedText({ ...judged, interval: signed ? null : interval }, unit).limit!;
  return limitParts(made, one, unit, figures);
}

/** The bar of a row; null: there is no value. */
export function barOf(
  { made, before }: Pick<JudgedRow, 'made' | 'before'>,
  k: number,
  isFound: boolean,
): Bar | null {
  const own = spanOf(made);
  if (own === null || made.value === null) return null;
  return {
    lanes: lanesOf(made, own, k),
    before: before === null ? null : spanOf(before),
    colour: isFound ? 'found' : 'left',
  };
}

function spanOf(made: CharacteristicResult): Span | null {
  const [figures, limit] = [judgedFigures(made), limitJudged(made)];
  if (figures === null || limit === null) return null;
  const { lower, value, upper } = figures;
  return { from: shareOf(lower, limit), value: shareOf(value, limit), to: shareOf(upper, limit) };
}

function lanesOf(made: Determined, span: Span, k: number): Bar['lanes'] {
  const { zone, extremes } = made;
  const isOpen = zone !== undefined && (zone.from === null || zone.to === null);
  if (!made.signed || isOpen) return [{ ...span, sign: '' }];
  const middle = zone === undefined ? 0 : (zone.from! + zone.to!) / 2;
  const half = zone === undefined ? made.limit! : (zone.to! - zone.from!) / 2;
  const { greatest, least } = extremes ?? { greatest: made, least: made };
  const isUp = extremes === undefined ? made.value >= middle : made.value === greatest.value;
  const side = isUp ? 1 : -1;
  const [other, sign] = isUp ? [least, '−' as const] : [greatest, '+' as const];
  const size = side * (middle - other.value);
  return [
    // The deciding end, as it is judged.
    { ...span, sign: isUp ? '+' : '−' },
    {
      from: shareOf(Math.max(0, size - k * other.u), half),
      value: shareOf(size, half),
      to: shareOf(size + k * other.u, half),
      sign,
    },
  ];
}

/** "0.1 %", "under 0.1 %", "2.5 %", rounded up to the next tenth, because it is an upper bound. */
export function riskText(atMost: number, { number }: Words): string {
  const percent = 100 * atMost;
  if (percent >= 10) return percentText(number(Math.ceil(percent - 1e-6), 0));
  return percentText(number(Math.max(0.1, Math.ceil(10 * percent - 1e-6) / 10), 1));
}

/** The guard band, as text. */
export function guardText(made: CharacteristicResult, figures: Figures): string {
  const judged = judgedFigures(made);
  if (judged === null) return '–';
  const unit = unitFor(figures.units, made.unit);
  const band = unit.fromBase(Math.max(0, judged.upper - judged.value));
  return band === 0 ? '0' : twoDigits(band, figures);
}
