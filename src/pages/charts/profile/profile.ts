/**
 * The picture that straightness, parallelism and cross-level share: a quantity against the position along a rail,
 * as found and as left on the same axes, with zero, tolerance zone, uncertainty and the extremes that make the value.
 */
import { pictureHeightPx, textPx, type VegaLiteSpec } from '../chart-spec.js';
import { legendRowPx } from '../legend.js';
import { palette } from '../palette.js';
import { linesBelow, pictureHead, roomPx } from '../picture-head.js';
import {
  boxOf,
  overlaps,
  paperBehind,
  strokeRow,
  textRow,
  xPx,
  yPx,
  type Frame,
  type RuleRow,
  type TextRow,
} from '../rows.js';
import { sheetSpec, type Sheet } from '../sheet.js';
import { wrapText } from '../text-fit.js';
import { textWidth } from '../../fonts/widths.js';
import { drawSeries } from './drawn-series.js';
import { labelExtremes } from './extremes.js';
import { frameOf, rightPx, zonesOutside } from './frame.js';
import { legendOf } from './profile-legend.js';
import type { ProfileSeries } from './series.js';
import { stationStrip } from './station-strip.js';
import { mostBars, mostPoints, thin } from './thinning.js';
import { zoneBands, zoneRules, type Zone } from './zones.js';

export interface ProfileInput {
  readonly title: string;
  /** Values and verdicts, a line each. */
  readonly outcome: readonly string[];
  readonly xTitle: string;
  readonly yTitle: string;
  readonly zeroLabel: string;
  readonly barLabel: string;
  readonly series: readonly ProfileSeries[];
  /** The first is filled, others are drawn as two lines. */
  readonly zones: readonly Zone[];
  /** The worst window of a local characteristic. */
  readonly window?: { readonly from: number; readonly to: number; readonly label: string };
  /** Moves from zero on, in the units of the axes. */
  readonly arrows?: readonly { readonly x: number; readonly by: number; readonly label: string }[];
  /** Below the plot; `{times}` stands for how much larger the y axis is drawn than the x axis. */
  readonly note: string;
  /** Units of x in one unit of y, where both are lengths. */
  readonly xPerY: number | null;
}

/** Under the plot: labels of its axis; and a plot is not drawn flatter than the least. */
const axisPx = 21;
const leastPlotPx = 116;

export interface Profile {
  readonly spec: VegaLiteSpec;
  /** How much larger y is drawn than x; null where they are not both lengths. */
  readonly times: number | null;
  readonly uncertaintyDrawnAs: 'bars' | 'band';
  readonly isThinned: boolean;
  readonly hasGaps: boolean;
  /** Zones that are so much wider than the data that their edges fall outside the picture. */
  readonly zonesOutside: readonly Zone[];
}

