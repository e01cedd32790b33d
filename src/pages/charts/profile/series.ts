/** From the stations of a results document to the series of a profile. */
import type { CharacteristicResult, Quantity, StationResult } from '../../../results/results-schema.js';
import type { ChartContext, PhaseContext, SurveyRail } from '../chart-context.js';
import { railPosition } from '../chart-context.js';
import type { Sample } from './thinning.js';

export interface ProfileSeries {
  readonly phase: PhaseContext;
  /** Every nominal station of the rail in order, in the picture's units. */
  readonly samples: readonly Sample[];
  /** Stations that make the value. */
  readonly extremes: readonly number[];
}

/**
 * One series for each phase in which the quantity is known at two stations at least: one point shows no shape.
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
    if (samples.filter((sample) => sample.y !== null).length < 2) continue;
    const at = extremes(phase)?.at.filter((place) => place.rail === rail.id) ?? [];
    series.push({ phase, samples, extremes: at.map((place) => place.station) });
  }
  return series;
}

/** Least and greatest value, in the picture's units; the samples hold one value at least. */
export function extentOf(series: Pick<ProfileSeries, 'samples'>): readonly [number, number] {
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
