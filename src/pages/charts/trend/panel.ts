/** One characteristic over the surveys of a machine: value, interval and limit against the day. */
import { numberText } from '../../../results/words/format-quantity.js';
import type { Verdict } from '../../../results/results-schema.js';
import { niceTicks, type Ticks } from '../axis-ticks.js';
import { textPx } from '../chart-spec.js';
import { circlePath, squarePath } from '../legend.js';
import { palette, seriesLooks, type SeriesRole } from '../palette.js';
import { round, strokeRow, textRow, type StrokeRow, type TextRow } from '../rows.js';
import { fitText } from '../text-fit.js';
import { dayTicks } from './time-axis.js';
import type { TrendPanel, TrendValue } from './trend-input.js';

/** Room of a panel, px: figures of the axis at the left, two lines above, dates below. */
const room = { left: 44, right: 10, top: 32, bottom: 19, plot: 72 } as const;
export const panelHeightPx = room.top + room.plot + room.bottom;

/** As found a little before as left, where a survey has both. */
const asidePx = 2.5;
/** Beyond this many values markers are smaller. */
const many = 24;
/** A limit beyond so many times the largest value is told in words alone: it would flatten the picture. */
const farLimit = 4;

/** What a verdict says, by shape; drawn over the marker. */
export const verdictShapes = {
  'does-not-conform': 'M-4.5,-4.5L4.5,4.5M-4.5,4.5L4.5,-4.5',
  undecided: circlePath(5.5),
} as const satisfies Partial<Record<Verdict, string>>;
const smallShapes: Record<keyof typeof verdictShapes, string> = {
  'does-not-conform': 'M-2.6,-2.6L2.6,2.6M-2.6,2.6L2.6,-2.6',
  undecided: circlePath(3.6),
};

/** Where a panel stands in the picture, px, and its axis of days. */
export interface PanelPlace {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly days: readonly [number, number];
}

export interface DrawnPanel {
  /** In the order in which they are painted; few, each with a long path, so that pictures stay small. */
  readonly strokes: readonly StrokeRow[];
  readonly texts: readonly TextRow[];
}

interface Frame {
  readonly x: (day: number) => number;
  readonly y: (value: number) => number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly low: number;
  readonly high: number;
  readonly ticks: Ticks;
}

type Known = TrendValue & { readonly value: number };
type Placed = TrendValue & { readonly px: number };

export function drawPanel(panel: TrendPanel, place: PanelPlace): DrawnPanel {
  const frame = frameOf(panel, place);
  const placed = panel.values.map((value) => ({ ...value, px: frame.x(value.day) + aside(value, panel) }));
  return {
    strokes: [
      ...gridStrokes(frame),
      ...limitStrokes(panel, frame),
      ...(['as-found', 'as-left'] as const).flatMap((phase) => seriesStrokes(placed, phase, frame)),
      ...(['does-not-conform', 'undecided'] as const).flatMap((verdict) =>
        verdictStrokes(placed, verdict, frame),
      ),
    ],
    texts: [...headTexts(panel, place), ...axisTexts(frame, place)],
  };
}

function aside({ phase, day }: TrendValue, { values }: TrendPanel): number {
  const hasOther = values.some((other) => other.day === day && other.phase !== phase);
  return !hasOther ? 0 : phase === 'as-found' ? -asidePx : asidePx;
}

function frameOf(panel: TrendPanel, { left, top, width, days }: PanelPlace): Frame {
  const [low, high] = valueRange(panel);
  const plot = {
    left: left + room.left,
    right: left + width - room.right,
    top: top + room.top,
    bottom: top + room.top + room.plot,
  };
  const [from, to] = days;
  return {
    ...plot,
    low,
    high,
    ticks: niceTicks(low, high, 5),
    x: (day) => plot.left + ((day - from) / (to - from)) * (plot.right - plot.left),
    y: (value) => plot.bottom - ((value - low) / (high - low)) * room.plot,
  };
}

/** Nought, all values with their intervals, and the limits unless they lie far off. */
function valueRange({ values, signed }: TrendPanel): [number, number] {
  const shown = values.flatMap(({ value, interval }) => (value === null ? [] : [value, ...(interval ?? [])]));
  const largest = Math.max(...shown.map(Math.abs));
  const limits = values.flatMap(({ limit }) =>
    limit === null || limit > farLimit * largest ? [] : signed ? [limit, -limit] : [limit],
  );
  const low = Math.min(0, ...shown, ...limits);
  const high = Math.max(0, ...shown, ...limits);
  if (high === low) return [0, 1]; // nought throughout
  const margin = 0.08 * (high - low);
  return [low === 0 ? 0 : low - margin, high === 0 ? 0 : high + margin];
}

