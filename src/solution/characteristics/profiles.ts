/**
 * The families of quantities for the characteristics and the station tables, and their references. Each is null if the phase
 * has no reading for it.
 */
import { positionMm, type Axis, type Rail } from '../../survey/job/job.js';
import { keyOf, pointKind, type Network } from '../solve/network.js';
import type { Functional } from '../solve/adjustment.js';
import { SAME_POSITION_M } from '../solve/unknowns.js';
import { subFamily, type FamilyPoint, type LinearFamily } from './linear-family.js';

/** The stations of a rail that were read in one axis. */
export interface RailProfile {
  readonly rail: Rail;
  readonly axis: Axis;
  readonly points: readonly FamilyPoint[];
  /** Positions along the direction of the rail, m. */
  readonly positions: Float64Array;
  readonly alongM: Float64Array;
  readonly acrossM: Float64Array;
  /** Index of each station's unknown in the network. */
  readonly unknown: Int32Array;
}

/** The stations of a rail that were read along one axis, in their order; null: none. */
export function railProfile(network: Network, rail: Rail, axis: Axis): RailProfile | null {
  const read = rail.stations
    .map((station) => ({
      station,
      unknown: network.find(keyOf.station(pointKind[axis], rail.id, station.number)),
    }))
    .filter((s): s is { station: Rail['stations'][number]; unknown: number } => s.unknown !== undefined);
  if (read.length === 0) return null;
  return {
    rail,
    axis,
    points: read.map(({ station }) => ({ rail: rail.id, station: station.number })),
    positions: Float64Array.from(read, ({ station }) => positionMm(rail, station) / 1000),
    alongM: Float64Array.from(read, ({ station }) => station.alongMm / 1000),
    acrossM: Float64Array.from(read, ({ station }) => station.acrossMm / 1000),
    unknown: Int32Array.from(read, ({ unknown }) => unknown),
  };
}

const unit = (unknown: number): Functional => ({ index: [unknown], weight: [1] });

/** Mean of the profile. */
export const meanOf = (p: RailProfile): Functional => ({
  index: p.unknown,
  weight: new Float64Array(p.unknown.length).fill(1 / p.unknown.length),
});

/** Slope (µm/m) of the least-squares line of the profile; null: fewer than two stations. */
export function slopeOf(p: RailProfile): Functional | null {
  const n = p.positions.length;
  if (n < 2) return null;
  const mean = p.positions.reduce((sum, x) => sum + x / n, 0);
  const sxx = p.positions.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  return { index: p.unknown, weight: p.positions.map((x) => (x - mean) / sxx) };
}

const meanPosition = (p: RailProfile): number =>
  p.positions.reduce((sum, x) => sum + x / p.positions.length, 0);

const family = (
  p: RailProfile,
  shared: readonly Functional[],
  multiplier: (i: number) => readonly number[],
): LinearFamily => ({
  points: p.points,
  positions: p.positions,
  local: Array.from(p.unknown, unit),
  shared,
  multiplier: Float64Array.from(Array.from(p.unknown.keys()).flatMap((i) => [...multiplier(i)])),
});

/** Distance of each station from the rail's own least-squares line; null: fewer than three stations. */
export function ownDeviations(p: RailProfile): LinearFamily | null {
  const slope = slopeOf(p);
  if (slope === null || p.positions.length < 3) return null;
  const mean = meanPosition(p);
  return family(p, [meanOf(p), slope], (i) => [1, p.positions[i]! - mean]);
}

/** Heights as they are, from what fixes them. */
export const asRead = (p: RailProfile): LinearFamily => family(p, [], () => []);

/** Heights from the mean of the datum rail's stations. */
export function heights(p: RailProfile, datum: RailProfile): LinearFamily {
  return family(p, [meanOf(datum)], () => [1]);
}

/** Offsets from the datum rail's least-squares line, including the distance across. */
export function offsetsFromDatumLine(p: RailProfile, datum: RailProfile): LinearFamily | null {
  const slope = slopeOf(datum);
  if (slope === null) return null;
  const mean = meanPosition(datum);
  return family(p, [meanOf(datum), slope], (i) => [1, p.alongM[i]! - mean]);
}

/** Offsets from a line through the rail's own mean that runs with the datum rail's least-squares line. */
export function offsetsAboutOwnMean(p: RailProfile, datum: RailProfile): LinearFamily | null {
  const slope = slopeOf(datum);
  if (slope === null) return null;
  const mean = meanPosition(p);
  return family(p, [meanOf(p), slope], (i) => [1, p.alongM[i]! - mean]);
}

/**
 * Cross rails: departure along from the rail's own mean, square to the datum rail's line. The datum's line
 * turning by +s (along to across) turns a square line by −s in along against across.
 */
export function placesSquareToDatum(p: RailProfile, datum: RailProfile): LinearFamily | null {
  const slope = slopeOf(datum);
  if (slope === null) return null;
  const mean = meanPosition(p);
  return family(p, [meanOf(p), slope], (i) => [1, -(p.positions[i]! - mean)]);
}

