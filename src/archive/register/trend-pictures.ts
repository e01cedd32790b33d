/** Pictures of what became of a machine over its surveys. */
import { renderChart, type ChartFonts } from '../../pages/charts/render-svg.js';
import { dayNumber, trendChart, type TrendInput, type TrendPanel } from '../../pages/charts/trend-chart.js';
import {
  baseUnits,
  coverageText,
  judgedText,
  unitFor,
  withUnit,
} from '../../results/words/format-quantity.js';
import { counted } from '../../pages/report/sentence.js';
import { identityName, namingFor, type Naming } from '../../results/identity.js';
import { verdictWords } from '../../results/words/texts.js';
import { visible } from '../../base/diagnostics/messages.js';
import type { Results } from '../../results/results-schema.js';
import type { Machine, Survey } from './machines.js';
import type { ReportedRow } from './register.js';
import { trendsOf, type Surveyed, type Trend, type TrendPoint } from './trends.js';

/** Characteristics of a machine that are drawn. */
const MOST_PANELS = 4;
/** Surveys of a machine that are drawn: the latest. More would not be told apart. */
const MOST_SURVEYS = 50;

export type ReadResults = (row: ReportedRow) => Promise<Results | null>;

export interface TrendPicture {
  readonly svg: string;
  readonly alt: string;
  /** What is not drawn, and why. */
  readonly notes: readonly string[];
}

/** The register's own units, whatever each job's are. */
export const registerUnits = baseUnits;

/** Jobs differ in their datum rails: a register calls each "the datum". */
export const registerNaming: Naming = { datum: null, length: registerUnits.length };

/**
 * @param key Unique in the page.
 * @param read The results of a survey; null where they cannot be read.
 * @returns null where no characteristic was determined on two days.
 */
export async function trendPicture(
  machine: Machine,
  key: string,
  read: ReadResults,
  fonts: ChartFonts,
): Promise<TrendPicture | null> {
  const dated = machine.surveys.filter((survey): survey is Dated => survey.day !== null);
  const latest = dated.slice(-MOST_SURVEYS);
  const surveys = await resultsOf(latest, read);
  const trends = trendsOf(surveys);
  if (trends.length === 0) return null;
  const coverages = new Set(surveys.map(({ results }) => results.settings.coverage));
  const chart = trendChart(inputOf(machine, key, trends.slice(0, MOST_PANELS), [...coverages]));
  const notes = [
    some(
      trends.length > MOST_PANELS,
      `Drawn are the ${MOST_PANELS} of ${trends.length} characteristics that last were nearest their limits.`,
    ),
    some(dated.length > MOST_SURVEYS, `Drawn are the latest ${MOST_SURVEYS} of ${dated.length} surveys.`),
    some(
      machine.surveys.length > dated.length,
      `Without a date, and not drawn: ${counted(machine.surveys.length - dated.length, 'survey')}.`,
    ),
    some(
      latest.length > surveys.length,
      `With results that cannot be read, and not drawn: ${counted(latest.length - surveys.length, 'survey')}.`,
    ),
  ].flat();
  return { svg: (await renderChart(chart, fonts)).svg, alt: chart.alt, notes };
}

type Dated = Survey & { readonly day: string };
const some = (isSo: boolean, text: string): string[] => (isSo ? [text] : []);

async function resultsOf(surveys: readonly Dated[], read: ReadResults): Promise<Surveyed[]> {
  const found: Surveyed[] = [];
  for (const { day, row } of surveys) {
    const results = await read(row);
    if (results !== null) found.push({ day, results });
  }
  return found;
}

function inputOf(
  { name, serial }: Machine,
  key: string,
  trends: readonly Trend[],
  coverages: readonly number[],
): TrendInput {
  const whose = [name, serial === null ? null : `serial ${serial}`]
    .filter((part) => part !== null)
    .join(', ');
  const naming = namingFor(trends, registerNaming);
  const panels = trends.map((trend) => panelOf(trend, naming));
  const [coverage] = coverages;
  return {
    key,
    title: `Trends of ${visible(whose)}`,
    alt: altOf(trends, panels),
    panels,
    intervalLabel:
      coverages.length === 1 ? `${coverageText(coverage!)} interval` : 'coverage interval of each survey',
  };
}

function panelOf(trend: Trend, naming: Naming): TrendPanel {
  const unit = unitFor(registerUnits, trend.unit);
  const inUnit = (value: number) => unit.fromBase(value);
  return {
    name: identityName(trend, naming),
    outcome: outcomeOf(trend),
    signed: trend.signed,
    values: trend.points.map(({ day, phase, value, interval, limit, verdict }) => ({
      day: dayNumber(day),
      phase,
      value: value === null ? null : inUnit(value),
      interval: interval === null ? null : [inUnit(interval[0]), inUnit(interval[1])],
      limit: limit === null ? null : inUnit(limit),
      verdict,
    })),
  };
}

/** "last 31.4 µm (27.9 to 34.6), limit 40 µm: conforms" */
function outcomeOf(trend: Trend): string {
  const last = trend.points.findLast(({ value }) => value !== null)!;
  const unit = unitFor(registerUnits, trend.unit);
  const { value, interval, limit } = textOf(trend, last as Known);
  const range = interval === null ? '' : ` (${interval[0]} to ${interval[1]})`;
  const judged =
    limit === null
      ? ''
      : `, limit ${trend.signed ? '±\u2009' : ''}${withUnit(limit, unit)}: ${verdictWords[last.verdict]}`;
  return `last ${withUnit(value, unit)}${range}${judged}`;
}

type Known = TrendPoint & { readonly value: number };

/** Half the interval stands for the expanded uncertainty, which only says how many digits are worth telling. */
function textOf({ signed, ...trend }: Trend, { value, interval, limit }: Known) {
  const expanded = interval === null ? 0 : (interval[1] - interval[0]) / 2;
  return judgedText({ value, expanded, interval, limit, signed }, unitFor(registerUnits, trend.unit));
}

/** Values that the alternative text lists of each characteristic: the latest. */
const MOST_TOLD = 6;

function altOf(trends: readonly Trend[], panels: readonly TrendPanel[]): string {
  const days = trends.flatMap(({ points }) => points.map(({ day }) => day)).sort();
  const lines = trends.map((trend, i) => {
    const known = trend.points.filter((point): point is Known => point.value !== null);
    const told = known.slice(-MOST_TOLD).map((point) => textOf(trend, point).value);
    return `${panels[i]!.name}: ${told.join(', ')}; ${panels[i]!.outcome}.`;
  });
  return `${counted(panels.length, 'chart')} of values over time, from ${days[0]} to ${days.at(-1)}. ${lines.join(' ')}`;
}
