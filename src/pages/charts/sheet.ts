/**
 * The one layered Vega-Lite view that all charts with two numeric axes share. What differs from chart to chart
 * stands in data sets and parameters alone, never in the layers: so the renderer compiles this view once a process.
 */
import type { Json, VegaLiteSpec } from './chart-spec.js';
import { textPx } from './chart-spec.js';
import { denseWidth, palette, seriesLooks } from './palette.js';
import type { BandRow, Frame, PathRow, PointRow, RuleRow, SheetAxis, StrokeRow, TextRow } from './rows.js';

export interface Sheet extends Frame {
  readonly padding: VegaLiteSpec['padding'];
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