/**
 * The rail minus the datum rail at the same positions along. Between two stations that were read, the datum is interpolated
 * by a straight line; beyond its first and last such station there is no comparison.
 *
 * @returns The family over the matched stations; null: none matches.
 */
export function differences(p: RailProfile, datum: RailProfile): LinearFamily | null {
  const points: FamilyPoint[] = [];
  const positions: number[] = [];
  const local: Functional[] = [];
  let j = 0;
  for (let i = 0; i < p.unknown.length; i++) {
    const at = p.alongM[i]!;
    while (j + 1 < datum.alongM.length && datum.alongM[j + 1]! <= at + SAME_POSITION_M) j++;
    const here = datum.alongM[j]!;
    const next = datum.alongM[j + 1];
    if (Math.abs(here - at) <= SAME_POSITION_M) {
      local.push({ index: [p.unknown[i]!, datum.unknown[j]!], weight: [1, -1] });
    } else if (here < at && next !== undefined && !isParted(datum.rail, here, next)) {
      const share = (at - here) / (next - here);
      local.push({
        index: [p.unknown[i]!, datum.unknown[j]!, datum.unknown[j + 1]!],
        weight: [1, share - 1, -share],
      });
    } else {
      continue;
    }
    points.push(p.points[i]!);
    positions.push(at);
  }
  if (points.length === 0) return null;
  return {
    points,
    positions: Float64Array.from(positions),
    local,
    shared: [],
    multiplier: new Float64Array(0),
  };
}

/** true: a joint of the rail is between two of its stations, m. */
const isParted = ({ jointsMm }: Rail, fromM: number, toM: number): boolean =>
  jointsMm.some((joint) => joint / 1000 > fromM && joint / 1000 < toM);

/** The stations of a working length, mm along the direction of the rail; null: none was read. */
export function within(p: RailProfile | null, [from, to]: readonly [number, number]): RailProfile | null {
  if (p === null) return null;
  const slack = 1000 * SAME_POSITION_M;
  const kept = [...p.positions.keys()].filter(
    (i) => p.positions[i]! * 1000 >= from - slack && p.positions[i]! * 1000 <= to + slack,
  );
  if (kept.length === 0) return null;
  const pick = (values: Float64Array) => Float64Array.from(kept, (i) => values[i]!);
  return {
    ...p,
    points: kept.map((i) => p.points[i]!),
    positions: pick(p.positions),
    alongM: pick(p.alongM),
    acrossM: pick(p.acrossM),
    unknown: Int32Array.from(kept, (i) => p.unknown[i]!),
  };
}

/**
 * Departures of the stations between the ends of a rail from the line through its ends, + up or left; null: fewer than three
 * stations. The ends have no departure.
 */
export function fromEnds(p: RailProfile): LinearFamily | null {
  const n = p.positions.length;
  if (n < 3) return null;
  const [first, last] = [p.positions[0]!, p.positions[n - 1]!];
  const share = (i: number) => (p.positions[i]! - first) / (last - first);
  const whole = family(p, [unit(p.unknown[0]!), unit(p.unknown[n - 1]!)], (i) => [1 - share(i), share(i)]);
  return subFamily(
    whole,
    Array.from({ length: n - 2 }, (_, k) => k + 1),
  );
}

/** Joins several families, in this order. None of them has a shared part. */
export const joined = (families: readonly LinearFamily[]): LinearFamily => ({
  points: families.flatMap(({ points }) => points),
  positions: Float64Array.from(families.flatMap(({ positions }) => [...positions])),
  local: families.flatMap(({ local }) => local),
  shared: [],
  multiplier: new Float64Array(0),
});

/** A family minus its own mean: for offsets without a known distance across. */
export function aboutMean(f: LinearFamily): LinearFamily {
  const n = f.local.length;
  const index: number[] = [];
  const weight: number[] = [];
  for (const member of f.local) {
    for (let k = 0; k < member.index.length; k++) {
      index.push(member.index[k]!);
      weight.push(member.weight[k]! / n);
    }
  }
  return { ...f, shared: [{ index, weight }], multiplier: new Float64Array(n).fill(1) };
}

/** +1: the rail is to the left of the other (greater across). −1: to the right. */
export const sideOf = (rail: Rail, other: Rail): 1 | -1 =>
  rail.stations[0]!.acrossMm >= other.stations[0]!.acrossMm ? 1 : -1;

/** A family with all members multiplied by a factor: µm to µm/m over a distance, or a change of sign. */
export function scaled(f: LinearFamily, factor: number): LinearFamily {
  return {
    ...f,
    local: f.local.map((m) => ({ index: m.index, weight: Array.from(m.weight, (w) => w * factor) })),
    multiplier: f.multiplier.map((m) => m * factor),
  };
}
