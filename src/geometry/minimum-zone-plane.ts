/**
 * The minimum zone of points about a plane: the two parallel planes, closest together in height, that hold all
 * points between them. It is a linear programme (least t with |z_i − c − a·x_i − b·y_i| ≤ t), solved exactly by
 * the simplex method on its dual: a basis of four points, each step of which brings in a point that lies
 * outside. It ends at an optimum, not at a step size.
 *
 * @see ISO 12781-1 (minimum-zone reference planes); E. Stiefel's exchange method is the same walk, from memory.
 */
import type { Plane, PlanPoints } from './plane.js';

export interface MinimumZonePlane {
  /** Height between the two planes (µm). */
  readonly width: number;
  /** The middle plane. */
  readonly plane: Plane;
  /** The points that hold the zone and how: width = Σ weight·z. */
  readonly support: readonly { readonly point: number; readonly weight: number }[];
}

/** After so many steps without progress the least-index rule takes over, which cannot cycle (R. Bland 1977). */
const STALLED = 12;

/** Finds the minimum zone of any heights over one plan; see `minimumZonePlane`. */
export type ZoneFinder = (z: Float64Array) => MinimumZonePlane;

/**
 * @param plan Points in plan, shape (n), n ≥ 4, not all on one line.
 * @param z Heights, shape (n).
 * @returns null when the points are fewer than four or lie on one line in plan.
 */
export function minimumZonePlane(plan: PlanPoints, z: Float64Array): MinimumZonePlane | null {
  return zoneFinder(plan)?.(z) ?? null;
}

/**
 * For many sets of heights over one plan. Whether a basis is feasible hangs on the plan alone, so each search
 * begins where the last one ended: of like heights the zones are held by like points.
 */
export function zoneFinder(plan: PlanPoints): ZoneFinder | null {
  const start = startingBasis(plan);
  if (start === null) return null;
  const basis: Basis = {
    point: Int32Array.from(start, (b) => b.point),
    side: Float64Array.from(start, (b) => b.side),
  };
  return (z) => exchange(plan, z, basis);
}

/** The four points that hold the zone in hand, and on which side of its middle each lies (±1). */
interface Basis {
  readonly point: Int32Array;
  readonly side: Float64Array;
}

/**
 * Points enter, furthest outside first, until none lies outside. Row k of the basis matrix is the dual column
 * (1, s, s·x, s·y) of basic point k, so that M·(t, c, a, b) = s·z gives the plane on which all four lie.
 */
function exchange(plan: PlanPoints, z: Float64Array, { point, side }: Basis): MinimumZonePlane {
  const n = z.length;
  const { x, y } = plan;
  let most = 0;
  for (let i = 0; i < n; i++) most = Math.max(most, Math.abs(z[i]!));
  const tolerance = 1e-12 * most;
  const inverse = new Float64Array(16);
  const direction = new Float64Array(4);

  for (let stalled = 0; ;) {
    invertBasis(plan, point, side, inverse);
    const [s0, s1, s2, s3] = [0, 1, 2, 3].map((k) => side[k]! * z[point[k]!]!) as [
      number,
      number,
      number,
      number,
    ];
    const price = (row: number) =>
      inverse[row]! * s0 + inverse[row + 1]! * s1 + inverse[row + 2]! * s2 + inverse[row + 3]! * s3;
    const t = price(0);
    const c = price(4);
    const a = price(8);
    const b = price(12);
    let entering = -1;
    let excess = tolerance;
    for (let i = 0; i < n; i++) {
      const outside = Math.abs(z[i]! - c - a * x[i]! - b * y[i]!) - t;
      if (outside <= excess) continue;
      entering = i;
      if (stalled > STALLED) break;
      excess = outside;
    }
    if (entering < 0) {
      // Weights of the dual: Mᵀ·w = (1, 0, 0, 0), the first row of the inverse.
      const support = [0, 1, 2, 3].map((k) => ({ point: point[k]!, weight: 2 * side[k]! * inverse[k]! }));
      return { width: 2 * Math.max(0, t), plane: { c, a, b }, support };
    }
    const s = z[entering]! - c - a * x[entering]! - b * y[entering]! > 0 ? 1 : -1;
    for (let k = 0; k < 4; k++) {
      direction[k] =
        inverse[k]! +
        s * (inverse[4 + k]! + inverse[8 + k]! * x[entering]! + inverse[12 + k]! * y[entering]!);
    }
    let leaving = -1;
    let step = Infinity;
    for (let k = 0; k < 4; k++) {
      if (direction[k]! <= 1e-12) continue;
      const ratio = Math.max(0, inverse[k]!) / direction[k]!;
      if (ratio < step || (ratio === step && point[k]! < point[leaving]!)) {
        step = ratio;
        leaving = k;
      }
    }
    if (leaving < 0) throw new Error('the dual of a bounded programme has no unbounded ray'); // arithmetic, not input
    stalled = step > 1e-14 ? 0 : stalled + 1;
    point[leaving] = entering;
    side[leaving] = s;
  }
}

