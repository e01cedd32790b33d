/** Charts of the values of a machine over its surveys. */
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

/** Number of characteristics of a machine that are drawn. */
const MAX_PANELS = 4;
/** Number of surveys of a machine that are drawn: the latest ones. More could not be told apart. */
const MAX_SURVEYS = 50;

export type ReadResults = (row: ReportedRow) => Promise<Results | null>;

export interface TrendPicture {
  readonly svg: string;
  readonly alt: string;
  /** What is not drawn, and why. */
  readonly notes: readonly string[];
}

/** The units of the register, whatever the units of the jobs are. */
export const registerUnits = baseUnits;

/** Jobs have different datum rails, so a register calls each "the datum". */
export const registerNaming: Naming = { datum: null, length: registerUnits.length };

/**
 * @param key Unique in the page.
 * @param read The results of a survey; null: they cannot be read.
 * @returns null: no characteristic was determined on two days.
 */
export async function trendPicture(
  machine: Machine,
  key: string,
  read: ReadResults,
  fonts: ChartFonts,
): Promise<TrendPicture | null> {
  const dated = machine.surveys.filter((survey): survey is Dated => survey.day !== null);
  const latest = dated.slice(-MAX_SURVEYS);
  const surveys = await resultsOf(latest, read);
  const trends = trendsOf(surveys);
  if (trends.length === 0) return null;
  const coverages = new Set(surveys.map(({ results }) => results.settings.coverage));
  const chart = trendChart(inputOf(machine, key, trends.slice(0, MAX_PANELS), [...coverages]));
  const notes = [
    noteIf(
      trends.length > MAX_PANELS,
      `${MAX_PANELS} of ${trends.length} characteristics are drawn: those whose last values are nearest to their limits.`,
    ),
    noteIf(dated.length > MAX_SURVEYS, `The latest ${MAX_SURVEYS} of ${dated.length} surveys are drawn.`),
    noteIf(
      machine.surveys.length > dated.length,
      `Not drawn, because without a date: ${counted(machine.surveys.length - dated.length, 'survey')}.`,
    ),
    noteIf(
      latest.length > surveys.length,
      `Not drawn, because the results cannot be read: ${counted(latest.length - surveys.length, 'survey')}.`,
    ),
  ].flat();
  return { svg: (await renderChart(chart, fonts)).svg, alt: chart.alt, notes };
}

type Dated = Survey & { readonly day: string };
const noteIf = (holds: boolean, text: string): string[] => (holds ? [text] : []);

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

/** Half the interval is used as the expanded uncertainty, which only decides how many digits are printed. */
function textOf({ signed, ...trend }: Trend, { value, interval, limit }: Known) {
  const expanded = interval === null ? 0 : (interval[1] - interval[0]) / 2;
  return judgedText({ value, expanded, interval, limit, signed }, unitFor(registerUnits, trend.unit));
}

/** Number of values of each characteristic in the alternative text: the latest ones. */
const MAX_TOLD = 6;

function altOf(trends: readonly Trend[], panels: readonly TrendPanel[]): string {
  const days = trends.flatMap(({ points }) => points.map(({ day }) => day)).sort();
  const lines = trends.map((trend, i) => {
    const known = trend.points.filter((point): point is Known => point.value !== null);
    const told = known.slice(-MAX_TOLD).map((point) => textOf(trend, point).value);
    return `${panels[i]!.name}: ${told.join(', ')}; ${panels[i]!.outcome}.`;
  });
  return `${counted(panels.length, 'chart')} of values over time, from ${days[0]} to ${days.at(-1)}. ${lines.join(' ')}`;
}
