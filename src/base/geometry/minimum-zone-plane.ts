/**
 * The minimum zone of points about a plane: the two parallel planes with the smallest distance in height that have all
 * points between them. It is a linear programme (minimum t with |z_i − c − a·x_i − b·y_i| ≤ t), solved exactly by the
 * simplex method on its dual: the basis has four points, and each step exchanges one for a point that is outside. The
 * search ends at an optimum, not at a step size.
 *
 * @see ISO 12781-1 (minimum-zone reference planes); E. Stiefel's exchange method makes the same steps, from memory.
 */
import { normalFactor, type Plane, type PlanPoints } from './plane.js';

export interface MinimumZonePlane {
  /** Height between the two planes (µm). */
  readonly width: number;
  /** The middle plane. */
  readonly plane: Plane;
  /** The points that determine the zone: width = Σ weight·z. */
  readonly support: readonly { readonly point: number; readonly weight: number }[];
}

/** After this many steps without progress the least-index rule is used, which cannot cycle (R. Bland 1977). */
const MAX_STALLED_STEPS = 12;
/** Rounding of a distance as a share of its terms. A point is outside only if it is outside by more than this. */
const DISTANCE_ROUNDING = 1e-13;
/**
 * Limit of the steps to an optimum: about ten in practice. In exact arithmetic their number is finite, but rounding could
 * repeat the same bases. The zone that is returned then still has every point inside.
 */
const maxSteps = (n: number): number => 200 + 10 * n;

/**
 * @param plan Points in plan, shape (n), n ≥ 4, not all on one line.
 * @returns null: fewer than four points, or all on one line in plan.
 */
export function zoneFinder(plan: PlanPoints): PlaneZoneFinder | null {
  const start = startingBasis(plan);
  return start === null ? null : new PlaneZoneFinder(plan, start);
}

/**
 * For many sets of heights over one plan. Whether a basis is feasible depends on the plan alone, so each search begins
 * where the last one ended: similar heights have zones with nearly the same points.
 *
 * Row k of the basis matrix M is the dual column (1, s, s·x, s·y) of basic point k, so that M·(t, c, a, b) = s·z
 * gives the plane on which all four lie, each at t from the middle and on its side of it.
 */
export class PlaneZoneFinder {
  private readonly point: Int32Array;
  private readonly side: Float64Array;
  private readonly inverse = new Float64Array(16);
  private readonly direction = new Float64Array(4);
  private pivots = 0;
  private outside = 0;
  private isAbove = false;
  /** Greatest |x| and |y| of the plan, for the rounding of a·x + b·y. */
  private readonly reachX: number;
  private readonly reachY: number;
  /** The solution of the last search: half the width, and the middle plane c + a·x + b·y. */
  private readonly solution = new Float64Array(4);

  constructor(
    private readonly plan: PlanPoints,
    start: readonly { point: number; side: 1 | -1 }[],
  ) {
    this.point = Int32Array.from(start, (b) => b.point);
    this.side = Float64Array.from(start, (b) => b.side);
    invertBasis(plan, this.point, this.side, this.inverse);
    const reach = (values: Float64Array) => values.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
    this.reachX = reach(plan.x);
    this.reachY = reach(plan.y);
  }

  find(z: Float64Array): MinimumZonePlane {
    const width = this.width(z);
    const [, c, a, b] = this.solution as unknown as [number, number, number, number];
    // Weights of the dual: Mᵀ·w = (1, 0, 0, 0), the first row of the inverse.
    const support = Array.from(this.point, (point, k) => ({
      point,
      weight: 2 * this.side[k]! * this.inverse[k]!,
    }));
    return { width, plane: { c, a, b }, support };
  }

  /** The width normal to the plane of the zone, slopes in µm/m; without the rest, for the inner loop of the draws. */
  normalWidth(z: Float64Array): number {
    const width = this.width(z);
    return width * normalFactor({ a: this.solution[2]!, b: this.solution[3]! });
  }

