/** Tolerance zones in a profile: where they lie, and how they are drawn. */
import { guarded } from '../../../solution/verdict/decision-rule.js';
import type { ReportUnit } from '../../../results/words/format-quantity.js';
import type { ChartContext, Limited } from '../chart-context.js';
import { palette } from '../palette.js';
import type { BandRow, RuleRow } from '../rows.js';
import { extentOf, type ProfileSeries } from './series.js';
import { levelLine, valueOn, type Line } from './zone-line.js';

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

/**
 * A zone as wide as a limit, set evenly about the greatest and the least value, so that it shows the excess, if
 * any, half above and half below: where in space the zone lies is nobody's choice for a range.
 */
export function evenZone(
  unit: ReportUnit,
  series: Pick<ProfileSeries, 'samples'>,
  limit: number,
  label: string,
): Zone {
  const [least, greatest] = extentOf(series);
  const middle = (least + greatest) / 2;
  const half = unit.fromBase(limit) / 2;
  return { line: levelLine, below: middle - half, above: middle + half, label };
}

/** The same, with what guarded acceptance leaves of it. */
export function rangeZone(
  context: ChartContext,
  unit: ReportUnit,
  series: ProfileSeries,
  characteristic: Limited,
  label: string,
): Zone {
  const zone = evenZone(unit, series, characteristic.limit, label);
  return withAcceptance(context, unit, zone, characteristic);
}

/** A zone from −limit to +limit about zero. */
export function symmetricZone(
  context: ChartContext,
  unit: ReportUnit,
  characteristic: Limited,
  label: string,
): Zone {
  const limit = unit.fromBase(characteristic.limit);
  const zone: Zone = { line: levelLine, below: -limit, above: limit, label };
  return withAcceptance(context, unit, zone, characteristic);
}

/**
 * Under guarded acceptance the whole coverage interval must lie inside, which is the same as the value lying in
 * a zone narrower by the distance from the value to the interval's ends.
 */
export function withAcceptance(
  context: ChartContext,
  unit: ReportUnit,
  zone: Zone,
  characteristic: Limited,
): Zone {
  const { value, interval, signed } = characteristic;
  if (context.results.settings.rule !== 'guarded' || value === null || interval === null) return zone;
  const [low, high] = guarded(interval, context.results.settings.guardBand ?? 1);
  const over = Math.max(0, unit.fromBase(high - value));
  const under = signed ? Math.max(0, unit.fromBase(value - low)) : over;
  const share = signed ? 1 : 0.5; // a range has one guard band, shared by both sides of its zone
  const acceptance = { below: zone.below + under * share, above: zone.above - over * share };
  return acceptance.above > acceptance.below && over + under > 0 ? { ...zone, acceptance } : zone;
}

/** Dashes: of the first zone's edges, of any further zone's, of a reference line. */
export const zoneEdgeDash = [6, 3];
export const furtherEdgeDash = [2, 2];
export const zoneLineDash = [9, 3, 2, 3];

export function zoneRules(zones: readonly Zone[], [x, x2]: readonly [number, number]): RuleRow[] {
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
    const dash = i === 0 ? zoneEdgeDash : furtherEdgeDash;
    return [
      rule('limit', below, 0.9, dash),
      rule('limit', above, 0.9, dash),
      ...(lineLabel === undefined ? [] : [rule('reference', 0, 0.9, zoneLineDash)]),
    ];
  });
}

export function zoneBands(zone: Zone | undefined, xDomain: readonly [number, number]) {
  if (zone === undefined) return { zone: [], acceptance: [] };
  const band = (below: number, above: number): BandRow[] =>
    xDomain.map((x) => ({ x, lo: valueOn(zone.line, x) + below, hi: valueOn(zone.line, x) + above }));
  const { acceptance } = zone;
  return {
    zone: band(zone.below, zone.above),
    acceptance: acceptance === undefined ? [] : band(acceptance.below, acceptance.above),
  };
}
