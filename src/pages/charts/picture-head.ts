/** What stands above a plot: title, lines of figures, legend. */
import { pictureWidthPx, titlePx } from './chart-spec.js';
import { layLegend, legendRowPx, type LegendItem } from './legend.js';
import { round, textRow, type StrokeRow, type TextRow } from './rows.js';
import { fitText } from './text-fit.js';

/** Left edge of texts, and as much free at the right, px. */
const edgePx = 6;
export const roomPx = pictureWidthPx - 2 * edgePx;
const titleRowPx = 19;

export interface PictureHead {
  /** Room above the plot. */
  readonly top: number;
  /** Its parts, once it is known how far the plot stands from the picture's left edge. */
  readonly place: (leftPx: number) => {
    readonly strokes: readonly StrokeRow[];
    readonly texts: readonly TextRow[];
  };
}

/** @param belowPx Free between the legend and the plot. */
export function pictureHead(
  title: string,
  lines: readonly string[],
  legend: readonly LegendItem[],
  belowPx: number,
): PictureHead {
  const laid = layLegend(legend, 0, 0, roomPx);
  const linesPx = lines.length * legendRowPx;
  const top = titleRowPx + linesPx + laid.rows * legendRowPx + belowPx;
  const place = (leftPx: number) => {
    const x = edgePx - leftPx;
    const rowY = (row: number) => titleRowPx + (row + 0.5) * legendRowPx - top;
    const moved = <R extends { readonly px: number; readonly py: number }>(row: R): R => ({
      ...row,
      px: round(row.px + x),
      py: round(row.py + rowY(lines.length)),
    });
    return {
      strokes: laid.strokes.map(moved),
      texts: [
        textRow(x, 10 - top, fitText(title, roomPx, titlePx, true), { weight: 'bold', size: titlePx }),
        ...lines.map((line, i) => textRow(x, rowY(i), line)),
        ...laid.texts.map(moved),
      ],
    };
  };
  return { top, place };
}

/** Lines below a plot, the first at `py`, from the picture's left edge on. */
export const linesBelow = (lines: readonly string[], leftPx: number, py: number, colour: string): TextRow[] =>
  lines.map((line, i) => textRow(edgePx - leftPx, py + i * legendRowPx, line, { colour }));
