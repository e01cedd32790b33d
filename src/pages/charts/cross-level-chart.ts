/** Cross-level: how far from level a line across from the datum rail to another rail lies, along the machine. */
import { positionText, withUnit } from '../../results/words/format-quantity.js';
import type { ChartContext, SurveyRail } from './chart-context.js';
import {
  acrossFromDatum,
  capital,
  characteristicOf,
  isLimited,
  limitText,
  titleOf,
  outcomeWords,
  railWords,
  rangeWords,
} from './chart-context.js';
import type { ChartSpec } from './chart-spec.js';
import { drawProfile, type ProfileInput } from './profile/profile.js';
import { seriesOf } from './profile/series.js';
import { barLabel, drawingWords } from './profile/words.js';
import { rangeZone, symmetricZone, type Zone } from './profile/zones.js';

export function crossLevelCharts(context: ChartContext, rail: SurveyRail): ChartSpec[] {
  const { datum, slope, length } = context;
  if (datum === undefined || rail.datum || rail.direction !== 'along' || rail.stations.length < 2) return [];
  const distanceMm = Math.abs(acrossFromDatum(rail, datum) ?? 0);
  if (distanceMm === 0) return [];
  const series = seriesOf(
    context,
    rail,
    (station) => station.difference?.height,
    (heightUm) => slope.fromBase(heightUm / (distanceMm / 1000)),
    (phase) => {
      const level = characteristicOf(phase, 'cross-level', rail.id);
      const twist = characteristicOf(phase, 'twist', rail.id);
      return !isLimited(level) && isLimited(twist) ? twist : (level ?? twist);
    },
  );
  if (series.length === 0) return [];
  const last = series[series.length - 1]!;
  const levels = series.map(({ phase }) => [phase, characteristicOf(phase, 'cross-level', rail.id)] as const);
  const twists = series.map(({ phase }) => [phase, characteristicOf(phase, 'twist', rail.id)] as const);
  const [level, twist] = [levels[levels.length - 1]![1], twists[twists.length - 1]![1]];
  const zones: Zone[] = [];
  if (isLimited(level)) {
    zones.push(
      symmetricZone(context, slope, level, `limits of cross-level: ${limitText(context, level, slope)}`),
    );
  }
  if (isLimited(twist)) {
    zones.push(
      rangeZone(context, slope, last, twist, `zone of twist: ${limitText(context, twist, slope)} wide`),
    );
  }
  const [own, other] = [railWords(rail.id), railWords(datum.id)];
  const sign = `+ ${own} is higher than ${other}`;
  const outcomes = [
    ['cross-level', outcomeWords(context, slope, levels)],
    ['twist', outcomeWords(context, slope, twists)],
  ] as const;
  const outcomeLines = outcomes.flatMap(([name, text]) => (text === '' ? [] : [capital(`${name}: ${text}`)]));
  const title = titleOf(rail, (named) => `Cross-level of ${named} against ${other}`);
  const input: ProfileInput = {
    title,
    outcome: outcomeLines,
    xTitle: `along, ${length.label}`,
    yTitle: `cross-level, ${slope.label}`,
    zeroLabel: 'zero: level across',
    barLabel: barLabel(context),
    series,
    zones,
    note: `Sign: ${sign}. Height difference over the distance across, ${withUnit(positionText(distanceMm, length), length)}.`,
    xPerY: null,
  };
  const profile = drawProfile(input, String);
  const both = series.map(({ phase }) => phase.words).join(' and ');
  const caption = [
    isLimited(twist)
      ? `The zone of twist, set evenly about the points ${last.phase.words}, must hold them all.`
      : `Height of ${own} less that of ${other}, over the distance across, ${both}.`,
    'The bars are partly common to all points.',
    ...drawingWords(profile, series),
  ].join(' ');
  const alt = [
    `Line chart: cross-level of ${own} against ${other}, ${rangeWords(context, rail)}, ${both}; ${sign}.`,
    ...outcomeLines.map((line) => `${line.replaceAll(' · ', '; ')}.`),
  ].join(' ');
  const key = `cross-level-${context.tokens.get(rail.id)!}`;
  return [{ key, title, caption, alt, section: 'cross-level', rail: rail.id, spec: profile.spec }];
}
