/** Axes of a profile. */
import { numberText } from '../../report/format-quantity.js';
import { labelsInside, niceTicks } from '../axis-ticks.js';
import { pictureWidthPx, textPx } from '../chart-spec.js';
import type { Frame } from '../rows.js';
import { estimateTextPx } from '../text-fit.js';
import type { ProfileInput } from './profile.js';
import { valueOn } from './zone-line.js';
import type { Zone } from './zones.js';

const plotHeight = 204;
/** Free at the right of the plot, px. */
export const rightPx = 14;
/** Free above and below the points for their labels, and below for the bracket of a window, px. */
const labelRoomPx = 20;
const windowRoomPx = 24;

export interface ProfileFrame {
  readonly frame: Frame;
  /** Room at the left of the plot, px. */
  readonly left: number;
  /** How much larger y is drawn than x; null where they are not both lengths. */
  readonly times: number | null;
  /** Zones that are so much wider than the data that their edges fall outside the picture. */
  readonly zonesOutside: readonly Zone[];
}

export function frameOf(input: ProfileInput): ProfileFrame {
  const samples = input.series[0]!.samples;
  const [xFirst, xLast] = [samples[0]!.x, samples[samples.length - 1]!.x];
  const margin = (xLast - xFirst) * 0.018;
  const xDomain = [xFirst - margin, xLast + margin] as const;
  const { domain: yDomain, zonesOutside } = yDomainOf(input, xFirst, xLast);

  const yTicks = niceTicks(...yDomain, 9);
  // A label at the very top would run into the row of station numbers.
  const topmost = yDomain[1] - (8 / plotHeight) * (yDomain[1] - yDomain[0]);
  const yValues = yTicks.values.filter((value) => value <= topmost);
  const yLabels = yValues.map((value) =>
    value === 0 ? '0' : numberText(value, yTicks.decimals, { signed: true }),
  );
  const widestPx = Math.max(...yLabels.map((label) => estimateTextPx(label, textPx)));
  const left = Math.max(56, Math.ceil(widestPx) + 32);
  const width = pictureWidthPx - left - rightPx;

  const xTicks = niceTicks(...xDomain, Math.floor(width / 62));
  const xNumbers = xTicks.values.map((value) => numberText(value, xTicks.decimals));
  const xLabels = labelsInside(xTicks.values, xNumbers, xDomain, width, rightPx);

  const perX = width / (xDomain[1] - xDomain[0]);
  const perY = plotHeight / (yDomain[1] - yDomain[0]);
  return {
    frame: {
      width,
      height: plotHeight,
      x: { domain: xDomain, ticks: xTicks.values, labels: xLabels, title: input.xTitle },
      y: { domain: yDomain, ticks: yValues, labels: yLabels, title: input.yTitle },
    },
    left,
    times: input.xPerY === null ? null : perY / input.xPerY / perX,
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
