/** Effect of the adjusters on the survey. A lever is one adjuster in one plane. */
import { profilesOf } from '../../solution/characteristics/ask.js';
import { positionMm, type Adjuster, type Job, type Rail, type Travel } from '../../survey/job/job.js';
import type { Network } from '../../solution/solve/network.js';
import { shapeFunctions, supportForces, weightOnSupports } from './beam.js';

export const planes = ['vertical', 'horizontal'] as const;
export type Plane = (typeof planes)[number];

export interface Lever {
  readonly adjuster: Adjuster;
  readonly rail: Rail;
  readonly plane: Plane;
  readonly travel: Travel;
  /** Movement of the rail's line at the support per unit move of the adjuster, from earlier moves. */
  readonly share: number;
  /** Change of each unknown of the survey per 1 µm of the adjuster. */
  readonly response: Float64Array;
}

/** A place at which a rail is held: one adjuster, or a pair of them across a bed. */
export interface Support {
  readonly atMm: number;
  readonly adjusters: readonly Adjuster[];
}

/** A rail between two joints and its supports, ascending. */
export interface Piece {
  readonly fromMm: number;
  readonly toMm: number;
  readonly supports: readonly Support[];
}

/** The pieces of a rail from joint to joint, with their supports. */
export const piecesOf = (rail: Rail, adjusters: readonly Adjuster[]): Piece[] => {
  const ends = [-Infinity, ...rail.jointsMm, Infinity];
  const supports = supportsOf(adjusters.filter((a) => a.rail === rail.id));
  return ends.slice(1).map((toMm, k) => ({
    fromMm: ends[k]!,
    toMm,
    supports: supports.filter(({ atMm }) => atMm > ends[k]! && atMm <= toMm),
  }));
};

/** Two adjusters at one place along are a pair. */
const SAME_SUPPORT_MM = 0.5;

export function supportsOf(adjusters: readonly Adjuster[]): Support[] {
  const supports: { atMm: number; adjusters: Adjuster[] }[] = [];
  for (const adjuster of [...adjusters].sort((a, b) => a.atMm - b.atMm)) {
    const last = supports.at(-1);
    if (last !== undefined && adjuster.atMm - last.atMm < SAME_SUPPORT_MM) last.adjusters.push(adjuster);
    else supports.push({ atMm: adjuster.atMm, adjusters: [adjuster] });
  }
  return supports;
}

/**
 * Movement of the rail's line at a support per unit move of one of its adjusters. For a pair across a bed the line is between
 * the two, so each has a share of the movement in height; sideways each moves the whole support.
 */
function shareOf({ adjusters }: Support, adjuster: Adjuster, plane: Plane): number {
  const other = adjusters.find((a) => a !== adjuster);
  if (other === undefined || plane === 'horizontal') return 1;
  return other.asideMm / (other.asideMm - adjuster.asideMm);
}

/** Response: movement of the rail divided by the move of the adjuster. */
export type GainOf = (adjuster: Adjuster, plane: Plane) => number;

/** Levers that may be used: not fixed, and not of a rail that must not be moved. */
export function leversOf(
  { rails, aim: { untouched } }: Job,
  adjusters: readonly Adjuster[],
  network: Network,
  gainOf: GainOf,
): Lever[] {
  return rails.flatMap((rail) => {
    const profiles = profilesOf(network, rail);
    return piecesOf(rail, adjusters).flatMap(({ fromMm, toMm, supports }) =>
      planes.flatMap((plane): Lever[] => {
        const profile = profiles[plane];
        if (profile === null) return [];
        const at = rail.stations.map((station) => positionMm(rail, station));
        const inPiece = profile.points
          .map(({ station }, i) => ({ unknown: profile.unknown[i]!, mm: at[station - 1]! }))
          .filter(({ mm }) => mm > fromMm && mm <= toMm);
        const shapes = shapeFunctions(
          supports.map(({ atMm }) => atMm / 1000),
          inPiece.map(({ mm }) => mm / 1000),
          rail.stiffness !== null,
        );
        return supports.flatMap((support, j) =>
          support.adjusters.flatMap((adjuster) => {
            const travel = adjuster[plane];
            if (adjuster.fixed || travel === null || untouched.includes(rail.id)) return [];
            if (travel.plus + travel.minus === 0) return [];
            const share = gainOf(adjuster, plane) * shareOf(support, adjuster, plane);
            const response = new Float64Array(network.unknowns.length);
            inPiece.forEach(
              ({ unknown }, p) => (response[unknown] = share * shapes[p * supports.length + j]!),
            );
            return [{ adjuster, rail, plane, travel, share, response }];
          }),
        );
      }),
    );
  });
}