const at = (x: number, y: number): string => `${round(x)},${round(y)}`;
const across = (x: number, y: number, to: number): string => `M${at(x, y)}H${round(to)}`;
/** A path in the picture's own pixels; none for an empty one. */
const stroke = (path: string, look: Partial<StrokeRow>): StrokeRow[] =>
  path === '' ? [] : [strokeRow(0, 0, path, look)];
/** A shape about the origin, set down at many places. */
const repeated = (shape: string, places: readonly (readonly [number, number])[]): string =>
  places.map(([x, y]) => moved(shape, x, y)).join('');

/** @param shape Absolute M, L, A and relative h, v, Z, as the shapes of legend.ts have them. */
function moved(shape: string, x: number, y: number): string {
  return shape.replace(/([MLA])([-\d.,]+)/g, (_, letter: string, text: string) => {
    const numbers = text.split(',').map(Number);
    const end = numbers.splice(-2) as [number, number];
    return `${letter}${[...numbers, at(end[0] + x, end[1] + y)].join(',')}`;
  });
}

function gridStrokes({ y, left, right, top, bottom, low, ticks }: Frame): StrokeRow[] {
  const grid = ticks.values.map((value) => across(left, y(value), right)).join('');
  return [
    ...stroke(grid, { colour: palette.grid, width: 0.6 }),
    ...stroke(low < 0 ? across(left, y(0), right) : '', { colour: palette.faint }),
    ...stroke(`M${at(left, top)}V${round(bottom)}H${round(right)}`, {}),
  ];
}

/** A limit holds from half-way between a survey and the one before to half-way to the next. */
function limitStrokes({ values, signed }: TrendPanel, frame: Frame): StrokeRow[] {
  const { x, y, left, right, low, high } = frame;
  let from = left;
  const stretches: string[] = [];
  for (const [i, { day, limit }] of values.entries()) {
    const next = values[i + 1];
    if (next !== undefined && next.limit === limit) continue;
    const to = next === undefined ? right : (x(day) + x(next.day)) / 2;
    const levels = limit === null ? [] : signed ? [limit, -limit] : [limit];
    const inside = levels.filter((level) => level >= low && level <= high);
    stretches.push(...inside.map((level) => across(from, y(level), to)));
    from = to;
  }
  return stroke(stretches.join(''), { colour: palette.zoneEdge, width: 1, dash: [6, 3] });
}

function seriesStrokes(placed: readonly Placed[], phase: SeriesRole, { y }: Frame): StrokeRow[] {
  const { colour, fill, shape, dash, width } = seriesLooks[phase];
  const own = placed.filter((value) => value.phase === phase);
  const known = own.filter(isKnown);
  const size = placed.length > many ? 1.7 : 2.7;
  // A line breaks where a survey did not determine the value.
  const line = own.map((value, i) => {
    const before = own[i - 1];
    if (!isKnown(value)) return '';
    return `${before !== undefined && isKnown(before) ? 'L' : 'M'}${at(value.px, y(value.value))}`;
  });
  const bars = known.map(({ px, interval }) =>
    interval === null ? '' : `M${at(px, y(interval[0]))}V${round(y(interval[1]))}`,
  );
  const marker = shape === 'circle' ? circlePath(size) : squarePath(size - 0.1);
  const markers = repeated(
    marker,
    known.map(({ px, value }) => [px, y(value)]),
  );
  return [
    ...stroke(line.join(''), { colour, width, dash }),
    ...stroke(bars.join(''), { colour, width: 1 }),
    ...stroke(markers, { colour, fill, width: 1.1 }),
  ];
}

function verdictStrokes(
  placed: readonly Placed[],
  verdict: keyof typeof verdictShapes,
  { y }: Frame,
): StrokeRow[] {
  const known = placed.filter(isKnown);
  const shapes = placed.length > many ? smallShapes : verdictShapes;
  const places = known
    .filter((value) => value.verdict === verdict)
    .map(({ px, value }) => [px, y(value)] as const);
  return stroke(repeated(shapes[verdict], places), { colour: palette.ink, width: 1 });
}

function isKnown<V extends TrendValue>(value: V): value is V & Known {
  return value.value !== null;
}

function headTexts({ name, outcome }: TrendPanel, { left, top, width }: PanelPlace): TextRow[] {
  const most = width - room.right;
  return [
    textRow(left, top + 8, fitText(name, most, textPx + 0.5), { size: textPx + 0.5 }),
    textRow(left, top + 22, fitText(outcome, most, textPx), { colour: palette.soft }),
  ];
}

function axisTexts({ x, y, left, right, bottom, low, ticks }: Frame, { days }: PanelPlace): TextRow[] {
  const figure = (value: number) => numberText(value, ticks.decimals, { signed: low < 0 });
  return [
    ...ticks.values.map((value) => textRow(left - 5, y(value), figure(value), { align: 'right' })),
    ...dayTicks(...days, right - left).map(({ day, label }) =>
      textRow(x(day), bottom + 11, label, { align: 'center' }),
    ),
  ];
}
