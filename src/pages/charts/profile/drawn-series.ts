/** Points, lines and uncertainty of a profile's series. */
import { seriesLooks } from '../palette.js';
import type { BandRow, PathRow, PointRow, RuleRow } from '../rows.js';
import type { ProfileSeries } from './series.js';
import { mostMarkers, type ThinnedSeries } from './thinning.js';

export function drawSeries(
  series: readonly ProfileSeries[],
  thinned: readonly ThinnedSeries[],
  asBars: boolean,
) {
  const paths: Record<'as-found' | 'as-left', PathRow[]> = { 'as-found': [], 'as-left': [] };
  const bands: Record<'as-found' | 'as-left', BandRow[]> = { 'as-found': [], 'as-left': [] };
  const bars: RuleRow[] = [];
  const points: PointRow[] = [];
  for (const [i, { phase, samples, extremes }] of series.entries()) {
    const look = seriesLooks[phase.role];
    const { runs, bands: runBands } = thinned[i]!;
    const size = asBars ? 30 : 16;
    for (const run of runs) {
      paths[phase.role].push(...run.map(({ x, y }) => ({ x, y })), { x: run[run.length - 1]!.x, y: null });
      for (const { station, x, y, half } of run) {
        // A run of one point has no line: without its marker it would not be seen.
        if (samples.length > mostMarkers && run.length > 1 && !extremes.includes(station)) continue;
        points.push({
          what: phase.role,
          x,
          y,
          shape: look.shape,
          size,
          colour: look.colour,
          fill: look.fill,
        });
        if (!asBars) continue;
        bars.push({
          what: `uncertainty ${phase.role}`,
          x,
          x2: x,
          y: y - half,
          y2: y + half,
          colour: look.colour,
          width: 0.9,
          dash: [],
        });
      }
    }
    for (const band of runBands) {
      bands[phase.role].push(...band, { x: band[band.length - 1]!.x, lo: null, hi: null });
    }
  }
  return { paths, bands, bars, points };
}
