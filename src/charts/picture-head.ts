/** What stands above a plot: title, lines of figures, legend. */
import { pictureWidthPx, titlePx } from './chart-spec.js';
import { layLegend, legendRowPx, type LegendItem } from './legend.js';
import { textRow, type StrokeRow, type TextRow } from './rows.js';
import { fitText } from './text-fit.js';

/** Left edge of texts, and as much free at the right, px. */
const edgePx = 6;
export const roomPx = pictureWidthPx - 2 * edgePx;

export interface PictureHead {
  /** Room above the plot. */
  readonly top: number;
  readonly strokes: readonly StrokeRow[];
  readonly texts: readonly TextRow[];
}

/**
 * @param leftPx From the picture's left edge to the plot's.
 * @param belowPx Free between the legend and the plot.
 */
export function pictureHead(
  title: string,
  lines: readonly string[],
  legend: readonly LegendItem[],
  leftPx: number,
  belowPx: number,
): PictureHead {
  const x = edgePx - leftPx;
  const laid = layLegend(legend, x, 0, roomPx);
  const linesPx = lines.length * legendRowPx;
  const top = 22 + linesPx + laid.rows * legendRowPx + belowPx;
  const shift = 30 + linesPx - top;
  return {
    top,
    strokes: laid.strokes.map((row) => ({ ...row, py: row.py + shift })),
    texts: [
      textRow(x, 12 - top, fitText(title, roomPx, titlePx, true), { weight: 'bold', size: titlePx }),
      ...lines.map((line, i) => textRow(x, 29 + i * legendRowPx - top, line)),
      ...laid.texts.map((row) => ({ ...row, py: row.py + shift })),
    ],
  };
}

/** Lines below a plot, the first at `py`, from the picture's left edge on. */
export const linesBelow = (lines: readonly string[], leftPx: number, py: number, colour: string): TextRow[] =>
  lines.map((line, i) => textRow(edgePx - leftPx, py + i * legendRowPx, line, { colour }));
