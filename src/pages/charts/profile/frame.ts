/** Axes of a profile. */
import { numberText } from '../../../results/words/format-quantity.js';
import { labelsInside, niceTicks } from '../axis-ticks.js';
import { pictureWidthPx, textPx } from '../chart-spec.js';
import type { Frame } from '../rows.js';
import { textWidth } from '../../fonts/widths.js';
import type { ProfileInput } from './profile.js';
import { valueOn } from './zone-line.js';
import type { Zone } from './zones.js';
import { leastOf, mostOf } from '../../../base/statistics/extent.js';

/** Free at the right of the plot, px. */
export const rightPx = 14;
/** Free beyond a point, beyond the end of its bar and beyond a zone, for labels, px. */
const roomPx = { point: 22, bar: 17, zone: 4 };
/** Below all that, for the bracket of a window, px. */
const windowRoomPx = 24;
/** From one tick to the next, px. */
const leastTickPx = 21;

export interface ProfileFrame {
  readonly frame: Frame;
  /** Room at the left of the plot, px. */
  readonly left: number;
  /** Right end of the x axis's title, which stands before its labels, px. */
  readonly xTitlePx: number;
  /** How much larger y is drawn than x; null where they are not both lengths. */
  readonly times: number | null;
}

/** @param zones Those that the picture shows (`zonesOutside` tells which it cannot). */
export function frameOf(input: ProfileInput, zones: readonly Zone[], height: number): ProfileFrame {
  const samples = input.series[0]!.samples;
  const [xFirst, xLast] = [samples[0]!.x, samples[samples.length - 1]!.x];
  const margin = (xLast - xFirst) * 0.018;
  const xDomain = [xFirst - margin, xLast + margin] as const;
  const yDomain = yDomainOf(input, zones, height);

  const yTicks = niceTicks(...yDomain, Math.floor(height / leastTickPx));
  // A label at the very top would run into the row of station numbers.
  const topmost = yDomain[1] - (7 / height) * (yDomain[1] - yDomain[0]);
  const yValues = yTicks.values.filter((value) => value <= topmost);
  const yLabels = yValues.map((value) =>
    value === 0 ? '0' : numberText(value, yTicks.decimals, { signed: true }),
  );
  const widestPx = Math.max(0, ...yLabels.map((label) => textWidth(label, textPx)));
  const xTitleWidth = textWidth(input.xTitle, textPx);
  let left = Math.max(56, Math.ceil(widestPx) + 32);
  let x = xAxisOf(xDomain, left);
  const needed = Math.ceil(xTitleWidth - x.titlePx) + 4;
  if (needed > left) x = xAxisOf(xDomain, (left = needed));

  const perX = x.width / (xDomain[1] - xDomain[0]);
  const perY = height / (yDomain[1] - yDomain[0]);
  return {
    frame: {
      width: x.width,
      height,
      x: { domain: xDomain, ticks: x.ticks, labels: x.labels, title: '' },
      y: { domain: yDomain, ticks: yValues, labels: yLabels, title: input.yTitle },
    },
    left,
    xTitlePx: x.titlePx,
    times: input.xPerY === null ? null : perY / input.xPerY / perX,
  };
}

function xAxisOf(domain: readonly [number, number], left: number) {
  const width = pictureWidthPx - left - rightPx;
  const ticks = niceTicks(...domain, Math.floor(width / 62));
  const numbers = ticks.values.map((value) => numberText(value, ticks.decimals));
  const labels = labelsInside(ticks.values, numbers, domain, width, rightPx);
  const firstPx = ((ticks.values[0]! - domain[0]) / (domain[1] - domain[0])) * width;
  const firstLeft = firstPx - textWidth(labels[0]!, textPx) / 2;
  return { width, ticks: ticks.values, labels, titlePx: Math.min(-6, Math.floor(firstLeft) - 9) };
}

/** A place that the y axis must hold, and how much free paper beyond it. */
interface Held {
  readonly value: number;
  readonly px: number;
}

/** All points with their uncertainty, zero and the zones, and room for labels. */
function yDomainOf(input: ProfileInput, zones: readonly Zone[], height: number): readonly [number, number] {
  const [lo, hi] = extentOfPoints(input);
  const above: Held[] = [{ value: hi, px: roomPx.bar }];
  const below: Held[] = [{ value: lo, px: roomPx.bar }];
  for (const { samples } of input.series)
    for (const { y } of samples) {
      if (y === null) continue;
      above.push({ value: y, px: roomPx.point });
      below.push({ value: y, px: roomPx.point });
    }
  for (const zone of zones) {
    const [zoneLo, zoneHi] = zoneExtent(input, zone);
    above.push({ value: zoneHi, px: roomPx.zone });
    below.push({ value: zoneLo, px: roomPx.zone });
  }
  const footPx = input.window === undefined ? 0 : windowRoomPx;
  // How much a pixel is depends on the room, which is a number of pixels: each round comes closer to both.
  let domain: readonly [number, number] = [lo, hi];
  for (let round = 0; round < 60; round++) {
    const perPx = (domain[1] - domain[0]) / height;
    const end = (held: readonly Held[], side: 1 | -1, more: number) =>
      held.reduce((most, { value, px }) => Math.max(most, side * value + (px + more) * perPx), -Infinity);
    domain = [-end(below, -1, footPx), end(above, 1, 0)];
  }
  return domain;
}

/** Zero and every point with its bar. */
function extentOfPoints({ series, arrows = [] }: ProfileInput): readonly [number, number] {
  let [lo, hi] = [0, 0];
  for (const { by } of arrows) [lo, hi] = [Math.min(lo, by), Math.max(hi, by)];
  for (const { samples } of series)
    for (const { y, half } of samples) {
      if (y === null) continue;
      lo = Math.min(lo, y - half);
      hi = Math.max(hi, y + half);
    }
  return hi > lo ? [lo, hi] : [-1, 1];
}

function zoneExtent({ series }: ProfileInput, { line, below, above }: Zone): readonly [number, number] {
  const { samples } = series[0]!;
  const ends = [samples[0]!, samples[samples.length - 1]!].map(({ x }) => valueOn(line, x));
  return [leastOf(ends) + below, mostOf(ends) + above];
}

/** Zones that are so much wider than the data that their edges would squeeze the points flat. */
export function zonesOutside(input: ProfileInput): Zone[] {
  let [lo, hi] = extentOfPoints(input);
  const mostSpan = 5 * (hi - lo);
  return input.zones.filter((zone) => {
    const [zoneLo, zoneHi] = zoneExtent(input, zone);
    const both = [Math.min(lo, zoneLo), Math.max(hi, zoneHi)] as const;
    if (both[1] - both[0] > mostSpan) return true;
    [lo, hi] = both;
    return false;
  });
}
