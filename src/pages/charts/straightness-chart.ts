/** Deviation of one rail from its own least-squares line, in one plane. */
import type { CharacteristicName, ReferenceName } from '../../survey/job/job-schema.js';
import { characteristicNames } from '../../results/words/texts.js';
import type { CharacteristicResult } from '../../results/results-schema.js';
import { NO_BREAK_SPACE, positionText, withUnit } from '../../results/words/format-quantity.js';
import type { ChartContext, SurveyRail } from './chart-context.js';
import {
  capital,
  characteristicOf,
  isLimited,
  lengthPerDeviation,
  limitText,
  titleOf,
  withCloseUp,
  outcomeText,
  outcomeWords,
  railWords,
  rangeWords,
} from './chart-context.js';
import type { ChartSpec } from './chart-spec.js';
import { roughText } from './number-words.js';
import { drawProfile, type ProfileInput } from './profile/profile.js';
import { needsCloseUp, seriesOf, type ProfileSeries } from './profile/series.js';
import { barLabel, drawingWords } from './profile/words.js';
import { withAcceptance, type Zone } from './profile/zones.js';
import { centredOn } from './profile/zone-line.js';

export type Plane = 'vertical' | 'horizontal' | 'along';

const planes: Readonly<Record<Plane, { sign: string; axis: string }>> = {
  vertical: { sign: '+ up', axis: 'deviation up' },
  horizontal: { sign: '+ left, facing increasing along', axis: 'deviation left' },
  along: { sign: '+ ahead, towards increasing along', axis: 'deviation ahead' },
};

const referenceWords: Readonly<Record<ReferenceName, string>> = {
  'least-squares': 'least-squares line',
  'minimum-zone': 'minimum-zone line',
  'end-points': 'line through the end points',
};

/** The picture of both phases and, where as left would look flat beside as found, one of as left alone. */
export function straightnessCharts(context: ChartContext, rail: SurveyRail, plane: Plane): ChartSpec[] {
  const what: CharacteristicName = plane === 'vertical' ? 'straightness-vertical' : 'straightness-horizontal';
  const last = context.phases[context.phases.length - 1];
  const judged = last === undefined ? undefined : characteristicOf(last, what, rail.id);
  const outcome = (phase: ChartContext['phases'][number]) =>
    characteristicOf(phase, what, rail.id, judged?.reference ?? 'least-squares');
  const series = seriesOf(
    context,
    rail,
    (station) => station.deviation[plane],
    context.deviation.fromBase,
    outcome,
  );
  if (series.length === 0 || rail.stations.length < 2) return [];
  const token = context.tokens.get(rail.id)!;
  const charts = [
    straightnessChart(context, rail, plane, series, what, judged, `straightness-${plane}-${token}`),
  ];
  if (needsCloseUp(series)) {
    const alone = series.slice(-1);
    charts.push(
      straightnessChart(context, rail, plane, alone, what, judged, `straightness-${plane}-${token}-close-up`),
    );
  }
  return charts;
}