/** Levers that move by the same amount: pairs across a bed, so that it does not roll, and levers that the job ties together. */
export function tiesOf(levers: readonly Lever[]): (readonly [number, number])[] {
  return levers.flatMap(({ adjuster, rail, plane }, k) =>
    levers.flatMap((other, j): (readonly [number, number])[] => {
      if (other.plane !== plane || other.adjuster === adjuster) return [];
      const isPair =
        plane === 'vertical' &&
        j > k &&
        other.rail === rail &&
        Math.abs(other.adjuster.atMm - adjuster.atMm) < SAME_SUPPORT_MM;
      return isPair || adjuster.movesWith === other.adjuster.id ? [[k, j]] : [];
    }),
  );
}

export interface Moved {
  readonly lever: Lever;
  readonly um: number;
}

/** A quantity that must stay ≥ 0: its present value, and its change per µm of each lever. Unit: N, or µm. */
export interface Guard {
  readonly spare: number;
  readonly each: ReadonlyMap<Lever, number>;
}

/** Force on a support, N. */
export interface SupportForce extends Guard {
  readonly rail: Rail;
  readonly support: Support;
  readonly plane: Plane;
  /** A support that only presses upwards, with a known load: moves must not unload it completely. */
  readonly mayHang: boolean;
}

/**
 * Forces on the supports of rails with a stated stiffness. The force that moves may take from a support is the least force that the
 * shape of its rail shows; if the shape does not show it, the load by weight alone, as for a rail without a bow.
 */
export function supportForcesOf(
  job: Job,
  adjusters: readonly Adjuster[],
  levers: readonly Lever[],
  spareOf: (rail: Rail, support: Support) => number | null,
): SupportForce[] {
  return job.rails.flatMap((rail) => {
    const { stiffness, weight } = rail;
    if (stiffness === null) return [];
    const ends = [rail.stations[0]!, rail.stations.at(-1)!].map((s) => positionMm(rail, s)) as [
      number,
      number,
    ];
    return piecesOf(rail, adjusters).flatMap(({ fromMm, toMm, supports }) => {
      const at = supports.map(({ atMm }) => atMm / 1000);
      const piece = [Math.max(fromMm, ends[0]) / 1000, Math.min(toMm, ends[1]) / 1000] as const;
      const carried = weight === null ? null : weightOnSupports(at, piece, weight);
      const by = supports.map((_, j) =>
        supportForces(
          at,
          supports.map((_s, i) => (i === j ? 1e-6 : 0)),
          stiffness,
        ),
      );
      return planes.flatMap((plane) =>
        supports.map((support, i): SupportForce => {
          const weighs = carried !== null && carried[i]! > 0 ? carried[i]! : null;
          const spare = plane === 'vertical' ? (spareOf(rail, support) ?? weighs) : null;
          return {
            rail,
            support,
            plane,
            spare: spare ?? 0,
            mayHang: spare !== null && !support.adjusters.some(({ holdsDown }) => holdsDown),
            each: eachOf(levers, plane, supports, (j) => by[j]![i]!),
          };
        }),
      );
    });
  });
}

/** Effect of every lever of the supports on a quantity, if a unit move of support j changes it by `by(j)`. */
function eachOf(
  levers: readonly Lever[],
  plane: Plane,
  supports: readonly Support[],
  by: (j: number) => number,
): Map<Lever, number> {
  return new Map(
    levers.flatMap((lever) => {
      const j = supports.findIndex((s) => s.adjusters.includes(lever.adjuster));
      return lever.plane !== plane || j < 0 ? [] : [[lever, by(j) * lever.share] as const];
    }),
  );
}

/** If a rail hangs over a support that is not used, it must not go down there: the gap is not known. */
export function hangingGuards(
  job: Job,
  adjusters: readonly Adjuster[],
  levers: readonly Lever[],
  hanging: readonly Adjuster[],
): Guard[] {
  return job.rails.flatMap((rail) =>
    piecesOf(rail, adjusters).flatMap(({ fromMm, toMm, supports }) =>
      hanging
        .filter(({ rail: id, atMm }) => id === rail.id && atMm > fromMm && atMm <= toMm)
        .map(({ atMm }): Guard => {
          const at = supports.map((support) => support.atMm / 1000);
          const shape = shapeFunctions(at, [atMm / 1000], rail.stiffness !== null);
          return { spare: 0, each: eachOf(levers, 'vertical', supports, (j) => shape[j]!) };
        }),
    ),
  );
}

/** Increase of the force of a support, N. */
export const forceBy = ({ each }: Guard, moves: readonly Moved[]): number =>
  moves.reduce((sum, { lever, um }) => sum + um * (each.get(lever) ?? 0), 0);
