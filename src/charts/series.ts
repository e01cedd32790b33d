/** From the stations of a results document to what a profile draws. */
import type { CharacteristicResult, Quantity, StationResult } from '../results/results-schema.js';
import type { ReportUnit } from '../report/format-quantity.js';
import { coverageText, NO_BREAK_SPACE } from '../report/format-quantity.js';
import type { ChartContext, PhaseContext, SurveyRail } from './chart-context.js';
import { railPosition } from './chart-context.js';
import type { Profile, ProfileSeries, Zone } from './profile.js';
import type { Sample } from './thinning.js';
import { chosenText } from './number-words.js';
import { mostMarkers } from './thinning.js';
import { levelLine } from './zone-line.js';

/**
 * One series for each phase in which the quantity is known at one station at least; null where it is at none.
 * @param convert From the document's unit to the picture's, for the value and for u alike.
 */
export function seriesOf(
  context: ChartContext,
  rail: SurveyRail,
  pick: (station: StationResult) => Quantity | undefined,
  convert: (value: number) => number,
  extremes: (phase: PhaseContext) => CharacteristicResult | undefined,
): ProfileSeries[] {
  const series: ProfileSeries[] = [];
  for (const phase of context.phases) {
    const read = phase.stations.get(rail.id);
    if (read === undefined) continue;
    const samples = rail.stations.map((place): Sample => {
      const result = read.get(place.station);
      const quantity = result === undefined ? undefined : pick(result);
      const isKnown = quantity !== undefined && quantity.value !== null;
      return {
        station: place.station,
        x: context.length.fromBase(railPosition(rail, place)),
        y: isKnown ? convert(quantity.value) : null,
        half: isKnown ? Math.abs(convert(quantity.u)) * context.k : 0,
      };
    });
    if (samples.every((sample) => sample.y === null)) continue;
    const at = extremes(phase)?.at.filter((place) => place.rail === rail.id) ?? [];
    series.push({ phase, samples, extremes: at.map((place) => place.station) });
  }
  return series;
}

/** "± U, k = 2 (95 %)": the bars are the expanded uncertainty that the tables print. */
export const barLabel = (context: ChartContext): string =>
  `± U, k = ${chosenText(context.k)} (${coverageText(context.results.settings.coverage)})`;

/**
 * A zone as wide as a limit, set evenly about the greatest and the least value, so that it shows the excess, if
 * any, half above and half below: where in space the zone lies is nobody's choice for a range.
 */
export function rangeZone(
  context: ChartContext,
  unit: ReportUnit,
  series: ProfileSeries,
  characteristic: CharacteristicResult,
  label: string,
): Zone {
  const [least, greatest] = extentOf(series);
  const middle = (least + greatest) / 2;
  const half = unit.fromBase(characteristic.limit ?? 0) / 2;
  const zone: Zone = { line: levelLine, below: middle - half, above: middle + half, label };
  return withAcceptance(context, unit, zone, characteristic);
}

/** A zone from −limit to +limit about zero. */
export function symmetricZone(
  context: ChartContext,
  unit: ReportUnit,
  characteristic: CharacteristicResult,
  label: string,
): Zone {
  const limit = unit.fromBase(characteristic.limit ?? 0);
  const zone: Zone = { line: levelLine, below: -limit, above: limit, label };
  return withAcceptance(context, unit, zone, characteristic);
}

/**
 * Under guarded acceptance the whole coverage interval must lie inside, which is the same as the value lying in
 * a zone narrower by the distance from the value to the interval's ends.
 */
export function withAcceptance(
  context: ChartContext,
  unit: ReportUnit,
  zone: Zone,
  characteristic: CharacteristicResult,
): Zone {
  const { value, interval, signed } = characteristic;
  if (context.results.settings.rule !== 'guarded' || value === null || interval === null) return zone;
  const over = Math.max(0, unit.fromBase(interval[1] - value));
  const under = signed ? Math.max(0, unit.fromBase(value - interval[0])) : over;
  const share = signed ? 1 : 0.5; // a range has one guard band, shared by both sides of its zone
  const acceptance = { below: zone.below + under * share, above: zone.above - over * share };
  return acceptance.above > acceptance.below && over + under > 0 ? { ...zone, acceptance } : zone;
}

/** What a reader must know about how the points were drawn. */
export function drawingWords(
  context: ChartContext,
  profile: Profile,
  series: readonly ProfileSeries[],
): string[] {
  const drawnAs = profile.uncertaintyDrawnAs === 'bars' ? 'Bars are' : 'The light band is';
  const coverage = coverageText(context.results.settings.coverage);
  const words = [
    `${drawnAs} ± the expanded uncertainty, k${NO_BREAK_SPACE}=${NO_BREAK_SPACE}${chosenText(context.k)} (${coverage} coverage).`,
  ];
  if (profile.hasGaps) words.push('The line is broken where a station was not read or has no value.');
  const stations = series[0]?.samples.length ?? 0;
  if (profile.isThinned) {
    words.push(
      `Of ${chosenText(stations)} stations the least and the greatest of each short stretch are drawn, and those that make the value; all are in stations.csv.`,
    );
  } else if (stations > mostMarkers) {
    words.push('The stations stand too close for a marker at each.');
  }
  if (profile.zonesOutside.length > 0) {
    words.push('The tolerance zone is so wide that its edges lie outside the picture.');
  }
  return words;
}

/** Least and greatest value, in the picture's units; the samples hold one value at least. */
export function extentOf(series: ProfileSeries): readonly [number, number] {
  let [least, greatest] = [Infinity, -Infinity];
  for (const { y } of series.samples) {
    if (y === null) continue;
    least = Math.min(least, y);
    greatest = Math.max(greatest, y);
  }
  return [least, greatest];
}

/** As found is so much rougher that as left would look flat beside it: as left deserves a picture of its own. */
export function needsCloseUp(series: readonly ProfileSeries[]): boolean {
  const [found, left] = series;
  if (found === undefined || left === undefined) return false;
  const [foundLeast, foundGreatest] = extentOf(found);
  const [leftLeast, leftGreatest] = extentOf(left);
  const both = Math.max(foundGreatest, leftGreatest) - Math.min(foundLeast, leftLeast);
  return leftGreatest - leftLeast < 0.15 * both;
}
