/** A rail against the datum rail: height difference, and distance between the two, along the machine. */
import type { CharacteristicResult } from '../../results/results-schema.js';
import type { ChartContext, PhaseContext, SurveyRail } from './chart-context.js';
import {
  acrossFromDatum,
  capital,
  characteristicOf,
  isLimited,
  lengthPerDeviation,
  limitText,
  titleOf,
  withCloseUp,
  outcomeWords,
  railWords,
} from './chart-context.js';
import { rangeWords } from './chart-context.js';
import type { ChartSpec } from './chart-spec.js';
import { roughText } from './number-words.js';
import { drawProfile, type ProfileInput } from './profile/profile.js';
import { needsCloseUp, seriesOf, type ProfileSeries } from './profile/series.js';
import { barLabel, drawingWords } from './profile/words.js';
import { rangeZone, symmetricZone, type Zone } from './profile/zones.js';

export type Direction = 'vertical' | 'horizontal';

export function parallelismCharts(
  context: ChartContext,
  rail: SurveyRail,
  direction: Direction,
): ChartSpec[] {
  const { datum, deviation } = context;
  if (datum === undefined || rail.datum || rail.direction !== 'along' || rail.stations.length < 2) return [];
  const isVertical = direction === 'vertical';
  const series = seriesOf(
    context,
    rail,
    (station) => (isVertical ? station.difference?.height : station.difference?.offset),
    deviation.fromBase,
    (phase) => judgedOf(phase, rail, direction),
  );
  if (series.length === 0) return [];
  const key = `parallelism-${direction}-${context.tokens.get(rail.id)!}`;
  const draw = isVertical ? heightChart : distanceChart;
  const charts = [draw(context, rail, datum, series, key)];
  if (needsCloseUp(series)) charts.push(draw(context, rail, datum, series.slice(-1), `${key}-close-up`));
  return charts;
}

/** The characteristic whose stations are ringed: parallelism, unless only the other one has a limit. */
function judgedOf(
  phase: PhaseContext,
  rail: SurveyRail,
  direction: Direction,
): CharacteristicResult | undefined {
  const range = characteristicOf(phase, `parallelism-${direction}`, rail.id);
  const signed = characteristicOf(phase, direction === 'vertical' ? 'height-difference' : 'span', rail.id);
  return !isLimited(range) && isLimited(signed) ? signed : (range ?? signed);
}

interface Wording {
  readonly title: string;
  /** What neither title nor sign says. */
  readonly caption: string | null;
  readonly yTitle: string;
  readonly zero: string;
  readonly sign: string;
  readonly rangeName: string;
  readonly signedName: string;
  /** What its sign means, where that is not what the axis says. */
  readonly signedSign?: string;
}

function heightChart(
  context: ChartContext,
  rail: SurveyRail,
  datum: SurveyRail,
  series: readonly ProfileSeries[],
  key: string,
) {
  const [own, other] = [railWords(rail.id), railWords(datum.id)];
  return differenceChart(context, rail, series, key, 'vertical', {
    title: titleOf(rail, (named) => `Height of ${named} against ${other}`),
    caption: null,
    yTitle: `height difference, ${context.deviation.label}`,
    zero: `zero: as high as ${other}`,
    sign: `+ ${own} is higher`,
    rangeName: 'parallelism, vertical',
    signedName: 'height difference',
  });
}

function distanceChart(
  context: ChartContext,
  rail: SurveyRail,
  datum: SurveyRail,
  series: readonly ProfileSeries[],
  key: string,
) {
  const [own, other] = [railWords(rail.id), railWords(datum.id)];
  const tied = series.every(({ phase }) => phase.phase.offsetTied[rail.id] === true);
  const apart = (acrossFromDatum(rail, datum) ?? 0) >= 0 ? 'farther apart' : 'closer together';
  return differenceChart(context, rail, series, key, 'horizontal', {
    title: titleOf(rail, (named) => `Distance between ${named} and ${other}`),
    caption: tied
      ? `Sideways place of ${own} less that of ${other}, from the nominal distance, at the same position along.`
      : 'Only changes of the distance were measured.',
    yTitle: `sideways, ${context.deviation.label}`,
    zero: tied
      ? 'zero: nominal distance'
      : series.length > 1
        ? 'zero: mean distance of each phase'
        : 'zero: mean distance',
    sign: `+ left, facing increasing along: here the rails are ${apart}`,
    rangeName: 'parallelism, horizontal',
    signedName: 'span',
    signedSign: ' (+ wider than nominal)',
  });
}

function differenceChart(
  context: ChartContext,
  rail: SurveyRail,
  series: readonly ProfileSeries[],
  key: string,
  direction: Direction,
  words: Wording,
): ChartSpec {
  const { deviation, length } = context;
  const last = series[series.length - 1]!;
  const range = series.map(
    ({ phase }) => [phase, characteristicOf(phase, `parallelism-${direction}`, rail.id)] as const,
  );
  const signed = series.map(
    ({ phase }) =>
      [
        phase,
        characteristicOf(phase, direction === 'vertical' ? 'height-difference' : 'span', rail.id),
      ] as const,
  );
  const [rangeLast, signedLast] = [range[range.length - 1]![1], signed[signed.length - 1]![1]];
  const zones: Zone[] = [];
  if (isLimited(rangeLast)) {
    const label = `tolerance zone of ${words.rangeName}: ${limitText(context, rangeLast, deviation)} wide`;
    zones.push(rangeZone(context, deviation, last, rangeLast, label));
  }
  if (isLimited(signedLast)) {
    const label = `limits of ${words.signedName}: ${limitText(context, signedLast, deviation)}`;
    zones.push(symmetricZone(context, deviation, signedLast, label));
  }
  const title = withCloseUp(words.title, key, last.phase);
  const outcomes = [
    [words.rangeName, outcomeWords(context, deviation, range)],
    [
      words.signedName + (words.signedSign ?? ''),
      !isLimited(signedLast) ? '' : outcomeWords(context, deviation, signed),
    ],
  ] as const;
  const outcomeLines = outcomes.flatMap(([name, text]) => (text === '' ? [] : [capital(`${name}: ${text}`)]));
  const input: ProfileInput = {
    title,
    outcome: outcomeLines,
    xTitle: `along, ${length.label}`,
    yTitle: words.yTitle,
    zeroLabel: words.zero,
    barLabel: barLabel(context),
    series,
    zones,
    note: `Sign: ${words.sign}. Drawn about {times} times larger than lengths.`,
    xPerY: lengthPerDeviation(context),
  };
  const profile = drawProfile(input, roughText);
  const both = series.map(({ phase }) => phase.words).join(' and ');
  const caption = [
    ...(words.caption === null ? [] : [words.caption]),
    'Bars are partly common to all points: see the interval of parallelism.',
    ...(!isLimited(rangeLast)
      ? []
      : [`The grey zone, set evenly about the points ${last.phase.words}, must hold them all.`]),
    ...drawingWords(profile, series),
  ].join(' ');
  const alt = [
    `Line chart: ${words.title.charAt(0).toLowerCase()}${words.title.slice(1)}, ${rangeWords(context, rail)}, ${both}; ${words.sign}.`,
    ...outcomeLines.map((line) => `${line.replaceAll(' · ', '; ')}.`),
  ].join(' ');
  return { key, title, caption, alt, section: 'parallelism', rail: rail.id, spec: profile.spec };
}
