/**
 * The picture that straightness, parallelism and cross-level share: a quantity against the position along a rail,
 * as found and as left on the same axes, with zero, tolerance zone, uncertainty and the extremes that make the value.
 */
import type { VegaLiteSpec } from './chart-spec.js';
import { pictureWidthPx, textPx, titlePx } from './chart-spec.js';
import { numberText, roundUncertainty } from '../report/format-quantity.js';
import type { PhaseContext } from './chart-context.js';
import { labelsInside, niceTicks } from './axis-ticks.js';
import type { LegendItem } from './legend.js';
import { circlePath, layLegend, legendRowPx, lineSample, seriesItem, zoneSample } from './legend.js';
import type { Line } from './zone-line.js';
import { valueOn } from './zone-line.js';
import { palette, seriesLooks } from './palette.js';
import { drawnLine, placeLabel, type Candidate, type Drawn } from './place-label.js';
import type { BandRow, Box, PathRow, PointRow, RuleRow, Sheet, StrokeRow, TextRow } from './sheet.js';
import { boxOf, paperBehind, sheetSpec, strokeRow, textRow, xPx, yPx } from './sheet.js';
import { estimateTextPx, fitText, wrapText } from './text-fit.js';
import type { Read, Sample, ThinnedSeries } from './thinning.js';
import { mostBars, mostMarkers, thin } from './thinning.js';

export interface ProfileSeries {
  readonly phase: PhaseContext;
  /** Every nominal station of the rail in order, in the picture's units. */
  readonly samples: readonly Sample[];
  /** Stations that make the value. */
  readonly extremes: readonly number[];
}

/** A zone between two parallels of a line, in the picture's units. */
export interface Zone {
  readonly line: Line;
  readonly below: number;
  readonly above: number;
  /** The part that guarded acceptance leaves, where that rule is in force and leaves any. */
  readonly acceptance?: { readonly below: number; readonly above: number };
  readonly label: string;
  /** Drawn and named in the legend where the zone's own line is not zero. */
  readonly lineLabel?: string;
}

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
  /** Below the picture; `{times}` stands for how much larger the y axis is drawn than the x axis. */
  readonly note: string;
  /** Units of x in one unit of y, where both are lengths. */
  readonly xPerY: number | null;
}

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

const plotHeight = 204;
const rightPx = 14;
const labelRoomPx = 20;
const windowRoomPx = 24;