function straightnessChart(
  context: ChartContext,
  rail: SurveyRail,
  plane: Plane,
  series: readonly ProfileSeries[],
  what: CharacteristicName,
  judged: CharacteristicResult | undefined,
  key: string,
): ChartSpec {
  const { deviation, length } = context;
  const { sign, axis } = planes[plane];
  const last = series[series.length - 1]!;
  const reference = judged?.reference ?? 'least-squares';
  const outcomes = series.map(
    ({ phase }) => [phase, characteristicOf(phase, what, rail.id, reference)] as const,
  );
  const judgedLast = outcomes[outcomes.length - 1]![1];
  const zone = straightnessZone(context, last, judgedLast);
  const acrossSign = rail.direction === 'across' ? ' Position across: + left, facing increasing along.' : '';
  const name = titleOf(rail, (named) => `Straightness of ${named}, ${plane}`);
  const title = withCloseUp(name, key, last.phase);
  const outcome = outcomeWords(context, deviation, outcomes);
  const input: ProfileInput = {
    title,
    outcome: outcome === '' ? [] : [`Peak to valley: ${outcome}`],
    xTitle: `${rail.direction}, ${length.label}`,
    yTitle: `${axis}, ${deviation.label}`,
    zeroLabel: 'zero: own least-squares line',
    barLabel: barLabel(context),
    series,
    zones: zone === null ? [] : [zone],
    ...worstWindow(context, rail, last, what),
    note: `Sign: ${sign}. Deviations drawn about {times} times larger than lengths.${acrossSign}`,
    xPerY: lengthPerDeviation(context),
  };
  const profile = drawProfile(input, roughText);

  const both = series.map(({ phase }) => phase.words).join(' and ');
  const caption = [
    ...(plane === 'along' ? [`In the tables this is “${characteristicNames[what]}” of a cross rail.`] : []),
    zone === null || judgedLast === undefined
      ? `Deviation of each station from the rail’s own least-squares line, ${both}.`
      : zoneWords(judgedLast, last),
    ...drawingWords(profile, series),
  ].join(' ');
  const alt = [
    `Line chart: ${plane} straightness of ${railWords(rail.id)}, ${rangeWords(context, rail)}, ${both}; ${sign}.`,
    outcome === '' ? 'No value could be determined.' : `${capital(peakWords(outcome))}.`,
  ].join(' ');
  return { key, title, caption, alt, section: 'straightness', rail: rail.id, spec: profile.spec };
}

const peakWords = (outcome: string): string => `peak to valley: ${outcome.replaceAll(' · ', '; ')}`;

/** The zone of the limit along its own reference line, set evenly about the extremes of the phase. */
function straightnessZone(
  context: ChartContext,
  series: ProfileSeries,
  judged: CharacteristicResult | undefined,
): Zone | null {
  if (!isLimited(judged)) return null;
  const read = series.samples.filter((sample) => sample.y !== null);
  if (read.length < 2) return null;
  const reference = judged.reference ?? 'least-squares';
  const x = Float64Array.from(read, (sample) => sample.x);
  const d = Float64Array.from(read, (sample) => sample.y ?? 0);
  const { line, middle } = centredOn(x, d, reference);
  const half = context.deviation.fromBase(judged.limit) / 2;
  const zone: Zone = {
    line,
    below: middle - half,
    above: middle + half,
    label: `tolerance zone, ${limitText(context, judged, context.deviation)} wide`,
    ...(reference === 'least-squares'
      ? {}
      : { lineLabel: `${referenceWords[reference]}, ${series.phase.words}` }),
  };
  return withAcceptance(context, context.deviation, zone, judged);
}

function zoneWords(judged: CharacteristicResult, { phase }: ProfileSeries): string {
  const along = referenceWords[judged.reference ?? 'least-squares'];
  return `The grey zone runs along the ${along} of the stations ${phase.words}, evenly about their extremes: it must hold them all.`;
}

/** The worst window of a local tolerance, marked below the points. */
function worstWindow(
  context: ChartContext,
  rail: SurveyRail,
  series: ProfileSeries,
  what: CharacteristicName,
): Pick<ProfileInput, 'window'> {
  const local = characteristicOf(series.phase, `${what}-local` as CharacteristicName, rail.id);
  const [first, last] = local?.at ?? [];
  if (!isLimited(local) || local.value === null || first === undefined || last === undefined) return {};
  const place = (station: number) => series.samples.find((sample) => sample.station === station)?.x;
  const ends = [place(first.station), place(last.station)];
  if (ends[0] === undefined || ends[1] === undefined) return {};
  const { deviation, length } = context;
  const over = local.over === undefined ? '' : ` over ${withUnit(positionText(local.over, length), length)}`;
  const { value } = outcomeText(context, local, local.value, deviation);
  return {
    window: {
      from: Math.min(ends[0], ends[1]),
      to: Math.max(ends[0], ends[1]),
      label: `worst${over}: ${value}${NO_BREAK_SPACE}${deviation.label}, limit ${limitText(context, local, deviation)}`,
    },
  };
}