  /** The point that is farthest outside enters, until no point is outside. Writes the plane to `solution`. */
  private width(z: Float64Array): number {
    const { solution } = this;
    let size = 0;
    for (let i = 0; i < z.length; i++) size = Math.max(size, Math.abs(z[i]!));
    let least = Infinity;
    let best: number[] = [];
    for (let step = 0, stalled = 0; step < maxSteps(z.length); step++) {
      this.solve(z);
      const entering = this.farthest(z, size, stalled > MAX_STALLED_STEPS);
      if (entering < 0) return 2 * Math.max(0, solution[0]!);
      if (step > z.length && solution[0]! + this.outside < least) {
        least = solution[0]! + this.outside;
        best = [...solution];
      }
      stalled = this.bringIn(entering, this.isAbove ? 1 : -1) ? 0 : stalled + 1;
    }
    // The narrowest zone so far that has every point inside: half the width of its basis plus the excess of the points outside.
    solution.set(best);
    return 2 * Math.max(0, least);
  }

  /**
   * The point that is farthest outside the present zone, or the first such point; −1: none, within rounding. Writes by how
   * much, and on which side, to `outside` and `isAbove`.
   *
   * @param size Greatest |z|: the rounding of the distances depends on it.
   */
  private farthest(z: Float64Array, size: number, isFirst: boolean): number {
    const { x, y } = this.plan;
    const { solution } = this;
    const t = solution[0]!;
    const c = solution[1]!;
    const a = solution[2]!;
    const b = solution[3]!;
    const terms = size + Math.abs(t) + Math.abs(c) + Math.abs(a) * this.reachX + Math.abs(b) * this.reachY;
    const rounding = DISTANCE_ROUNDING * terms;
    let entering = -1;
    let above = false;
    let excess = rounding;
    let outside = 0;
    for (let i = 0; i < z.length; i++) {
      const distance = z[i]! - c - a * x[i]! - b * y[i]!;
      const beyond = Math.abs(distance) - t;
      if (beyond > outside) outside = beyond;
      if (beyond <= excess || (isFirst && entering >= 0)) continue;
      entering = i;
      above = distance > 0;
      excess = beyond;
    }
    this.isAbove = above;
    this.outside = outside;
    return entering;
  }

  /** Exchanges a basic point for the entering one. @returns true: the step had a length above zero. */
  private bringIn(entering: number, s: 1 | -1): boolean {
    const { x, y } = this.plan;
    const { point, inverse, direction } = this;
    const sx = s * x[entering]!;
    const sy = s * y[entering]!;
    let leaving = -1;
    let step = Infinity;
    for (let k = 0; k < 4; k++) {
      const d = inverse[k]! + s * inverse[4 + k]! + sx * inverse[8 + k]! + sy * inverse[12 + k]!;
      direction[k] = d;
      if (d <= 1e-12) continue;
      const ratio = Math.max(0, inverse[k]!) / d;
      if (ratio < step || (ratio === step && point[k]! < point[leaving]!)) {
        step = ratio;
        leaving = k;
      }
    }
    if (leaving < 0) throw new Error('the dual of a bounded programme has no unbounded ray'); // a programming mistake
    this.replace(leaving, entering, s);
    return step > 1e-14;
  }

  /** Calculates (t, c, a, b) of the present basis. */
  private solve(z: Float64Array): void {
    const { point, side, inverse, solution } = this;
    const s0 = side[0]! * z[point[0]!]!;
    const s1 = side[1]! * z[point[1]!]!;
    const s2 = side[2]! * z[point[2]!]!;
    const s3 = side[3]! * z[point[3]!]!;
    for (let r = 0; r < 4; r++)
      solution[r] =
        inverse[4 * r]! * s0 + inverse[4 * r + 1]! * s1 + inverse[4 * r + 2]! * s2 + inverse[4 * r + 3]! * s3;
  }

  /** Replaces one row of M and updates its inverse; now and then the inverse is calculated again from M. */
  private replace(leaving: number, entering: number, s: 1 | -1): void {
    const { inverse, direction } = this;
    this.point[leaving] = entering;
    this.side[leaving] = s;
    if (++this.pivots % PIVOTS_BETWEEN_INVERSIONS === 0) {
      invertBasis(this.plan, this.point, this.side, inverse);
      return;
    }
    const pivot = direction[leaving]!;
    for (let r = 0; r < 16; r += 4) {
      const share = inverse[r + leaving]! / pivot;
      for (let k = 0; k < 4; k++) inverse[r + k] = inverse[r + k]! - share * direction[k]!;
      inverse[r + leaving] = share;
    }
  }
}

/** After this many updates the inverse still has ten digits or more. */
const PIVOTS_BETWEEN_INVERSIONS = 30;

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

/** M⁻¹ by Gauss–Jordan elimination with partial pivoting, on one work area. */
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
