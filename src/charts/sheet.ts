/**
 * The one layered Vega-Lite view that all charts with two numeric axes share. What differs from chart to chart
 * stands in data sets and parameters alone, never in the layers: so the renderer compiles this view once a process.
 */
import type { Json, VegaLiteSpec } from './chart-spec.js';
import { textPx } from './chart-spec.js';
import { denseWidth, palette, seriesLooks } from './palette.js';
import { estimateTextPx } from './text-fit.js';

export interface SheetAxis {
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
  /** A label for each tick. */
  readonly labels: readonly string[];
  readonly title: string;
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

export interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly padding: VegaLiteSpec['padding'];
  readonly x: SheetAxis;
  readonly y: SheetAxis;
  readonly zone?: readonly BandRow[];
  readonly acceptance?: readonly BandRow[];
  readonly foundBand?: readonly BandRow[];
  readonly leftBand?: readonly BandRow[];
  /** Grid, limits, zero. */
  readonly ground?: readonly RuleRow[];
  /** White paper behind labels: above the ground, below the data. */
  readonly papers?: readonly StrokeRow[];
  readonly bars?: readonly RuleRow[];
  /** Thinned to least and greatest of each stretch: thin lines without dashes. */
  readonly isDense?: boolean;
  readonly foundPath?: readonly PathRow[];
  readonly leftPath?: readonly PathRow[];
  readonly points?: readonly PointRow[];
  readonly strokes?: readonly StrokeRow[];
  readonly texts?: readonly TextRow[];
}

export const schemaUrl = 'https://vega.github.io/schema/vega-lite/v6.json';

export function sheetSpec(sheet: Sheet): VegaLiteSpec {
  return {
    $schema: schemaUrl,
    background: palette.paper,
    autosize: 'none',
    width: sheet.width,
    height: sheet.height,
    padding: sheet.padding,
    datasets: {
      zone: sheet.zone ?? [],
      acceptance: sheet.acceptance ?? [],
      foundBand: sheet.foundBand ?? [],
      leftBand: sheet.leftBand ?? [],
      ground: sheet.ground ?? [],
      papers: sheet.papers ?? [],
      bars: sheet.bars ?? [],
      foundPath: sheet.foundPath ?? [],
      leftPath: sheet.leftPath ?? [],
      points: sheet.points ?? [],
      strokes: sheet.strokes ?? [],
      texts: sheet.texts ?? [],
    },
    params: [
      ...axisParams('x', sheet.x),
      ...axisParams('y', sheet.y),
      { name: 'isDense', value: sheet.isDense === true },
    ],
    config: chartConfig,
    layer,
  };
}

const axisParams = (name: 'x' | 'y', axis: SheetAxis): VegaLiteSpec['params'] => [
  { name: `${name}Domain`, value: axis.domain },
  { name: `${name}Ticks`, value: axis.ticks },
  { name: `${name}Labels`, value: axis.labels },
  { name: `${name}Title`, value: axis.title },
];

export const chartConfig: Json = {
  // The picture has one alternative text of its own; a label on every mark would drown it.
  aria: false,
  view: { stroke: null },
  axis: {
    grid: false,
    domain: false,
    tickColor: palette.soft,
    tickWidth: 0.8,
    tickSize: 4,
    // Ticks stand where the grid lines of the data stand, not on whole pixels.
    tickRound: false,
    translate: 0,
    labelColor: palette.ink,
    labelFontSize: textPx,
    labelPadding: 3,
    labelFlush: false,
    labelOverlap: false,
    labelLimit: 0,
    titleColor: palette.ink,
    titleFontSize: 11,
    titleFontWeight: 'normal',
    titleLimit: 0,
  },
};

