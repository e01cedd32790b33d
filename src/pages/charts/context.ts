/** What every picture asks of a results document, looked up once; words and figures as the report has them. */
import { identityKey } from '../../results/identity.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import {
  coverageFactor,
  coverageText,
  judgedText,
  measuredText,
  positionText,
  reportUnits,
  trimmedText,
  unitFor,
  withUnit,
  type ReportUnit,
  type ReportUnits,
} from '../../results/words/format-quantity.js';
import { characteristicNames, phaseWords, referenceWords, verdictWords } from '../../results/words/texts.js';
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
  /** How it is drawn: as what was found before, or as what was left. */
  readonly role: Role;
  /** "as found" */
  readonly words: string;
  readonly phase: PhaseResults;
}

export interface Context extends ReportUnits {
  readonly results: Results;
  /** In order of time, one or two: of more the first and the last are drawn. */
  readonly phases: readonly PhaseContext[];
  /** The one that carries the verdict. */
  readonly last: PhaseContext;
  readonly datum: SurveyRail | undefined;
  readonly k: number;
  /** "95 %" */
  readonly coverage: string;
  /** Part of a file name for each rail id. */
  readonly tokens: ReadonlyMap<string, string>;
}

/** @returns null for a document without phases. */
export function contextOf(results: Results): Context | null {
  const named = Object.entries(results.phases);
  const phases = named
    .filter((_, i) => i === 0 || i === named.length - 1)
    .map(([name, phase], i): PhaseContext => {
      const role = i === 0 && (named.length > 1 || name === 'as-found') ? 'as-found' : 'as-left';
      return { name, role, words: phaseWords(name), phase };
    });
  const last = phases.at(-1);
  if (last === undefined) return null;
  return {
    results,
    phases,
    last,
    datum: results.survey.rails.find((rail) => rail.datum),
    ...reportUnits(results.style),
    k: coverageFactor(results.settings.coverage),
    coverage: coverageText(results.settings.coverage),
    tokens: safeTokens(results.survey.rails.map((rail) => rail.id)),
  };
}

/** "rail A", but "Rail 3" where the id says so itself. */
export const railWords = (id: string): string => (/^(cross[ -]?)?rail\b/i.test(id) ? id : `rail ${id}`);

/** Position along the rail's own direction, mm. */
export const railPosition = (rail: SurveyRail, place: { along: number; across: number }): number =>
  rail.direction === 'along' ? place.along : place.across;

export type Judged = Determined & { readonly limit: number };
export const isJudged = (c: CharacteristicResult): c is Judged => c.limit !== null && c.value !== null;

/** Whether they are one characteristic of two phases. */
export const sameAsked = (a: CharacteristicResult, b: CharacteristicResult): boolean =>
  identityKey(a) === identityKey(b);

/** "Height difference, rail D to rail A" */
export function titleOf(context: Context, c: CharacteristicResult): string {
  const { length, datum } = context;
  const at = (mm: number) => withUnit(positionText(mm, length), length);
  const other =
    c.against ?? (isAgainst(c) && datum !== undefined && datum.id !== c.rail ? datum.id : undefined);
  const rails =
    c.rails !== undefined && c.rails.length > 0
      ? `rails ${c.rails.join(', ')}`
      : railWords(c.rail) + (other === undefined ? '' : ` to ${railWords(other)}`);
  return [
    characteristicNames[c.what],
    ...(c.over === undefined ? [] : [`any ${at(c.over)}`]),
    rails,
    ...(c.between === undefined ? [] : [`from ${at(c.between[0])} to ${at(c.between[1])}`]),
    ...(c.reference === undefined || c.reference === 'least-squares' ? [] : [referenceWords[c.reference]]),
  ].join(', ');
}

const isAgainst = ({ what }: CharacteristicResult): boolean => !/^(straightness|level|joint|rate)/.test(what);

export interface Limits {
  readonly from: number | null;
  readonly to: number | null;
}

/** Limits of a signed characteristic; of a range the zone of that width about the middle of its points. */
export function limitsOf(c: Judged): Limits {
  if (c.zone !== undefined) return { from: c.zone.from, to: c.zone.to };
  if (c.signed) return { from: -c.limit, to: c.limit };
  const middle = middleOf(c);
  return { from: middle - c.limit / 2, to: middle + c.limit / 2 };
}

/** Of the points of a range. */
export function middleOf({ profile = [] }: Judged): number {
  const values = profile.map(({ value }) => value);
  return values.length === 0 ? 0 : (Math.max(...values) + Math.min(...values)) / 2;
}

/** "as left: conforms", "16.8 µm (8.7 to 22.3)", "limit 40 µm": lines that stand beside a picture, and its alternative text. */
export function outcomeLines(context: Context, phase: PhaseContext, c: Judged, limits = true): string[] {
  const unit = unitFor(context, c.unit);
  const { interval, limit } = figuresOf(context, c);
  const value = valueText(context, c);
  return [
    phase.words,
    verdictWords[c.verdict],
    value,
    `${context.coverage}: ${interval![0]} to ${interval![1]}`,
    ...(limits ? [limitText(c, limit!, unit)] : []),
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

function limitText(c: Judged, limit: string, unit: ReportUnit): string {
  if (c.zone !== undefined) {
    const { from, to } = c.zone;
    const text = (x: number) => trimmedText(unit.fromBase(x), 4, { signed: true });
    if (from !== null && to !== null) return withUnit(`limits ${text(from)} to ${text(to)}`, unit);
    return withUnit(from === null ? `limit ${text(to!)}` : `limit ${text(from)}`, unit);
  }
  return c.signed ? withUnit(`limits ± ${limit}`, unit) : `${withUnit(`limit ${limit}`, unit)} wide`;
}

/** A figure without an uncertainty of its own, to a tenth of what matters: "+7.2". */
export function signedText(base: number, unit: ReportUnit, expanded = 0): string {
  return measuredText(base, expanded, unit, { signed: true }).value;
}

/** Reading, deviation and uncertainty of a station, for whoever points at it. */
export const stationKey = (rail: string, station: number): string => `${rail}:${station}`;

/** By rail and number. */
export const stationsOf = ({ phase }: PhaseContext): ReadonlyMap<string, StationResult> =>
  new Map(phase.stations.map((s) => [stationKey(s.rail, s.station), s]));
