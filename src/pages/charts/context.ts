/** Facts of a results document that all pictures need, with the words and figures of the report. */
import { identityKey } from '../../results/identity.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import {
  coverageFactor,
  coverageText,
  judgedText,
  measuredText,
  positionText,
  reportUnits,
  unitFor,
  withUnit,
  type ReportUnit,
  type ReportUnits,
} from '../../results/words/format-quantity.js';
import { againstDatum } from '../../results/words/texts.js';
import { nameText, phaseText, referenceText, verdictText } from '../words/names.js';
import { english, type Words } from '../words/words.js';
import type {
  CharacteristicResult,
  Determined,
  PhaseResults,
  Results,
  StationResult,
} from '../../results/results-schema.js';
import { safeTokens } from './chart-keys.js';

export type SurveyRail = Results['survey']['rails'][number];
export type Role = 'as-found' | 'as-left';

export interface PhaseContext {
  readonly name: PhaseName;
  /** The style of the phase: that of as found, or that of as left. */
  readonly role: Role;
  /** "as found" */
  readonly words: string;
  readonly phase: PhaseResults;
}

/** With the words of its language. */
export interface Context extends ReportUnits, Words {
  readonly results: Results;
  /** One or two phases in order of time. If there are more, the first and the last are drawn. */
  readonly phases: readonly PhaseContext[];
  /** The judged phase. */
  readonly last: PhaseContext;
  readonly datum: SurveyRail | undefined;
  readonly k: number;
  /** "95 %" */
  readonly coverage: string;
  /** Part of a file name for each rail id. */
  readonly tokens: ReadonlyMap<string, string>;
}

/** @returns null for a document without phases. */
export function contextOf(results: Results, words: Words = english): Context | null {
  const named = Object.entries(results.phases);
  const phases = named
    .filter((_, i) => i === 0 || i === named.length - 1)
    .map(([name, phase], i): PhaseContext => {
      const role = i === 0 && (named.length > 1 || name === 'as-found') ? 'as-found' : 'as-left';
      return { name, role, words: phaseText(name, words), phase };
    });
  const last = phases.at(-1);
  if (last === undefined) return null;
  return {
    ...words,
    results,
    phases,
    last,
    datum: results.survey.rails.find((rail) => rail.datum),
    ...reportUnits(results.style, words.mark),
    k: coverageFactor(results.settings.coverage),
    coverage: coverageText(results.settings.coverage, words.mark),
    tokens: safeTokens(results.survey.rails.map((rail) => rail.id)),
  };
}

/** "rail A", or "Rail 3" if that is the id. */
export const railWords = (id: string, { say }: Words): string =>
  /^(cross[ -]?)?rail\b/i.test(id) ? id : say('rails.one', { rail: id });

/** Position along the rail's own direction, mm. */
export const railPosition = (rail: SurveyRail, place: { along: number; across: number }): number =>
  rail.direction === 'along' ? place.along : place.across;

export type Judged = Determined & { readonly limit: number };
export const isJudged = (c: CharacteristicResult): c is Judged => c.limit !== null && c.value !== null;

/** true: the same characteristic in two phases. */
export const sameAsked = (a: CharacteristicResult, b: CharacteristicResult): boolean =>
  identityKey(a) === identityKey(b);

/** "Height difference, rail D to rail A" */
export function titleOf(context: Context, c: CharacteristicResult): string {
  const { length, datum, say } = context;
  const at = (mm: number) => withUnit(positionText(mm, length), length);
  const other =
    c.against ??
    (againstDatum.has(c.what) && datum !== undefined && datum.id !== c.rail ? datum.id : undefined);
  const rails =
    c.rails !== undefined && c.rails.length > 0
      ? say('rails.list', { rails: c.rails.join(', ') })
      : other === undefined
        ? railWords(c.rail, context)
        : say('rails.pair', { rail: railWords(c.rail, context), other: railWords(other, context) });
  return [
    nameText(c.what, context),
    ...(c.over === undefined ? [] : [say('condition.any', { length: at(c.over) })]),
    rails,
    ...(c.between === undefined
      ? []
      : [say('condition.from-to', { from: at(c.between[0]), to: at(c.between[1]) })]),
    ...(c.reference === undefined || c.reference === 'least-squares'
      ? []
      : [referenceText(c.reference, context)]),
  ].join(', ');
}

export interface Limits {
  readonly from: number | null;
  readonly to: number | null;
}

/** Limits of a signed characteristic; for a range the zone of that width about the middle of its points. */
export function limitsOf(c: Judged): Limits {
  if (c.zone !== undefined) return { from: c.zone.from, to: c.zone.to };
  if (c.signed) return { from: -c.limit, to: c.limit };
  const middle = middleOf(c);
  return { from: middle - c.limit / 2, to: middle + c.limit / 2 };
}

/** Middle of the points of a range. */
export function middleOf({ profile = [] }: Judged): number {
  const values = profile.map(({ value }) => value);
  return values.length === 0 ? 0 : (Math.max(...values) + Math.min(...values)) / 2;
}

/** "as left: conforms", "16.8 µm (8.7 to 22.3)", "limit 40 µm": lines next to a picture, and its alternative text. */
export function outcomeLines(context: Context, phase: PhaseContext, c: Judged, limits = true): string[] {
  const unit = unitFor(context, c.unit);
  const { interval, limit } = figuresOf(context, c);
  const value = valueText(context, c);
  return [
    phase.words,
    verdictText(c.verdict, context),
    value,
    context.say('figure.interval', {
      coverage: context.coverage,
      from: interval![0],
      to: interval![1],
    }),
    ...(limits ? [limitText(c, limit!, unit, context)] : []),
  ];
}

const figuresOf = (context: Context, c: Judged) =>
  judgedText({ ...c, expanded: c.u * context.k }, unitFor(context, c.unit));

/** "16.8 µm", "+50 ± 11 µm" */
function valueText(context: Context, c: Judged): string {
  const unit = unitFor(context, c.unit);
  const { value, expanded } = figuresOf(context, c);
  return withUnit(c.signed ? `${value} ± ${expanded}` : value, unit);
}

function limitText(c: Judged, limit: string, unit: ReportUnit, { say, trimmed }: Words): string {
  if (c.zone !== undefined) {
    const { from, to } = c.zone;
    const text = (x: number) => trimmed(unit.fromBase(x), 4, { signed: true });
    if (from !== null && to !== null)
      return say('figure.limits', { from: text(from), to: withUnit(text(to), unit) });
    return say('figure.limit', { limit: withUnit(text((from ?? to)!), unit) });
  }
  return say(c.signed ? 'figure.limits-both' : 'figure.limit-wide', { limit: withUnit(limit, unit) });
}

/** A figure without its own uncertainty, to a tenth of the relevant uncertainty: "+7.2". */
export function signedText(base: number, unit: ReportUnit, expanded = 0): string {
  return measuredText(base, expanded, unit, { signed: true }).value;
}

/** Reading, deviation and uncertainty of a station, for the pointer. */
export const stationKey = (rail: string, station: number): string => `${rail}:${station}`;

/** By rail and number. */
export const stationsOf = ({ phase }: PhaseContext): ReadonlyMap<string, StationResult> =>
  new Map(phase.stations.map((s) => [stationKey(s.rail, s.station), s]));
