/** What every profile's caption and legend say about how it was drawn. */
import { coverageText } from '../../../results/words/format-quantity.js';
import type { ChartContext } from '../chart-context.js';
import { chosenText } from '../number-words.js';
import type { Profile } from './profile.js';
import type { ProfileSeries } from './series.js';

/** "± U, k = 2 (95 %)": the bars are the expanded uncertainty that the tables print. */
export const barLabel = (context: ChartContext): string =>
  `± U, k = ${chosenText(context.k)} (${coverageText(context.results.settings.coverage)})`;

/** What a reader must know about how the points were drawn, where the picture does not say it. */
export function drawingWords(profile: Profile, series: readonly ProfileSeries[]): string[] {
  const words: string[] = [];
  if (profile.hasGaps) words.push('The line is broken where a value is missing.');
  if (profile.isThinned) {
    const stations = chosenText(series[0]?.samples.length ?? 0);
    words.push(`Of ${stations} stations the extremes of each short stretch are drawn.`);
  }
  if (profile.zonesOutside.length > 0) {
    words.push('The tolerance zone is so wide that its edges lie outside the picture.');
  }
  return words;
}
