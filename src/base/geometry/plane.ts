/** Least-squares plane z = c + a·x + b·y through points in plan (m) and height (µm). */

export interface Plane {
  /** µm at x = y = 0. */
  readonly c: number;
  /** Slopes along x and y, µm/m. */
  readonly a: number;
  readonly b: number;
}

/** Points in plan, shape (n) each, m. */
export interface PlanPoints {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** The part of a least-squares plane that depends only on the plan. */
export interface PlaneBasis extends PlanPoints {
  readonly xMean: number;
  readonly yMean: number;
  readonly sxx: number;
  readonly sxy: number;
  readonly syy: number;
}

/** Moments of a plan. @param x Shape (n), m. @param y The same. @returns null: the points are on one line. */
export function planeBasis(x: Float64Array, y: Float64Array): PlaneBasis | null {
  const n = x.length;
  let xMean = 0;
  let yMean = 0;
  for (let i = 0; i < n; i++) {
    xMean += x[i]! / n;
    yMean += y[i]! / n;
  }
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  for (let i = 0; i < n; i++) {
    sxx += (x[i]! - xMean) ** 2;
    sxy += (x[i]! - xMean) * (y[i]! - yMean);
    syy += (y[i]! - yMean) ** 2;
  }
  // 1e-12: the points are within a millionth of their extent of one line, so heights cannot determine a plane.
  if (!(sxx * syy - sxy * sxy > 1e-12 * sxx * syy) || sxx === 0 || syy === 0) return null;
  return { x, y, xMean, yMean, sxx, sxy, syy };
}

/** @see ISO 12781-1 (least-squares reference plane). */
export function leastSquaresPlane(basis: PlaneBasis, z: Float64Array): Plane {
  const { x, y, xMean, yMean, sxx, sxy, syy } = basis;
  let sum = 0;
  for (let i = 0; i < z.length; i++) sum += z[i]!;
  const zMean = sum / z.length;
  let sxz = 0;
  let syz = 0;
  for (let i = 0; i < z.length; i++) {
    const dz = z[i]! - zMean;
    sxz += (x[i]! - xMean) * dz;
    syz += (y[i]! - yMean) * dz;
  }
  const determinant = sxx * syy - sxy * sxy;
  const a = (sxz * syy - syz * sxy) / determinant;
  const b = (syz * sxx - sxz * sxy) / determinant;
  return { c: zMean - a * xMean - b * yMean, a, b };
}

/** From distance along z to distance normal to the plane; slopes are µm/m. */
export const normalFactor = ({ a, b }: Pick<Plane, 'a' | 'b'>): number =>
  1 / Math.sqrt(1 + (a * 1e-6) ** 2 + (b * 1e-6) ** 2);
