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

/**
 * @param plan Points in plan, shape (n), n ≥ 4, not all on one line.
 * @param z Heights, shape (n).
 * @returns null when the points are fewer than four or lie on one line in plan.
 */
export function minimumZonePlane(plan: PlanPoints, z: Float64Array): MinimumZonePlane | null {
  const basis = startingBasis(plan);
  return basis === null ? null : exchange(plan, z, basis);
}

interface Basic {
  readonly point: number;
  readonly side: 1 | -1;
}

/** Points enter, furthest outside first, until none lies outside. */
function exchange(plan: PlanPoints, z: Float64Array, start: readonly Basic[]): MinimumZonePlane {
  const n = z.length;
  const { x, y } = plan;
  const tolerance = 1e-12 * z.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  const basis = [...start];
  const column = ({ point, side }: Basic): Four => [1, side, side * x[point]!, side * y[point]!];

  for (let stalled = 0; ;) {
    const columns = basis.map(column) as unknown as Matrix4;
    // Prices (t, c, a, b): every basic point lies on its plane.
    const [t, c, a, b] = solve4(columns, basis.map(({ point, side }) => side * z[point]!) as unknown as Four);
    const weights = solve4(transpose4(columns), [1, 0, 0, 0]);
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
      const support = basis.map(({ point, side }, k) => ({ point, weight: 2 * side * weights[k]! }));
      return { width: 2 * Math.max(0, t), plane: { c, a, b }, support };
    }
    const above = z[entering]! - c - a * x[entering]! - b * y[entering]! > 0;
    const incoming: Basic = { point: entering, side: above ? 1 : -1 };
    const direction = solve4(transpose4(columns), column(incoming));
    let leaving = -1;
    let step = Infinity;
    for (let k = 0; k < 4; k++) {
      if (direction[k]! <= 1e-12) continue;
      const ratio = Math.max(0, weights[k]!) / direction[k]!;
      if (ratio < step || (ratio === step && basis[k]!.point < basis[leaving]!.point)) {
        step = ratio;
        leaving = k;
      }
    }
    if (leaving < 0) throw new Error('the dual of a bounded programme has no unbounded ray'); // arithmetic, not input
    stalled = step > 1e-14 ? 0 : stalled + 1;
    basis[leaving] = incoming;
  }
}

/**
 * Four points that span the plan, with the signs of their affine dependence (Σλ = Σλx = Σλy = 0): a feasible
 * basis of the dual.
 */
function startingBasis({ x, y }: PlanPoints): Basic[] | null {
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

type Four = readonly [number, number, number, number];
type Matrix4 = readonly [Four, Four, Four, Four];

const transpose4 = (m: Matrix4): Matrix4 => [
  [m[0][0], m[1][0], m[2][0], m[3][0]],
  [m[0][1], m[1][1], m[2][1], m[3][1]],
  [m[0][2], m[1][2], m[2][2], m[3][2]],
  [m[0][3], m[1][3], m[2][3], m[3][3]],
];

/** Gaussian elimination with partial pivoting on one flat work area: this runs in the inner loop of the draws. */
const work = new Float64Array(20);

function solve4(matrix: Matrix4, rhs: Four): [number, number, number, number] {
  for (let i = 0; i < 4; i++) {
    for (let j = 0; j < 4; j++) work[5 * i + j] = matrix[i]![j]!;
    work[5 * i + 4] = rhs[i]!;
  }
  for (let k = 0; k < 4; k++) {
    let pivot = k;
    for (let i = k + 1; i < 4; i++)
      if (Math.abs(work[5 * i + k]!) > Math.abs(work[5 * pivot + k]!)) pivot = i;
    if (pivot !== k) {
      for (let j = k; j < 5; j++) {
        const held = work[5 * k + j]!;
        work[5 * k + j] = work[5 * pivot + j]!;
        work[5 * pivot + j] = held;
      }
    }
    for (let i = k + 1; i < 4; i++) {
      const factor = work[5 * i + k]! / work[5 * k + k]!;
      if (factor === 0) continue;
      for (let j = k; j < 5; j++) work[5 * i + j]! -= factor * work[5 * k + j]!;
    }
  }
  const x: [number, number, number, number] = [0, 0, 0, 0];
  for (let k = 3; k >= 0; k--) {
    let sum = work[5 * k + 4]!;
    for (let j = k + 1; j < 4; j++) sum -= work[5 * k + j]! * x[j]!;
    x[k] = sum / work[5 * k + k]!;
  }
  return x;
}
