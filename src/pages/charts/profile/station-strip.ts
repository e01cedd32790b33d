/** Station numbers along the upper edge of a profile, so that a point can be found in the tables. */
import { textPx } from '../chart-spec.js';
import { palette } from '../palette.js';
import { strokeRow, textRow, xPx, type StrokeRow, type TextRow, type Frame } from '../rows.js';
import { textWidth } from '../../fonts/widths.js';
import type { Sample } from './thinning.js';

export function stationStrip(frame: Frame, samples: readonly Sample[]) {
  const strokes: StrokeRow[] = [];
  const texts: TextRow[] = [textRow(-6, -9, 'station', { align: 'right', colour: palette.soft })];
  const places = samples.map((sample) => xPx(frame, sample.x));
  const isDense = samples.length > 1 && (places[places.length - 1]! - places[0]!) / (samples.length - 1) < 3;
  let ticks = '';
  let takenTo = -Infinity;
  const step = labelStep(samples.length, frame.width);
  for (const [i, { station }] of samples.entries()) {
    const px = places[i]!;
    const isLabelled = station === 1 || station % step === 0;
    if (!isDense || isLabelled) ticks += `M${px},0v${isLabelled ? -4 : -2.5}`;
    const half = textWidth(String(station), textPx) / 2;
    if (!isLabelled || px - half < takenTo) continue;
    texts.push(textRow(px, -9, String(station), { align: 'center', colour: palette.soft }));
    takenTo = px + half + 6;
  }
  strokes.push(strokeRow(0, 0, ticks, { colour: palette.faint, width: 0.7 }));
  return { strokes, texts };
}

function labelStep(count: number, width: number): number {
  const least = (count * (textWidth(String(count), textPx) + 12)) / width;
  for (let decade = 1; ; decade *= 10) for (const f of [1, 2, 5]) if (f * decade >= least) return f * decade;
}