const positional = (name: 'x' | 'y'): Json => ({
  field: name,
  type: 'quantitative',
  scale: { domain: { expr: `${name}Domain` }, nice: false, zero: false },
  axis: {
    values: { expr: `${name}Ticks` },
    labelExpr: `${name}Labels[indexof(${name}Ticks, datum.value)]`,
    title: { expr: `${name}Title` },
    titlePadding: 5,
  },
});
const x = positional('x');
const y = positional('y');
/** A channel that takes the datum's value as it stands. */
const number = (field: string): Json => ({ field, type: 'quantitative', scale: null });
const word = (field: string): Json => ({ field, type: 'nominal', scale: null });
export const pixels = { x: number('px'), y: number('py') };

const from = (name: string): Json => ({ name, format: { parse: null } });

const area = (name: string, fill: string): Json => ({
  data: from(name),
  mark: { type: 'area', color: fill, opacity: 1, clip: true, invalid: 'break-paths-show-domains' },
  encoding: { x, y: { ...(y as object), field: 'lo' }, y2: { field: 'hi' }, order: null },
});

const rules = (name: string): Json => ({
  data: from(name),
  mark: { type: 'rule', clip: true, invalid: null },
  encoding: {
    x,
    y,
    x2: { field: 'x2' },
    y2: { field: 'y2' },
    color: word('colour'),
    strokeWidth: number('width'),
    strokeDash: word('dash'),
  },
});

const path = (name: string, look: (typeof seriesLooks)['as-found']): Json => ({
  data: from(name),
  mark: {
    type: 'line',
    color: look.colour,
    strokeWidth: { expr: `isDense ? ${denseWidth} : ${look.width}` },
    strokeDash: { expr: `isDense ? [] : [${look.dash.join(',')}]` },
    strokeJoin: 'round',
    invalid: 'break-paths-show-domains',
  },
  encoding: { x, y, order: null },
});

/** Paths and texts in pixels: legend, leaders, brackets, labels. */
const strokes = (name: string): Json => ({
  data: from(name),
  // A symbol of size 4 draws its path 1 : 1 in pixels.
  mark: { type: 'point', size: 4, opacity: 1, invalid: null },
  encoding: {
    ...pixels,
    shape: word('path'),
    stroke: word('colour'),
    strokeWidth: number('width'),
    strokeDash: word('dash'),
    fill: word('fill'),
  },
});
export const strokesLayer = strokes('strokes');
export const textsLayer: Json = {
  data: from('texts'),
  mark: {
    type: 'text',
    align: { expr: 'datum.align' },
    fontWeight: { expr: 'datum.weight' },
    baseline: 'middle',
    invalid: null,
  },
  encoding: { ...pixels, text: word('text'), size: number('size'), color: word('colour') },
};

const layer: readonly Json[] = [
  area('zone', palette.zone),
  area('acceptance', palette.acceptance),
  area('foundBand', seriesLooks['as-found'].band),
  area('leftBand', seriesLooks['as-left'].band),
  rules('ground'),
  strokes('papers'),
  rules('bars'),
  path('foundPath', seriesLooks['as-found']),
  path('leftPath', seriesLooks['as-left']),
  {
    data: from('points'),
    mark: { type: 'point', opacity: 1, strokeWidth: 1.1, invalid: null },
    encoding: {
      x,
      y,
      shape: word('shape'),
      size: number('size'),
      stroke: word('colour'),
      fill: word('fill'),
    },
  },
  strokesLayer,
  textsLayer,
];

/** Where a value stands in the plot, px from its left or from its top. */
export const xPx = (sheet: Pick<Sheet, 'x' | 'width'>, value: number): number =>
  round(((value - sheet.x.domain[0]) / (sheet.x.domain[1] - sheet.x.domain[0])) * sheet.width);
export const yPx = (sheet: Pick<Sheet, 'y' | 'height'>, value: number): number =>
  round(((sheet.y.domain[1] - value) / (sheet.y.domain[1] - sheet.y.domain[0])) * sheet.height);

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
  const width = estimateTextPx(text.text, text.size, text.weight === 'bold');
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