export function drawProfile(input: ProfileInput, timesWords: (times: number) => string): Profile {
  const outside = zonesOutside(input);
  const zones = input.zones.filter((zone, i) => i === 0 || !outside.includes(zone));
  const count = input.series[0]!.samples.length;
  const asBars = count <= mostBars;
  const legend = legendOf(
    input,
    zones,
    asBars,
    count > mostPoints,
    input.series.some(({ samples, extremes }) =>
      samples.some(({ station, y }) => y !== null && extremes.includes(station)),
    ),
  );
  const outcome = input.outcome.flatMap((line) => wrapText(line, roomPx, textPx));
  const head = pictureHead(input.title, outcome, legend, 17);
  const noteRows = wrapText(input.note, roomPx - 30, textPx).length;
  const bottom = axisPx + noteRows * legendRowPx + 2;
  const height = Math.max(leastPlotPx, pictureHeightPx - head.top - bottom);
  const { frame, left, xTitlePx, times } = frameOf(
    input,
    zones.filter((zone) => !outside.includes(zone)),
    height,
  );
  const { strokes, texts } = head.place(left);
  const xDomain = frame.x.domain;
  const pxPerX = frame.width / (xDomain[1] - xDomain[0]);
  const thinned = input.series.map(({ samples, extremes }) => thin(samples, new Set(extremes), pxPerX));
  const isThinned = thinned.some((one) => one.isThinned);
  const marks = drawSeries(input.series, thinned, asBars);
  const window = input.window === undefined ? { strokes: [], texts: [] } : drawWindow(frame, input.window);
  const arrows = drawArrows(frame, input.arrows ?? []);
  const extremes = labelExtremes(frame, window.texts, input.series, thinned, marks.bars);

  const strip = stationStrip(frame, input.series[0]!.samples);
  const note = wrapText(
    input.note.replace('{times}', times === null ? '' : timesWords(times)),
    roomPx,
    textPx,
    noteRows,
  );

  const sheet: Sheet = {
    ...frame,
    padding: { left, right: rightPx, top: head.top, bottom },
    ...zoneBands(zones[0], xDomain),
    foundBand: asBars ? [] : marks.bands['as-found'],
    leftBand: asBars ? [] : marks.bands['as-left'],
    ground: [...gridRules(frame), ...zoneRules(zones, xDomain), zeroRule(xDomain)],
    papers: [...extremes.labels, ...window.texts, ...arrows.texts].map(paperBehind),
    bars: marks.bars,
    isDense: isThinned,
    foundPath: marks.paths['as-found'],
    leftPath: marks.paths['as-left'],
    points: marks.points,
    strokes: [
      strokeRow(0, frame.height, `M0,0H${frame.width}`, { colour: palette.soft }),
      ...strokes,
      ...strip.strokes,
      ...window.strokes,
      ...arrows.strokes,
      ...extremes.rings,
    ],
    texts: [
      ...texts,
      textRow(xTitlePx, frame.height + 11.5, input.xTitle, { align: 'right' }),
      ...strip.texts,
      ...window.texts,
      ...arrows.texts,
      ...extremes.labels,
      ...linesBelow(note, left, frame.height + axisPx + 7, palette.soft),
    ],
  };
  return {
    spec: sheetSpec(sheet),
    times,
    uncertaintyDrawnAs: asBars ? 'bars' : 'band',
    isThinned,
    hasGaps: input.series.some((series) => series.samples.some((sample) => sample.y === null)),
    zonesOutside: outside,
  };
}

const gridRules = ({ x, y }: Frame): RuleRow[] =>
  y.ticks.map((value) => ({
    what: 'grid',
    x: x.domain[0],
    x2: x.domain[1],
    y: value,
    y2: value,
    colour: palette.grid,
    width: 0.6,
    dash: [],
  }));

const zeroRule = ([x, x2]: readonly [number, number]): RuleRow => ({
  what: 'zero',
  x,
  x2,
  y: 0,
  y2: 0,
  colour: palette.ink,
  width: 0.9,
  dash: [],
});

/** A bracket below the points, from one end of a local window to the other. */
function drawWindow(frame: Frame, window: { from: number; to: number; label: string }) {
  const [from, to] = [xPx(frame, window.from), xPx(frame, window.to)];
  const y = frame.height - 8;
  const half = textWidth(window.label, textPx) / 2;
  const centre = Math.min(Math.max((from + to) / 2, half), frame.width - half);
  const text = textRow(centre, y - 10, window.label, { align: 'center' });
  const bracket = strokeRow(from, y, `M0,-4v8M${to - from},-4v8M0,0H${to - from}`, {
    colour: palette.ink,
    width: 1.1,
  });
  return { strokes: [bracket], texts: [text] };
}

/** Each move as an arrow from zero, its name at its head unless another name stands there. */
function drawArrows(frame: Frame, arrows: NonNullable<ProfileInput['arrows']>) {
  const texts: TextRow[] = [];
  const strokes = arrows.map(({ x, by, label }) => {
    const [px, from, to] = [xPx(frame, x), yPx(frame, 0), yPx(frame, by)];
    const side = by > 0 ? 1 : -1;
    const text = textRow(px, to - side * 8, label, { align: 'center', weight: 'bold' });
    if (!texts.some((other) => overlaps(boxOf(other), boxOf(text)))) texts.push(text);
    return strokeRow(px, from, `M0,0V${to - from}m-4,${side * 6}l4,${-side * 6}l4,${side * 6}`, {
      colour: palette.ink,
      width: 1.6,
    });
  });
  return { strokes, texts };
}
