/** The characteristics with a limit as rows: numbered as Table 1 has them, with the texts that page 1 and Table 1 share. */
import type { CharacteristicResult, Determined, Results } from '../../../results/results-schema.js';
import { judgedFigures, limitJudged, shareOf } from '../../../results/urgency.js';
import {
  decimalsOf,
  judgedText,
  plusMinus,
  unitFor,
  withUnit,
  type ReportUnit,
} from '../../../results/words/format-quantity.js';
import { phasesOf, type Figures } from '../figures.js';
import { capitalised } from '../sentence.js';
import { nameText } from '../../words/names.js';
import type { Words } from '../../words/words.js';
import type { Bar, Span } from './bars.js';
import { characteristicKey, conditionWords, datumId, limitParts, railWords } from './characteristic-names.js';

export interface JudgedRow {
  /** In Table 1. */
  readonly n: number;
  /** Heading over its rows in Table 1. */
  readonly group: string;
  readonly made: CharacteristicResult;
  /** The same in the first of several phases. */
  readonly before: CharacteristicResult | null;
  /** Place in the list of its phase. */
  readonly index: number;
}

/** Of the last phase, in the order of Table 1: by rail or pair of rails. */
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

/** "rail B", "rails A, B and C", "rail A, any 1000 mm": what stands under the name of a row. */
export const rowWhere = (made: CharacteristicResult, results: Results, figures: Figures): string => {
  return [railWords(made, datumId(results), figures), conditionWords({ ...made, zone: undefined }, figures)]
    .filter(Boolean)
    .join(', ');
};

export const rowName = (made: CharacteristicResult, words: Words): string => nameText(made.what, words);

/** Ends of a signed figure: the one nearest to its own limit first; of a range and of one functional alone, itself. */
interface End {
  readonly value: number;
  readonly u: number;
  readonly at: string;
  /** Its own limit; null: that side is open. */
  readonly limit: number | null;
}

const placeText = (places: readonly { readonly rail: string; readonly station: number }[]): string =>
  places.map(({ rail, station }) => `${rail}:${station}`).join(', ');

function endsOf(made: Determined, { say }: Words): readonly End[] {
  const from = made.zone === undefined ? -made.limit! : made.zone.from;
  const to = made.zone === undefined ? made.limit! : made.zone.to;
  const own = placeText(made.at);
  if (!made.signed || made.extremes === undefined)
    return [{ value: made.value, u: made.u, at: own || say('row.whole-rail'), limit: to ?? from }];
  const { least, greatest } = made.extremes;
  const up: End = { ...greatest, at: placeText([greatest]), limit: to };
  const down: End = { ...least, at: placeText([least]), limit: from };
  return made.value === greatest.value ? [up, down] : [down, up];
}

export interface RowTexts {
  /** Value of each end. */
  readonly values: readonly string[];
  /** ± U of each end, or the interval. */
  readonly spreads: readonly string[];
  readonly at: readonly string[];
  readonly limits: readonly string[];
  readonly unit: string;
  /** "−40 ± 11 µm at D:11", "up to 13.8 µm": in a sentence. */
  readonly said: string;
  /** The limit in a sentence, with its unit. */
  readonly limitSaid: string;
}

export function rowTexts(made: CharacteristicResult, figures: Figures): RowTexts {
  const { say } = figures;
  const unit = unitFor(figures.units, made.unit);
  const limits = limitTexts(made, unit, figures);
  const limitSaid = withUnit(
    limits.length > 1 ? say('range', { from: limits[0]!, to: limits[1]! }) : limits[0]!,
    unit,
  );
  if (made.value === null)
    return {
      values: [say('not-determined')],
      spreads: ['–'],
      at: ['–'],
      limits,
      unit: unit.label,
      said: say('not-determined'),
      limitSaid,
    };
  const textOf = ({ value, u, limit }: Pick<End, 'value' | 'u' | 'limit'>) =>
    judgedText(
      {
        value,
        expanded: figures.k * u,
        interval: made.signed ? null : made.interval,
        limit: limit === null ? null : Math.abs(limit),
        signed: made.signed,
      },
      unit,
    );
  if (!made.signed) {
    const text = textOf({ value: made.value, u: made.u, limit: made.limit });
    const [low, high] = text.interval!;
    return {
      values: [text.value],
      spreads: [say('range', { from: low, to: high })],
      at: [placeText(made.at) || say('row.whole-rail')],
      limits,
      unit: unit.label,
      said:
        made.verdict === 'does-not-conform'
          ? say('figure.range', {
              figure: withUnit(text.value, unit),
              from: low,
              to: withUnit(high, unit),
            })
          : say('figure.up-to', { figure: withUnit(high, unit) }),
      limitSaid,
    };
  }
  const ends = endsOf(made, figures).filter(({ limit }, k) => k === 0 || limit !== null);
  const texts = ends.map(textOf);
  return {
    values: texts.map(({ value }) => value),
    // Each end beside its own limit.
    limits: limits.length > 1 && ends[0]!.limit === made.zone?.to ? [...limits].reverse() : limits,
    spreads: texts.map(({ expanded }) => `± ${expanded}`),
    at: ends.map(({ at }) => at),
    unit: unit.label,
    said: say('figure.at', { figure: withUnit(plusMinus(texts[0]!), unit), at: ends[0]!.at }),
    limitSaid,
  };
}

/** "40", "±60"; of two sides both, the lower one first. */
function limitTexts(made: CharacteristicResult, unit: ReportUnit, figures: Figures): string[] {
  if (made.limit === null) return ['–'];
  const one = judgedText(
    {
      value: made.value ?? 0,
      expanded: figures.k * (made.u ?? 0),
      interval: made.signed ? null : made.interval,
      limit: made.limit,
      signed: made.signed,
    },
    unit,
  ).limit!;
  return limitParts(made, one, unit, figures);
}

/** What is drawn of a row; null: there is no value. */
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
  const lane = (value: number, u: number, side: 1 | -1): Bar['lanes'][number] => {
    const size = side * (value - middle);
    return {
      from: shareOf(Math.max(0, size - k * u), half),
      value: shareOf(size, half),
      to: shareOf(size + k * u, half),
      sign: side === 1 ? '+' : '−',
    };
  };
  const own = { value: made.value, u: made.u };
  const up = lane(extremes?.greatest.value ?? own.value, extremes?.greatest.u ?? own.u, 1);
  const down = lane(extremes?.least.value ?? own.value, extremes?.least.u ?? own.u, -1);
  return up.value >= down.value ? [up, down] : [down, up];
}

/** "0.1 %", "under 0.1 %", "2.5 %", taken up to the next tenth: a bound is not rounded down. */
export function riskText(atMost: number, { number }: Words): string {
  const percent = 100 * atMost;
  if (percent >= 10) return `${number(Math.ceil(percent - 1e-6), 0)} %`;
  return `${number(Math.max(0.1, Math.ceil(10 * percent - 1e-6) / 10), 1)} %`;
}

/** How far inside its limit the value must lie, as text. */
export function guardText(made: CharacteristicResult, figures: Figures): string {
  const judged = judgedFigures(made);
  if (judged === null) return '–';
  const unit = unitFor(figures.units, made.unit);
  const band = judged.upper - judged.value;
  const { value } = judgedText(
    { value: judged.value, expanded: figures.k * (made.u ?? 0), interval: null, limit: null, signed: false },
    unit,
  );
  return figures.number(unit.fromBase(Math.max(0, band)), Math.min(1, decimalsOf(value)));
}
