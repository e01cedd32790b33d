/** What a sheet is made of: rows of its data sets, and the places that they take in pixels. */
import { textPx } from './chart-spec.js';
import { palette } from './palette.js';
import { textWidth } from '../fonts/widths.js';

export interface SheetAxis {
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
  /** A label for each tick. */
  readonly labels: readonly string[];
  readonly title: string;
}

/** A plot and its axes. */
export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly x: SheetAxis;
  readonly y: SheetAxis;
}

/** A zone or an uncertainty band: from lo to hi at x. `lo` null breaks it. */
export type BandRow = Readonly<{ x: number; lo: number | null; hi: number | null }>;
/** A straight line between two places in the units of the axes. */
export type RuleRow = Readonly<{
  what: string;
  x: number;
  y: number;
  x2: number;
  y2: number;
  colour: string;
  width: number;
  dash: readonly number[];
}>;
export type PathRow = Readonly<{ x: number; y: number | null }>;
export type PointRow = Readonly<{
  what: string;
  x: number;
  y: number;
  shape: string;
  size: number;
  colour: string;
  fill: string;
}>;
/** Anything drawn in pixels from the plot's upper left corner: an SVG path. */
export type StrokeRow = Readonly<{
  px: number;
  py: number;
  path: string;
  colour: string | null;
  width: number;
  dash: readonly number[];
  fill: string | null;
}>;
export type TextRow = Readonly<{
  px: number;
  py: number;
  text: string;
  align: 'left' | 'center' | 'right';
  weight: 'normal' | 'bold';
  size: number;
  colour: string;
}>;

/** Where a value stands in the plot, px from its left or from its top. */
export const xPx = (frame: Pick<Frame, 'x' | 'width'>, value: number): number =>
  round(((value - frame.x.domain[0]) / (frame.x.domain[1] - frame.x.domain[0])) * frame.width);
export const yPx = (frame: Pick<Frame, 'y' | 'height'>, value: number): number =>
  round(((frame.y.domain[1] - value) / (frame.y.domain[1] - frame.y.domain[0])) * frame.height);

/** Hundredths of a pixel are finer than any printer. */
export const round = (px: number): number => Math.round(px * 100) / 100;

export const textRow = (px: number, py: number, text: string, over: Partial<TextRow> = {}): TextRow => ({
  px: round(px),
  py: round(py),
  text,
  align: 'left',
  weight: 'normal',
  size: textPx,
  colour: palette.ink,
  ...over,
});

export const strokeRow = (
  px: number,
  py: number,
  path: string,
  over: Partial<StrokeRow> = {},
): StrokeRow => ({
  px: round(px),
  py: round(py),
  path,
  colour: palette.soft,
  width: 0.8,
  dash: [],
  fill: null,
  ...over,
});

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The room that a text takes. */
export function boxOf(text: TextRow, marginPx = 1): Box {
  const width = textWidth(text.text, text.size, text.weight === 'bold');
  const left = text.px - (text.align === 'left' ? 0 : text.align === 'right' ? width : width / 2);
  return {
    left: left - marginPx,
    right: left + width + marginPx,
    top: text.py - text.size * 0.62 - marginPx,
    bottom: text.py + text.size * 0.58 + marginPx,
  };
}

export const overlaps = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/** White paper behind a label that stands on lines. */
export function paperBehind(text: TextRow): StrokeRow {
  const box = boxOf(text);
  const [width, height] = [round(box.right - box.left), round(box.bottom - box.top)];
  return strokeRow(box.left, box.top, `M0,0h${width}v${height}h${-width}Z`, {
    colour: null,
    width: 0,
    fill: palette.paper,
  });
}
