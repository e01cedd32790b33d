/** Axes and scales of the plan. */
import { numberText, positionText } from '../../../results/words/format-quantity.js';
import { labelsInside, niceTicks } from '../axis-ticks.js';
import type { ChartContext } from '../chart-context.js';
import { pictureWidthPx, textPx } from '../chart-spec.js';
import { xPx, yPx, type Frame } from '../rows.js';
import type { Sheet } from '../sheet.js';
import { textWidth } from '../../fonts/widths.js';

export interface Place {
  readonly along: number;
  readonly across: number;
}

/** Left and right of what is drawn, and above and below, for labels, px. */
const marginPx = { across: 34, along: 24 };
const leastHeight = 100;
/** Flatter than this, px, the rails could not be told apart: then across is stretched to the second. */
const leastToScale = 56;
const leastStretched = 90;
const mostHeight = 270;
/** How many times larger across may be drawn than along. */
const factors = [
  1, 2, 3, 4, 5, 6, 8, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 250, 300, 400, 500, 1000,
];

export interface PlanFrame extends Frame, Pick<Sheet, 'padding'> {
  /** Pixels for a millimetre along; across it is `factor` times as many. */
  readonly perMm: number;
  readonly factor: number;
}

/** Both axes in the unit of the report, one scale for both where the picture then is neither flat nor too tall. */
export function planFrame(context: ChartContext, places: readonly Place[]): PlanFrame {
  const extent = (values: readonly number[]) => {
    let [least, greatest] = [Infinity, -Infinity];
    for (const v of values) [least, greatest] = [Math.min(least, v), Math.max(greatest, v)];
    return [least, greatest] as const;
  };
  const along = extent(places.map((place) => place.along));
  const across = extent(places.map((place) => place.across));
  const alongMm = along[1] - along[0];
  const acrossMm = across[1] - across[0];
  const labelPx = Math.max(
    ...across.map((mm) => textWidth(positionText(Math.round(mm / 10) * 10, context.length), textPx)),
  );
  const left = Math.max(56, Math.ceil(labelPx) + 36);
  const right = 14;
  const width = pictureWidthPx - left - right;
  const roomAlong = width - 2 * marginPx.across;
  const roomAcross = mostHeight - 2 * marginPx.along;
  let perMm = Math.min(
    alongMm > 0 ? roomAlong / alongMm : Infinity,
    acrossMm > 0 ? roomAcross / acrossMm : Infinity,
  );
  if (!Number.isFinite(perMm)) perMm = 0.1;
  const toScalePx = perMm * acrossMm;
  const isFlat = toScalePx > 0 && toScalePx < leastToScale;
  const factor = isFlat ? (factors.find((f) => f * toScalePx >= leastStretched) ?? 1000) : 1;
  const height = Math.round(Math.max(leastHeight, acrossMm * perMm * factor + 2 * marginPx.along));
  const axis = (range: readonly [number, number], px: number, pxPerMm: number, title: string) => {
    const middle = (range[0] + range[1]) / 2;
    const half = px / pxPerMm / 2;
    const domain = [context.length.fromBase(middle - half), context.length.fromBase(middle + half)] as const;
    const ticks = niceTicks(...domain, Math.max(3, Math.floor(px / (title === 'along' ? 62 : 30))));
    const numbers = ticks.values.map((value) => numberText(value, ticks.decimals));
    const labels = title === 'along' ? labelsInside(ticks.values, numbers, domain, px, right) : numbers;
    return { domain, ticks: ticks.values, labels, title: `${title}, ${context.length.label}` };
  };
  return {
    width,
    height,
    x: axis(along, width, perMm, 'along'),
    y: axis(across, height, perMm * factor, 'across'),
    padding: { left, right, top: 0, bottom: 0 },
    perMm,
    factor,
  };
}

export const placePx = (context: ChartContext, frame: PlanFrame, place: Place): readonly [number, number] => [
  xPx(frame, context.length.fromBase(place.along)),
  yPx(frame, context.length.fromBase(place.across)),
];
