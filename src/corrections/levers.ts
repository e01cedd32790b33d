/** What the adjusters of a job can do to its survey: each lever moves one adjuster in one plane. */
import { profilesOf } from '../characteristics/ask.js';
import { positionMm, type Adjuster, type Job, type Rail, type Travel } from '../job/job.js';
import type { Network } from '../solve/network.js';
import { shapeFunctions, supportForces } from './beam.js';

export type Plane = 'vertical' | 'horizontal';

export interface Lever {
  readonly adjuster: Adjuster;
  readonly rail: Rail;
  readonly plane: Plane;
  readonly travel: Travel;
  /** By how much each unknown of the survey moves when the adjuster moves by 1 µm. */
  readonly response: Float64Array;
}

/** The supports of a rail between two joints, ascending. */
interface Piece {
  readonly from: number;
  readonly to: number;
  readonly supports: readonly Adjuster[];
}

const piecesOf = (rail: Rail, adjusters: readonly Adjuster[]): Piece[] => {
  const ends = [-Infinity, ...rail.jointsMm, Infinity];
  const own = adjusters.filter((a) => a.rail === rail.id).sort((a, b) => a.atMm - b.atMm);
  return ends.slice(1).map((to, k) => ({
    from: ends[k]!,
    to,
    supports: own.filter(({ atMm }) => atMm > ends[k]! && atMm <= to),
  }));
};

/** Levers that may be used: not those that are fixed, nor of a rail that is not to be touched. */
export function leversOf(job: Job, network: Network, untouched: readonly string[]): Lever[] {
  return job.rails.flatMap((rail) => {
    const profiles = profilesOf(network, rail);
    return piecesOf(rail, job.adjusters).flatMap(({ from, to, supports }) =>
      (['vertical', 'horizontal'] as const).flatMap((plane): Lever[] => {
        const profile = profiles[plane];
        if (profile === null) return [];
        const at = rail.stations.map((station) => positionMm(rail, station));
        const inPiece = profile.points
          .map(({ station }, i) => ({ unknown: profile.unknown[i]!, mm: at[station - 1]! }))
          .filter(({ mm }) => mm > from && mm <= to);
        const shapes = shapeFunctions(
          supports.map(({ atMm }) => atMm / 1000),
          inPiece.map(({ mm }) => mm / 1000),
          rail.stiffness !== null,
        );
        return supports.flatMap((adjuster, j) => {
          const travel = adjuster[plane];
          if (adjuster.fixed || travel === null || untouched.includes(rail.id)) return [];
          if (travel.plus + travel.minus === 0) return [];
          const response = new Float64Array(network.unknowns.length);
          inPiece.forEach(({ unknown }, p) => (response[unknown] = shapes[p * supports.length + j]!));
          return [{ adjuster, rail, plane, travel, response }];
        });
      }),
    );
  });
}

/** Force (N) that each moved adjuster has to exert beside what it carries; of rails whose stiffness is stated. */
export function forcesOf(
  job: Job,
  moves: readonly { readonly lever: Lever; readonly um: number }[],
): Map<Lever, number> {
  const forces = new Map<Lever, number>();
  for (const rail of job.rails) {
    if (rail.stiffness === null) continue;
    for (const { supports } of piecesOf(rail, job.adjusters))
      for (const plane of ['vertical', 'horizontal'] as const) {
        const moved = supports.map(
          (adjuster) =>
            moves.find(({ lever }) => lever.adjuster === adjuster && lever.plane === plane) ?? null,
        );
        const all = supportForces(
          supports.map(({ atMm }) => atMm / 1000),
          moved.map((m) => (m?.um ?? 0) * 1e-6),
          rail.stiffness,
        );
        moved.forEach((m, i) => m !== null && forces.set(m.lever, all[i]!));
      }
  }
  return forces;
}
