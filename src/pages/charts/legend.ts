/** A legend in rows above the plot, laid out in pixels: only what the picture shows is in it. */
import { strokeRow, textRow, type StrokeRow, type TextRow } from './rows.js';
import { fitText } from './text-fit.js';
import { textWidth } from '../fonts/widths.js';
import { textPx } from './chart-spec.js';
import { denseWidth, palette } from './palette.js';
import type { SeriesLook } from './palette.js';

export interface LegendItem {
  readonly label: string;
  /** Sample, drawn around its centre (0, 0), and its width. */
  readonly sample: readonly Partial<StrokeRow>[];
  readonly samplePx: number;
}

export interface LaidLegend {
  readonly rows: number;
  readonly strokes: readonly StrokeRow[];
  readonly texts: readonly TextRow[];
}

export const legendRowPx = 14;
const gapPx = 16;

/** Sets items from the left, beginning a new row where one does not fit; the first row's centre is at `topPx`. */
export function layLegend(
  items: readonly LegendItem[],
  leftPx: number,
  topPx: number,
  roomPx: number,
): LaidLegend {
  const strokes: StrokeRow[] = [];
  const texts: TextRow[] = [];
  let [x, rows] = [0, 1];
  for (const item of items) {
    const label = fitText(item.label, roomPx - item.samplePx - 5, textPx);
    const width = item.samplePx + 5 + textWidth(label, textPx);
    if (x > 0 && x + width > roomPx) [x, rows] = [0, rows + 1];
    const y = topPx + (rows - 1) * legendRowPx;
    for (const stroke of item.sample) {
      strokes.push(strokeRow(leftPx + x + item.samplePx / 2, y, stroke.path ?? '', stroke));
    }
    texts.push(textRow(leftPx + x + item.samplePx + 5, y, label));
    x += width + gapPx;
  }
  return { rows: items.length === 0 ? 0 : rows, strokes, texts };
}

export const circlePath = (r: number): string => `M${-r},0A${r},${r},0,1,1,${r},0A${r},${r},0,1,1,${-r},0Z`;
export const squarePath = (half: number): string =>
  `M${-half},${-half}h${2 * half}v${2 * half}h${-2 * half}Z`;

export const lineSample = (over: Partial<StrokeRow>): LegendItem['sample'][number] => ({
  path: 'M-13,0H13',
  ...over,
});
export const zoneSample = (fill: string): LegendItem['sample'][number] => ({
  path: 'M-13,-4.5h26v9h-26Z',
  fill,
  colour: palette.zoneEdge,
  width: 0.8,
  dash: [3, 2],
});

export const seriesItem = (label: string, look: SeriesLook, isDense: boolean): LegendItem => ({
  label,
  samplePx: 28,
  sample: isDense
    ? [{ path: 'M-14,3l4,-6l4,6l4,-6l4,6l4,-6l4,6l4,-6', colour: look.colour, width: denseWidth }]
    : [
        { path: 'M-14,0H14', colour: look.colour, width: look.width, dash: look.dash },
        {
          path: look.shape === 'circle' ? circlePath(2.9) : squarePath(2.7),
          colour: look.colour,
          width: 1.1,
          fill: look.fill,
        },
      ],
});
