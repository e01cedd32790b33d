/** Charts of the values of a machine over its surveys. */
import { renderChart, type ChartFonts } from '../../pages/charts/render-svg.js';
import { dayNumber, trendChart, type TrendInput, type TrendPanel } from '../../pages/charts/trend-chart.js';
import {
  baseUnits,
  coverageText,
  judgedText,
  reportUnits,
  unitFor,
  withUnit,
  type DecimalMark,
  type ReportUnits,
} from '../../results/words/format-quantity.js';
import { identityText, verdictText } from '../../pages/words/names.js';
import type { Words } from '../../pages/words/words.js';
import { namingFor, type Naming } from '../../results/identity.js';
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
export const registerUnits = (mark: DecimalMark): ReportUnits =>
  reportUnits({ length: 'mm', deviation: 'um', slope: 'um/m' }, mark);

/** Jobs have different datum rails, so a register calls each "the datum". */
export const registerNaming: Naming = { datum: null, length: baseUnits.length };

/**
 * @param key Unique in the page.
 * @param read The results of a survey; null: they cannot be read.
 * @returns null: no characteristic was determined on two days.
 */
export async function trendPicture(
  machine: Machine,
  key: string,
  read: ReadResults,
  { fonts, words }: { readonly fonts: ChartFonts; readonly words: Words },
): Promise<TrendPicture | null> {
  const { say } = words;
  const dated = machine.surveys.filter((survey): survey is Dated => survey.day !== null);
  const latest = dated.slice(-MAX_SURVEYS);
  const surveys = await resultsOf(latest, read);
  const trends = trendsOf(surveys);
  if (trends.length === 0) return null;
  const coverages = new Set(surveys.map(({ results }) => results.settings.coverage));
  const chart = trendChart(inputOf(machine, trends.slice(0, MAX_PANELS), [...coverages], words), key, words);
  const notes = [
    noteIf(trends.length > MAX_PANELS, say('trend.some', { most: MAX_PANELS, all: trends.length })),
    noteIf(dated.length > MAX_SURVEYS, say('trend.latest', { most: MAX_SURVEYS, all: dated.length })),
    noteIf(
      machine.surveys.length > dated.length,
      say('trend.undated', { count: machine.surveys.length - dated.length }),
    ),
    noteIf(
      latest.length > surveys.length,
      say('trend.unreadable', { count: latest.length - surveys.length }),
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
  trends: readonly Trend[],
  coverages: readonly number[],
  words: Words,
): TrendInput {
  const { say } = words;
  const whose = [name, serial === null ? null : say('head.serial', { serial })]
    .filter((part) => part !== null)
    .join(', ');
  const naming = namingFor(trends, registerNaming);
  const panels = trends.map((trend) => panelOf(trend, naming, words));
  const [coverage] = coverages;
  return {
    title: say('trend.title', { machine: visible(whose) }),
    alt: altOf(trends, panels, words),
    panels,
    intervalLabel:
      coverages.length === 1
        ? say('trend.interval', { coverage: coverageText(coverage!, words.mark) })
        : say('trend.intervals'),
  };
}

function panelOf(trend: Trend, naming: Naming, words: Words): TrendPanel {
  const unit = unitFor(baseUnits, trend.unit);
  const inUnit = (value: number) => unit.fromBase(value);
  return {
    name: identityText(trend, naming, words),
    outcome: outcomeOf(trend, words),
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
function outcomeOf(trend: Trend, words: Words): string {
  const { say, mark } = words;
  const last = trend.points.findLast(({ value }) => value !== null)!;
  const unit = unitFor(registerUnits(mark), trend.unit);
  const { value, interval, limit } = textOf(trend, last as Known, mark);
  return say('trend.outcome', {
    value: withUnit(value, unit),
    interval: interval === null ? 'none' : say('range', { from: interval[0], to: interval[1] }),
    limit: limit === null ? 'none' : `${trend.signed ? '±\u2009' : ''}${withUnit(limit, unit)}`,
    verdict: verdictText(last.verdict, words),
  });
}

type Known = TrendPoint & { readonly value: number };

/** Half the interval is used as the expanded uncertainty, which only decides how many digits are printed. */
function textOf({ signed, ...trend }: Trend, { value, interval, limit }: Known, mark: DecimalMark) {
  const expanded = interval === null ? 0 : (interval[1] - interval[0]) / 2;
  return judgedText({ value, expanded, interval, limit, signed }, unitFor(registerUnits(mark), trend.unit));
}

/** Number of values of each characteristic in the alternative text: the latest ones. */
const MAX_TOLD = 6;

function altOf(trends: readonly Trend[], panels: readonly TrendPanel[], { say, day, mark }: Words): string {
  const days = trends.flatMap(({ points }) => points.map(({ day }) => day)).sort();
  const lines = trends.map((trend, i) => {
    const known = trend.points.filter((point): point is Known => point.value !== null);
    const told = known.slice(-MAX_TOLD).map((point) => textOf(trend, point, mark).value);
    const { name, outcome } = panels[i]!;
    return say('trend.told', { name, values: told.join(', '), outcome });
  });
  return say('trend.alt', {
    count: panels.length,
    from: day(days[0]!),
    to: day(days.at(-1)!),
    lines: lines.join(' '),
  });
}