/**
 * Four points that span the plan, with the signs of their affine dependence (Σλ = Σλx = Σλy = 0): a feasible
 * basis of the dual.
 */
function startingBasis({ x, y }: PlanPoints): { point: number; side: 1 | -1 }[] | null {
  const n = x.length;
  if (n < 4) return null;
  const distance2 = (i: number, j: number) => (x[i]! - x[j]!) ** 2 + (y[i]! - y[j]!) ** 2;
  const farthestFrom = (from: number) => {
    let best = 0;
    for (let i = 1; i < n; i++) if (distance2(i, from) > distance2(best, from)) best = i;
    return best;
  };
  const p = farthestFrom(0);
  const q = farthestFrom(p);
  /** Twice the signed area of the triangle i, j, k. */
  const area = (i: number, j: number, k: number) =>
    (x[j]! - x[i]!) * (y[k]! - y[i]!) - (x[k]! - x[i]!) * (y[j]! - y[i]!);
  let r = 0;
  for (let i = 1; i < n; i++) if (Math.abs(area(p, q, i)) > Math.abs(area(p, q, r))) r = i;
  if (!(Math.abs(area(p, q, r)) > 1e-9 * distance2(p, q))) return null;
  let fourth = 0;
  while (fourth === p || fourth === q || fourth === r) fourth++;
  // Barycentric coordinates of the fourth point, up to the common sign of the triangle's area.
  const orientation = Math.sign(area(p, q, r));
  const lambda = [area(fourth, q, r), area(p, fourth, r), area(p, q, fourth), -area(p, q, r)];
  return [p, q, r, fourth].map((point, k) => ({ point, side: orientation * lambda[k]! >= 0 ? 1 : -1 }));
}

/** M⁻¹ by Gauss–Jordan elimination with partial pivoting, on one work area: this runs for every draw. */
const work = new Float64Array(32);

function invertBasis(
  { x, y }: PlanPoints,
  point: Int32Array,
  side: Float64Array,
  inverse: Float64Array,
): void {
  work.fill(0);
  for (let k = 0; k < 4; k++) {
    const s = side[k]!;
    work[8 * k] = 1;
    work[8 * k + 1] = s;
    work[8 * k + 2] = s * x[point[k]!]!;
    work[8 * k + 3] = s * y[point[k]!]!;
    work[8 * k + 4 + k] = 1;
  }
  for (let k = 0; k < 4; k++) {
    let pivot = k;
    for (let i = k + 1; i < 4; i++)
      if (Math.abs(work[8 * i + k]!) > Math.abs(work[8 * pivot + k]!)) pivot = i;
    if (pivot !== k) {
      for (let j = 0; j < 8; j++) {
        const held = work[8 * k + j]!;
        work[8 * k + j] = work[8 * pivot + j]!;
        work[8 * pivot + j] = held;
      }
    }
    const scale = 1 / work[8 * k + k]!;
    for (let j = 0; j < 8; j++) work[8 * k + j]! *= scale;
    for (let i = 0; i < 4; i++) {
      const factor = work[8 * i + k]!;
      if (i === k || factor === 0) continue;
      for (let j = 0; j < 8; j++) work[8 * i + j]! -= factor * work[8 * k + j]!;
    }
  }
  for (let i = 0; i < 4; i++) for (let j = 0; j < 4; j++) inverse[4 * i + j] = work[8 * i + 4 + j]!;
}