export function drawProfile(input: ProfileInput, timesWords: (times: number) => string): Profile {
  const xs = input.series[0]!.samples.map((sample) => sample.x);
  const [xFirst, xLast] = [xs[0]!, xs[xs.length - 1]!];
  const margin = (xLast - xFirst) * 0.018;
  const xDomain = [xFirst - margin, xLast + margin] as const;
  const { domain: yDomain, zonesOutside } = yDomainOf(input, xFirst, xLast);

  const yTicks = niceTicks(...yDomain, 9);
  const yLabels = yTicks.values.map((value) =>
    value === 0 ? '0' : numberText(value, yTicks.decimals, { signed: true }),
  );
  // A label at the very top would run into the row of station numbers.
  const topmost = yDomain[1] - (8 / plotHeight) * (yDomain[1] - yDomain[0]);
  const widestTick = Math.max(...yLabels.map((label) => estimateTextPx(label, textPx)));
  const left = Math.max(56, Math.ceil(widestTick) + 32);
  const width = pictureWidthPx - left - rightPx;
  const xTicks = niceTicks(...xDomain, Math.floor(width / 62));
  const xNumbers = xTicks.values.map((value) => numberText(value, xTicks.decimals));
  const xLabels = labelsInside(xTicks.values, xNumbers, xDomain, width, rightPx);
  const times =
    input.xPerY === null
      ? null
      : plotHeight / (yDomain[1] - yDomain[0]) / input.xPerY / (width / (xDomain[1] - xDomain[0]));

  const frame = {
    width,
    height: plotHeight,
    x: { domain: xDomain, ticks: xTicks.values, labels: xLabels, title: input.xTitle },
    y: {
      domain: yDomain,
      ticks: yTicks.values,
      labels: yLabels.map((label, i) => (yTicks.values[i]! > topmost ? '' : label)),
      title: input.yTitle,
    },
  };
  const thinned = input.series.map((series) =>
    thin(series.samples, new Set(series.extremes), width / (xDomain[1] - xDomain[0])),
  );
  const asBars = xs.length <= mostBars;
  const drawnZones = input.zones.filter((zone) => !zonesOutside.includes(zone) || zone === input.zones[0]);
  const marks = drawSeries(input.series, thinned, asBars);
  const extremes = labelExtremes(frame, input.series, thinned, marks.bars);
  const isDense = thinned.some((one) => one.isThinned);
  const legend = legendOf(input, drawnZones, asBars, isDense, extremes.rings.length > 0);

  const roomPx = pictureWidthPx - 12;
  const outcome = input.outcome.flatMap((line) => wrapText(line, roomPx, textPx));
  const outcomeRowsPx = outcome.length * legendRowPx;
  const laid = layLegend(legend, 6 - left, 0, roomPx);
  const top = 22 + outcomeRowsPx + laid.rows * legendRowPx + 22;
  const shift = 30 + outcomeRowsPx - top; // from the picture's upper edge to the plot's
  const strip = stationStrip(frame, input.series[0]!.samples);
  const note = wrapText(
    input.note.replace('{times}', times === null ? '' : timesWords(times)),
    roomPx,
    textPx,
  );
  const window = input.window === undefined ? null : drawWindow(frame, input.window);

  const sheet: Sheet = {
    ...frame,
    padding: { left, right: rightPx, top, bottom: 44 + note.length * legendRowPx },
    ...zoneBands(drawnZones[0], xDomain),
    foundBand: asBars ? [] : marks.bands['as-found'],
    leftBand: asBars ? [] : marks.bands['as-left'],
    papers: [...extremes.labels, ...(window?.texts ?? [])].map(paperBehind),
    ground: [...gridRules(frame), ...zoneRules(drawnZones, xDomain), zeroRule(xDomain)],
    bars: marks.bars,
    isDense,
    foundPath: marks.paths['as-found'],
    leftPath: marks.paths['as-left'],
    points: marks.points,
    strokes: [
      strokeRow(0, plotHeight, `M0,0H${width}`, { colour: palette.soft, width: 0.8 }),
      ...strip.strokes,
      ...laid.strokes.map((row) => ({ ...row, py: row.py + shift })),
      ...(window?.strokes ?? []),
      ...extremes.rings,
    ],
    texts: [
      textRow(6 - left, 12 - top, fitText(input.title, roomPx, titlePx, true), {
        weight: 'bold',
        size: titlePx,
      }),
      ...outcome.map((line, i) => textRow(6 - left, 29 + i * legendRowPx - top, line)),
      ...laid.texts.map((row) => ({ ...row, py: row.py + shift })),
      ...strip.texts,
      ...(window?.texts ?? []),
      ...extremes.labels,
      ...note.map((line, i) =>
        textRow(6 - left, plotHeight + 48 + i * legendRowPx, line, { colour: palette.soft }),
      ),
    ],
  };
  return {
    spec: sheetSpec(sheet),
    times,
    uncertaintyDrawnAs: asBars ? 'bars' : 'band',
    isThinned: isDense,
    hasGaps: input.series.some((series) => series.samples.some((sample) => sample.y === null)),
    zonesOutside,
  };
}

