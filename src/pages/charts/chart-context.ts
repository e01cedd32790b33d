/** What every chart asks of a results document, looked up once. */
import type { CharacteristicName, PhaseName, ReferenceName } from '../../survey/job/job-schema.js';
import {
  coverageFactor,
  coverageText,
  judgedText,
  NO_BREAK_SPACE,
  positionText,
  reportUnits,
} from '../../results/words/format-quantity.js';
import { phaseWords, verdictWords } from '../../results/words/texts.js';
import type { ReportUnit, ReportUnits } from '../../results/words/format-quantity.js';
import type {
  CharacteristicResult,
  PhaseResults,
  Results,
  StationResult,
} from '../../results/results-schema.js';
import type { SeriesRole } from './palette.js';
import { safeTokens } from './chart-keys.js';
import { titlePx } from './chart-spec.js';
import { roomPx } from './picture-head.js';
import { fitText, plainText } from './text-fit.js';
import { textWidth } from '../fonts/widths.js';

export type SurveyRail = Results['survey']['rails'][number];

export interface PhaseContext {
  readonly name: PhaseName;
  /** How it is drawn: as what was found before, or as what was left. */
  readonly role: SeriesRole;
  /** "as found" */
  readonly words: string;
  readonly phase: PhaseResults;
  readonly stations: ReadonlyMap<string, ReadonlyMap<number, StationResult>>;
}

export interface ChartContext extends ReportUnits {
  readonly results: Results;
  /** In order of time, one or two: of more the first and the last are drawn. */
  readonly phases: readonly PhaseContext[];
  readonly datum: SurveyRail | undefined;
  /** Factor on u of the uncertainty bars, the one of the report's tables. */
  readonly k: number;
  /** File-name-safe token of each rail id. */
  readonly tokens: ReadonlyMap<string, string>;
}

export function chartContext(results: Results): ChartContext {
  const named = Object.entries(results.phases);
  const phases = named
    .filter((_, i) => i === 0 || i === named.length - 1)
    .map(([name, phase], i): PhaseContext => {
      const role = i === 0 && (named.length > 1 || name === 'as-found') ? 'as-found' : 'as-left';
      return { name, role, words: phaseWords(name), phase, stations: byRail(phase) };
    });
  return {
    results,
    phases,
    datum: results.survey.rails.find((rail) => rail.datum),
    ...reportUnits(results.style),
    k: coverageFactor(results.settings.coverage),
    tokens: safeTokens(results.survey.rails.map((rail) => rail.id)),
  };
}

function byRail(phase: PhaseResults): Map<string, Map<number, StationResult>> {
  const rails = new Map<string, Map<number, StationResult>>();
  for (const station of phase.stations) {
    let rail = rails.get(station.rail);
    if (rail === undefined) rails.set(station.rail, (rail = new Map()));
    rail.set(station.station, station);
  }
  return rails;
}

/** "rail A", but "Rail 3" where the id says so itself. */
export function railWords(id: string, roomPx = 200): string {
  const text = fitText(plainText(id), roomPx, 11);
  return /^(cross[ -]?)?rail\b/i.test(text) ? text : `rail ${text}`;
}

/** What may stand behind a title. */
const closeUpWords = (phase: string): string => `: ${phase} alone, larger`;
export const withCloseUp = (title: string, key: string, phase: PhaseContext): string =>
  key.endsWith('-close-up') ? title + closeUpWords(phase.words) : title;

/**
 * A title with "rail A (Column-side rail)" in it. A long name is cut, or left out, so that the title's other words stay.
 */
export function titleOf(rail: SurveyRail, words: (rail: string) => string): string {
  const id = railWords(rail.id);
  const name = plainText(rail.name ?? '');
  if (name === '' || name === rail.id) return words(id);
  const longest = words(`${id} ()`) + closeUpWords('as found');
  const room = roomPx - textWidth(longest, titlePx, true);
  const fitted = fitText(name, room, titlePx, true);
  return fitted === name || room > 60 ? words(`${id} (${fitted})`) : words(id);
}

