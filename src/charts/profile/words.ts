/** What every profile's caption and legend say about how it was drawn. */
import { coverageText, NO_BREAK_SPACE } from '../../report/format-quantity.js';
import type { ChartContext } from '../chart-context.js';
import { chosenText } from '../number-words.js';
import type { Profile } from './profile.js';
import type { ProfileSeries } from './series.js';
import { mostMarkers } from './thinning.js';

/** "± U, k = 2 (95 %)": the bars are the expanded uncertainty that the tables print. */
export const barLabel = (context: ChartContext): string =>
  `± U, k = ${chosenText(context.k)} (${coverageText(context.results.settings.coverage)})`;

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