/** All points with their uncertainty, zero, and the zones unless they would squeeze the points flat. */
function yDomainOf(input: ProfileInput, xFirst: number, xLast: number) {
  let [lo, hi] = [0, 0];
  for (const { samples } of input.series) {
    for (const { y, half } of samples) {
      if (y === null) continue;
      lo = Math.min(lo, y - half);
      hi = Math.max(hi, y + half);
    }
  }
  if (!(hi > lo)) [lo, hi] = [-1, 1];
  const mostSpan = 5 * (hi - lo);
  const zonesOutside: Zone[] = [];
  for (const zone of input.zones) {
    const ends = [valueOn(zone.line, xFirst), valueOn(zone.line, xLast)];
    const [zoneLo, zoneHi] = [Math.min(...ends) + zone.below, Math.max(...ends) + zone.above];
    if (Math.max(hi, zoneHi) - Math.min(lo, zoneLo) > mostSpan) {
      zonesOutside.push(zone);
      continue;
    }
    [lo, hi] = [Math.min(lo, zoneLo), Math.max(hi, zoneHi)];
  }
  const below = labelRoomPx + (input.window === undefined ? 0 : windowRoomPx);
  const perPx = (hi - lo) / (plotHeight - labelRoomPx - below);
  return { domain: [lo - below * perPx, hi + labelRoomPx * perPx] as const, zonesOutside };
}

type Frame = Pick<Sheet, 'width' | 'height' | 'x' | 'y'>;

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

const zoneEdgeDash = [6, 3];
const zoneLineDash = [9, 3, 2, 3];

function zoneRules(zones: readonly Zone[], [x, x2]: readonly [number, number]): RuleRow[] {
  return zones.flatMap(({ line, below, above, lineLabel }, i) => {
    const rule = (what: string, by: number, width: number, dash: readonly number[]): RuleRow => ({
      what,
      x,
      x2,
      y: valueOn(line, x) + by,
      y2: valueOn(line, x2) + by,
      colour: palette.zoneEdge,
      width,
      dash,
    });
    const dash = i === 0 ? zoneEdgeDash : [2, 2];
    return [
      rule('limit', below, 0.9, dash),
      rule('limit', above, 0.9, dash),
      ...(lineLabel === undefined ? [] : [rule('reference', 0, 0.9, zoneLineDash)]),
    ];
  });
}

function zoneBands(zone: Zone | undefined, xDomain: readonly [number, number]) {
  if (zone === undefined) return { zone: [], acceptance: [] };
  const band = (below: number, above: number): BandRow[] =>
    xDomain.map((x) => ({ x, lo: valueOn(zone.line, x) + below, hi: valueOn(zone.line, x) + above }));
  const { acceptance } = zone;
  return {
    zone: band(zone.below, zone.above),
    acceptance: acceptance === undefined ? [] : band(acceptance.below, acceptance.above),
  };
}