/** Units of the x axis in one unit of the y axis, for pictures of a deviation against a length. */
export const lengthPerDeviation = (context: ChartContext): number =>
  context.length.fromBase(1 / context.deviation.fromBase(1) / 1000);

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Nominal distance across from the datum rail, mm, + left; null where one of the two has no station. */
export function acrossFromDatum(rail: SurveyRail, datum: SurveyRail): number | null {
  const [own, other] = [rail.stations[0]?.across, datum.stations[0]?.across];
  return own === undefined || other === undefined ? null : own - other;
}

/** "from 0 to 10 500 mm along" */
export function rangeWords(context: ChartContext, rail: SurveyRail): string {
  const [first, last] = [rail.stations[0]!, rail.stations[rail.stations.length - 1]!];
  const at = (place: { along: number; across: number }) =>
    positionText(railPosition(rail, place), context.length);
  return `from ${at(first)} to ${at(last)}${NO_BREAK_SPACE}${context.length.label} ${rail.direction}`;
}

/** Position along the rail's own direction, mm. */
export const railPosition = (rail: SurveyRail, place: { along: number; across: number }): number =>
  rail.direction === 'along' ? place.along : place.across;

export type Limited = CharacteristicResult & { readonly limit: number };
export const isLimited = (c: CharacteristicResult | undefined): c is Limited =>
  c !== undefined && c.limit !== null;

/**
 * The characteristic of a rail that the verdict rests on: one with a limit before one without, and of several
 * references the one asked for, else least squares.
 */
export function characteristicOf(
  phase: PhaseContext,
  what: CharacteristicName,
  rail: string,
  reference?: ReferenceName,
): CharacteristicResult | undefined {
  let best: CharacteristicResult | undefined;
  let bestRank = -1;
  for (const c of phase.phase.characteristics) {
    // Charts show whole rails against the datum; what a tolerance asks beside that has no line in them.
    if (c.what !== what || c.rail !== rail || c.rails || c.against || c.between || c.side || c.zone) continue;
    if (reference !== undefined && c.reference !== undefined && c.reference !== reference) continue;
    const rank = (c.limit === null ? 0 : 2) + ((c.reference ?? 'least-squares') === 'least-squares' ? 1 : 0);
    if (rank > bestRank) [best, bestRank] = [c, rank];
  }
  return best;
}

/**
 * "as found 182.4 µm · as left 31.4 µm (95 %: 27.9 to 34.6) · limit 40 µm: conforms"; the interval of the last only.
 * Spaces inside a part do not break, so that a long line is broken between parts.
 */
export function outcomeWords(
  context: ChartContext,
  unit: ReportUnit,
  outcomes: readonly (readonly [PhaseContext, CharacteristicResult | undefined])[],
): string {
  const parts: string[] = [];
  for (const [i, [{ words }, outcome]] of outcomes.entries()) {
    if (outcome === undefined) continue;
    if (outcome.value === null) {
      parts.push(`${words} not determined`);
      continue;
    }
    const text = outcomeText(context, outcome, outcome.value, unit);
    const range = `${coverageText(context.results.settings.coverage)}: ${text.interval?.join(' to ')}`;
    const withRange = i === outcomes.length - 1 && text.interval !== null;
    parts.push(`${words} ${text.value} ${unit.label}${withRange ? ` (${range})` : ''}`);
  }
  const last = outcomes[outcomes.length - 1]?.[1];
  if (isLimited(last)) parts.push(`limit ${limitText(context, last, unit)}: ${verdictWords[last.verdict]}`);
  return parts.map((part) => part.replaceAll(' ', NO_BREAK_SPACE)).join(' · ');
}

/** The figures of a characteristic as the report's tables print them. */
export function outcomeText(
  context: ChartContext,
  outcome: CharacteristicResult,
  value: number,
  unit: ReportUnit,
) {
  const { interval, limit, signed, u } = outcome;
  return judgedText({ value, expanded: (u ?? 0) * context.k, interval, limit, signed }, unit);
}

/** "± 60 µm", or without the sign for a range. */
export function limitText(context: ChartContext, outcome: CharacteristicResult, unit: ReportUnit): string {
  const { limit } = outcomeText(context, outcome, outcome.value ?? 0, unit);
  return `${outcome.signed ? '±\u2009' : ''}${limit ?? ''}${NO_BREAK_SPACE}${unit.label}`;
}

/** Nearest to now: as left where there is one. */
export const lastPhase = (context: ChartContext): PhaseContext | undefined =>
  context.phases[context.phases.length - 1];
