/** What the adjusters of a job can do to its survey: each lever moves one adjuster in one plane. */
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
  /** By how much the rail's line moves at the support when the adjuster is moved by 1, as earlier moves have shown. */
  readonly share: number;
  /** By how much each unknown of the survey moves when the adjuster moves by 1 µm. */
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
 * By how much the rail's line moves at a support when one of its adjusters moves by 1. Of a pair across a bed the line
 * lies between the two, at a share of the way; sideways each moves the whole.
 */
function shareOf({ adjusters }: Support, adjuster: Adjuster, plane: Plane): number {
  const other = adjusters.find((a) => a !== adjuster);
  if (other === undefined || plane === 'horizontal') return 1;
  return other.asideMm / (other.asideMm - adjuster.asideMm);
}

/** What part of a move arrives at the rail. */
export type GainOf = (adjuster: Adjuster, plane: Plane) => number;

/** Levers that may be used: not those that are fixed, nor of a rail that is not to be touched. */
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

/** Which levers move by the same amount: pairs across a bed, which would else roll it, and those that the job ties. */
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

/** What moves may not use up: so much is there, and each µm of a lever adds so much. Unit: N, or µm. */
export interface Guard {
  readonly spare: number;
  readonly each: ReadonlyMap<Lever, number>;
}

/** Force on a support, N. */
export interface SupportForce extends Guard {
  readonly rail: Rail;
  readonly support: Support;
  readonly plane: Plane;
  /** It only carries, and what it has to spare is known: moves must not leave it hanging. */
  readonly mayHang: boolean;
}

/**
 * Forces on the supports of rails whose stiffness is stated. What a support has to spare is what its rail's shape shows to
 * be there at least; else what the weight alone puts there, as if the rail had no bow of its own.
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

/** By how much every lever of some supports changes something, which a move of the j-th support by 1 changes by `by(j)`. */
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

/** Where a rail hangs over a support that is not to be used, it must not go down: how far it is above it nobody knows. */
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

/** What a support has to press more than now, N. */
export const forceBy = ({ each }: Guard, moves: readonly Moved[]): number =>
  moves.reduce((sum, { lever, um }) => sum + um * (each.get(lever) ?? 0), 0);