function drawSeries(series: readonly ProfileSeries[], thinned: readonly ThinnedSeries[], asBars: boolean) {
  const paths: Record<'as-found' | 'as-left', PathRow[]> = { 'as-found': [], 'as-left': [] };
  const bands: Record<'as-found' | 'as-left', BandRow[]> = { 'as-found': [], 'as-left': [] };
  const bars: RuleRow[] = [];
  const points: PointRow[] = [];
  for (const [i, { phase, samples, extremes }] of series.entries()) {
    const look = seriesLooks[phase.name];
    const { runs, bands: runBands } = thinned[i]!;
    const size = asBars ? 30 : 16;
    for (const run of runs) {
      paths[phase.name].push(...run.map(({ x, y }) => ({ x, y })), { x: run[run.length - 1]!.x, y: null });
      for (const { station, x, y, half } of run) {
        // A run of one point has no line: without its marker it would not be seen.
        if (samples.length > mostMarkers && run.length > 1 && !extremes.includes(station)) continue;
        points.push({
          what: phase.name,
          x,
          y,
          shape: look.shape,
          size,
          colour: look.colour,
          fill: look.fill,
        });
        if (!asBars) continue;
        bars.push({
          what: `uncertainty ${phase.name}`,
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
      bands[phase.name].push(...band, { x: band[band.length - 1]!.x, lo: null, hi: null });
    }
  }
  return { paths, bands, bars, points };
}

interface Extreme {
  readonly colour: string;
  readonly px: number;
  readonly py: number;
  readonly barPx: number;
  readonly isUp: boolean;
  readonly text: string;
}

/** Rings round the points that make a value, and the value of each where there is room. */
function labelExtremes(
  frame: Frame,
  series: readonly ProfileSeries[],
  thinned: readonly ThinnedSeries[],
  bars: readonly RuleRow[],
) {
  const room: Box = { left: -2, right: frame.width + rightPx, top: 0, bottom: frame.height };
  const drawn = [
    ...thinned.flatMap(({ runs }) => runs.flatMap((run) => placesAlong(frame, run))),
    ...bars.flatMap(({ x, y, y2 }) =>
      drawnLine([xPx(frame, x), yPx(frame, y)], [xPx(frame, x), yPx(frame, y2)], 0.7),
    ),
  ];
  // The last phase first: its labels matter most.
  const extremes = [...series].reverse().flatMap((one) => extremesOf(frame, one));
  const labels: TextRow[] = [];
  for (const extreme of extremes) {
    // Close to another ring a label would be read as that one's.
    const others = extremes.flatMap((other) => (other === extreme ? [] : aroundRing(other)));
    const taken = labels.map((row) => boxOf(row));
    const label = placeLabel(labelCandidates(extreme), taken, [...drawn, ...others], room);
    if (label !== null) labels.push({ ...label, colour: extreme.colour });
  }
  const rings = extremes.map(({ px, py, colour }) =>
    strokeRow(px, py, circlePath(6.2), { colour, width: 1.1 }),
  );
  return { rings, labels };
}

function extremesOf(frame: Frame, { phase, samples, extremes }: ProfileSeries): Extreme[] {
  const made = samples.filter(
    (sample): sample is Read => sample.y !== null && extremes.includes(sample.station),
  );
  const greatest = Math.max(...made.map((sample) => sample.y));
  return made.map(({ x, y, half }) => {
    const py = yPx(frame, y);
    return {
      colour: seriesLooks[phase.name].colour,
      px: xPx(frame, x),
      py,
      barPx: py - yPx(frame, y + half),
      isUp: made.length === 1 ? y >= 0 : y === greatest,
      text: numberText(y, half > 0 ? roundUncertainty(half).decimals : 1, { signed: true }),
    };
  });
}

const aroundRing = ({ px, py }: Extreme): Drawn[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((k) => ({
    px: px + 11 * Math.cos((k * Math.PI) / 4),
    py: py + 11 * Math.sin((k * Math.PI) / 4),
    weight: 2,
  }));

/** Points of a run and the line between them: what a label should not stand on. */
function placesAlong(frame: Frame, run: readonly { readonly x: number; readonly y: number }[]): Drawn[] {
  const places: Drawn[] = [];
  let before: Drawn | undefined;
  for (const { x, y } of run) {
    const here = { px: xPx(frame, x), py: yPx(frame, y), weight: 4 };
    if (before !== undefined) places.push(...drawnLine([before.px, before.py], [here.px, here.py], 1));
    places.push(here);
    before = here;
  }
  return places;
}

/** Labels for an extreme: outwards of it first, then aside, then on the other side. */
function labelCandidates(at: Extreme): Candidate[] {
  const outwards = at.isUp ? -1 : 1;
  const places = labelPlaces(Math.max(15, at.barPx + 9));
  return (
    [
      [outwards, 0],
      [-outwards, 3],
    ] as const
  ).flatMap(([side, sideCost]) =>
    places.map(([dx, dy, cost]): Candidate => {
      const align = dx === 0 ? 'center' : dx < 0 ? 'right' : 'left';
      const label = textRow(at.px + dx, at.py + side * dy, at.text, { align, weight: 'bold' });
      return { label, cost: cost + sideCost };
    }),
  );
}

/** Offsets from the point, px, and what each costs for being farther or aside. */
const labelPlaces = (beyond: number): readonly (readonly [number, number, number])[] => [
  [0, beyond, 0],
  [9, 13, 1.1],
  [-9, 13, 1.1],
  [11, 0, 2],
  [-11, 0, 2],
  [0, beyond + 12, 3],
  [9, 24, 3],
  [-9, 24, 3],
  [20, 7, 3.5],
  [-20, 7, 3.5],
];

/** Station numbers along the upper edge, so that a point can be found in the tables. */
function stationStrip(frame: Frame, samples: readonly Sample[]) {
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
    const half = estimateTextPx(String(station), textPx) / 2;
    if (!isLabelled || px - half < takenTo) continue;
    texts.push(textRow(px, -9, String(station), { align: 'center', colour: palette.soft }));
    takenTo = px + half + 6;
  }
  strokes.push(strokeRow(0, 0, ticks, { colour: palette.faint, width: 0.7 }));
  return { strokes, texts };
}

function labelStep(count: number, width: number): number {
  const least = (count * (estimateTextPx(String(count), textPx) + 12)) / width;
  for (let decade = 1; ; decade *= 10) for (const f of [1, 2, 5]) if (f * decade >= least) return f * decade;
}

function drawWindow(frame: Frame, window: { from: number; to: number; label: string }) {
  const [from, to] = [xPx(frame, window.from), xPx(frame, window.to)];
  const y = frame.height - 8;
  const half = estimateTextPx(window.label, textPx) / 2;
  const centre = Math.min(Math.max((from + to) / 2, half), frame.width - half);
  const text = textRow(centre, y - 10, window.label, { align: 'center' });
  const bracket = strokeRow(from, y, `M0,-4v8M${to - from},-4v8M0,0H${to - from}`, {
    colour: palette.ink,
    width: 1.1,
  });
  return { strokes: [bracket], texts: [text] };
}

function legendOf(
  input: ProfileInput,
  zones: readonly Zone[],
  asBars: boolean,
  isDense: boolean,
  hasRings: boolean,
): LegendItem[] {
  const items: LegendItem[] = input.series.map(({ phase }) =>
    seriesItem(phase.words, seriesLooks[phase.name], isDense),
  );
  const looks = input.series.map(({ phase }) => seriesLooks[phase.name]);
  items.push({
    label: input.barLabel,
    samplePx: asBars ? 6 * looks.length : 26,
    sample: looks.map((look, i) =>
      asBars
        ? { path: `M${(i - (looks.length - 1) / 2) * 6},-6v12`, colour: look.colour, width: 0.9 }
        : {
            path: `M${-13 + (26 / looks.length) * i},-4h${26 / looks.length}v8h${-26 / looks.length}Z`,
            colour: null,
            fill: look.band,
          },
    ),
  });
  items.push({
    label: input.zeroLabel,
    samplePx: 26,
    sample: [lineSample({ colour: palette.ink, width: 0.9 })],
  });
  for (const [i, zone] of zones.entries()) {
    const isFilled = i === 0;
    items.push({
      label: zone.label,
      samplePx: 26,
      sample: isFilled
        ? [zoneSample(palette.zone)]
        : [lineSample({ colour: palette.zoneEdge, width: 0.9, dash: [2, 2] })],
    });
    if (isFilled && zone.acceptance !== undefined) {
      items.push({
        label: 'what guarded acceptance leaves of it',
        samplePx: 26,
        sample: [{ path: 'M-13,-4.5h26v9h-26Z', fill: palette.acceptance, colour: null, width: 0 }],
      });
    }
    if (zone.lineLabel !== undefined) {
      items.push({
        label: zone.lineLabel,
        samplePx: 26,
        sample: [lineSample({ colour: palette.zoneEdge, width: 0.9, dash: zoneLineDash })],
      });
    }
  }
  if (hasRings) {
    items.push({
      label: 'makes the value',
      samplePx: 13,
      sample: [{ path: circlePath(5.5), colour: palette.ink, width: 1.1 }],
    });
  }
  return items;
}
