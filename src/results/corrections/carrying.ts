/**
 * The present load on each support, from the shape of the rail and its weight.
 *
 * The rail is a beam that is straight without load. Its line is the natural cubic spline through its heights at the
 * supports, plus its sag between them. Least squares give these heights from all stations of a piece, and the heights give
 * the forces. If the stations do not fit such a line, or a support would have to pull the rail down, the rail is not straight
 * without load. Then its shape does not show the loads.
 */
import { profilesOf } from '../../solution/characteristics/ask.js';
import {
  applyFamily,
  combine,
  subFamily,
  uncertainties,
} from '../../solution/characteristics/linear-family.js';
import { ownDeviations } from '../../solution/characteristics/profiles.js';
import type { Adjustment } from '../../solution/solve/adjustment.js';
import { triangularize } from '../../base/statistics/householder.js';
import { chiSquareUpperTail } from '../../base/statistics/student-chi-square.js';
import { positionMm, type Adjuster, type Job, type Rail } from '../../survey/job/job.js';
import { sagBetween, shapeFunctions, supportForces, weightOnSupports } from './beam.js';
import { piecesOf, type Support } from './levers.js';

export interface Carried {
  readonly rail: Rail;
  readonly support: Support;
  /** carries, hangs: shown by the shape, or stated in the job. open: not known. */
  readonly says: 'carries' | 'hangs' | 'open';
  /** Present force with its standard uncertainty, N, + upwards; null: the shape does not show it. */
  readonly force: { readonly value: number; readonly u: number } | null;
}

/** A force of more standard uncertainties than this is significant (common practice, no source). */
const SHOWS = 3;
/** Level of the test that the shape is that of a straight beam. */
const OWN_SHAPE = 0.01;
/** The force shows whether the support carries if its uncertainty is below this share of the load by weight alone. */
const TELLS = 0.5;

/** Every support of every rail that lies on supports. */
export function carriedNow(job: Job, adjusters: readonly Adjuster[], adjustment: Adjustment): Carried[] {
  return job.rails.flatMap((rail) =>
    piecesOf(rail, adjusters).flatMap((piece) => {
      const forces = forcesOf(rail, piece, adjustment);
      return piece.supports.map((support, j): Carried => {
        const { value, u, weight } = forces?.[j] ?? { value: 0, u: Infinity, weight: 0 };
        const shown =
          value > SHOWS * u
            ? 'carries'
            : SHOWS * u < TELLS * weight && !holdsDown(support)
              ? 'hangs'
              : 'open';
        return {
          rail,
          support,
          says: statedOf(support) ?? shown,
          force: forces === null ? null : { value, u },
        };
      });
    }),
  );
}

const holdsDown = ({ adjusters }: Support): boolean => adjusters.some((a) => a.holdsDown);

/** The state that a person found and stated. */
function statedOf({ adjusters }: Support): Carried['says'] | null {
  const stated = adjusters.flatMap(({ carries }) => (carries === null ? [] : [carries]));
  if (stated.length === 0) return null;
  return stated.includes(true) ? 'carries' : 'hangs';
}

/** Greatest decrease of the force that moves may cause; null: not known. */
export function spareOf({ says, force }: Carried): number | null {
  if (says === 'hangs') return 0;
  const least = force === null ? 0 : force.value - SHOWS * force.u;
  return least > 0 ? least : null;
}

interface Force {
  readonly value: number;
  readonly u: number;
  /** Load by the weight alone. */
  readonly weight: number;
}

/** @returns null: the shape of this piece does not show the forces. */
function forcesOf(
  rail: Rail,
  { fromMm, toMm, supports }: ReturnType<typeof piecesOf>[number],
  adjustment: Adjustment,
): Force[] | null {
  const { stiffness, weight } = rail;
  const profile = profilesOf(adjustment.network, rail).vertical;
  const whole = profile && ownDeviations(profile);
  if (stiffness === null || weight === null || !whole || supports.length < 3) return null;
  const inPiece = whole.points.flatMap(({ station }, i) => {
    const mm = positionMm(rail, rail.stations[station - 1]!);
    return mm > fromMm && mm <= toMm ? [i] : [];
  });
  const family = subFamily(whole, inPiece);
  const x = family.positions;
  const [n, m] = [x.length, supports.length];
  if (n < m) return null;
  const at = supports.map(({ atMm }) => atMm / 1000);
  const ends = [rail.stations[0]!, rail.stations.at(-1)!].map((s) => positionMm(rail, s)) as [number, number];
  const reach = [Math.max(fromMm, ends[0]) / 1000, Math.min(toMm, ends[1]) / 1000] as const;
  const shapes = shapeFunctions(at, [...x], true);
  const heightsBy = leastSquares(shapes, n, m);
  if (heightsBy === null) return null;
  const sag = sagBetween(at, reach, weight / stiffness, [...x]);
  // The readings minus the sag of the beam, µm.
  const read = applyFamily(family, adjustment.x).map((um, i) => um - 1e6 * sag[i]!);
  const heights = Float64Array.from({ length: m }, (_, j) => sum(n, (i) => heightsBy[j * n + i]! * read[i]!));

  const u = uncertainties(family, adjustment);
  const misfit = sum(n, (i) => ((read[i]! - sum(m, (j) => shapes[i * m + j]! * heights[j]!)) / u[i]!) ** 2);
  if (n > m && chiSquareUpperTail(misfit, n - m) < OWN_SHAPE) return null;

  const carried = weightOnSupports(at, reach, weight);
  const each = at.map((_, k) =>
    supportForces(
      at,
      at.map((_a, i) => (i === k ? 1e-6 : 0)),
      stiffness,
    ),
  );
  const forces = supports.map((_, j): Force => {
    const members = Array.from({ length: n }, (_m, i) => ({
      index: i,
      weight: sum(m, (k) => each[k]![j]! * heightsBy[k * n + i]!),
    }));
    return {
      value: carried[j]! + sum(m, (k) => each[k]![j]! * heights[k]!),
      u: adjustment.standardUncertainty(combine(family, members)),
      weight: carried[j]!,
    };
  });
  const isPulled = forces.some(({ value, u: own }, j) => value < -SHOWS * own && !holdsDown(supports[j]!));
  return isPulled ? null : forces;
}

const sum = (n: number, term: (i: number) => number): number => {
  let total = 0;
  for (let i = 0; i < n; i++) total += term(i);
  return total;
};

/** The matrix (m × n, row-major) that gives the least-squares solution of a · h = b; null: b does not determine h. */
function leastSquares(a: Float64Array, n: number, m: number): Float64Array | null {
  const width = m + n;
  const block = new Float64Array(n * width);
  for (let i = 0; i < n; i++) {
    block.set(a.subarray(i * m, (i + 1) * m), i * width);
    block[i * width + m + i] = 1;
  }
  triangularize(block, n, m, width);
  const out = new Float64Array(m * n);
  for (let j = m - 1; j >= 0; j--) {
    const diagonal = block[j * width + j]!;
    if (Math.abs(diagonal) < 1e-9) return null;
    for (let i = 0; i < n; i++) {
      let v = block[j * width + m + i]!;
      for (let k = j + 1; k < m; k++) v -= block[j * width + k]! * out[k * n + i]!;
      out[j * n + i] = v / diagonal;
    }
  }
  return out;
}
