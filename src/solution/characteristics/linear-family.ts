/**
 * A row of quantities that are all linear in the unknowns of one adjustment: the heights of a rail's stations
 * from the datum's mean, the deviations from a rail's own line, the height of one rail over another.
 *
 *   q_i(x) = local_i · x − Σ_k multiplier_ik · (shared_k · x)
 *
 * The local part has few unknowns, the shared part (a mean, a line) has many. Because they are separate, the cost for a
 * family of n is about n, not n².
 */
import { type Adjustment, type Functional, dot } from '../solve/adjustment.js';

export interface FamilyPoint {
  readonly rail: string;
  readonly station: number;
}

export interface LinearFamily {
  readonly points: readonly FamilyPoint[];
  /** Position of each point along its rail, m. */
  readonly positions: Float64Array;
  readonly local: readonly Functional[];
  readonly shared: readonly Functional[];
  /** Shape (n × shared.length), row-major. */
  readonly multiplier: Float64Array;
}

/** q(x) for every point. */
export function applyFamily(family: LinearFamily, x: Float64Array): Float64Array {
  const out = new Float64Array(family.local.length);
  familyKernel(family)(x, 0, out, 0);
  return out;
}

/** Writes q(x) of every point to `out`, beginning at `outAt`; x is in `x`, beginning at `xAt`. */
export type FamilyKernel = (x: Float64Array, xAt: number, out: Float64Array, outAt: number) => void;

/** Fast for thousands of vectors: all data are in flat arrays. */
export function familyKernel(family: LinearFamily): FamilyKernel {
  const { start, index, weight } = flatten(family.local);
  const shared = flatten(family.shared);
  const { multiplier } = family;
  const n = family.local.length;
  const m = family.shared.length;
  const common = new Float64Array(m);
  return (x, xAt, out, outAt) => {
    for (let j = 0; j < m; j++) {
      let sum = 0;
      for (let k = shared.start[j]!; k < shared.start[j + 1]!; k++)
        sum += shared.weight[k]! * x[xAt + shared.index[k]!]!;
      common[j] = sum;
    }
    for (let i = 0, k = 0, at = 0; i < n; i++) {
      let sum = 0;
      for (const end = start[i + 1]!; k < end; k++) sum += weight[k]! * x[xAt + index[k]!]!;
      for (let j = 0; j < m; j++, at++) sum -= multiplier[at]! * common[j]!;
      out[outAt + i] = sum;
    }
  };
}

/** Functionals in flat arrays: the terms of functional i are from start_i up to start_{i+1}. */
function flatten(functionals: readonly Functional[]): {
  start: Int32Array;
  index: Int32Array;
  weight: Float64Array;
} {
  const start = new Int32Array(functionals.length + 1);
  functionals.forEach((f, i) => (start[i + 1] = start[i]! + f.index.length));
  const index = new Int32Array(start[functionals.length]!);
  const weight = new Float64Array(index.length);
  functionals.forEach((f, i) => {
    index.set(f.index, start[i]);
    weight.set(f.weight, start[i]);
  });
  return { start, index, weight };
}

/** One member, or a weighted sum of members, as one functional. */
export function combine(
  family: LinearFamily,
  members: readonly { index: number; weight: number }[],
): Functional {
  const index: number[] = [];
  const weight: number[] = [];
  const push = (f: Functional, w: number) => {
    for (let k = 0; k < f.index.length; k++) {
      index.push(f.index[k]!);
      weight.push(w * f.weight[k]!);
    }
  };
  const k = family.shared.length;
  const common = new Float64Array(k);
  for (const member of members) {
    push(family.local[member.index]!, member.weight);
    for (let j = 0; j < k; j++) common[j]! -= member.weight * family.multiplier[member.index * k + j]!;
  }
  family.shared.forEach((f, j) => {
    if (common[j] !== 0) push(f, common[j]!);
  });
  return { index, weight };
}

/** Members that a free motion would change: the readings do not determine them. */
export function undetermined(family: LinearFamily, adjustment: Adjustment): boolean[] {
  const n = family.local.length;
  const k = family.shared.length;
  const result = new Array<boolean>(n).fill(false);
  for (const motion of adjustment.freeMotions) {
    const common = family.shared.map((f) => dot(f, motion));
    const commonSize = family.shared.map((f) => absoluteDot(f, motion));
    for (let i = 0; i < n; i++) {
      let value = dot(family.local[i]!, motion);
      let size = absoluteDot(family.local[i]!, motion);
      for (let j = 0; j < k; j++) {
        const m = family.multiplier[i * k + j]!;
        value -= m * common[j]!;
        size += Math.abs(m) * commonSize[j]!;
      }
      // The same limits as for single functionals (solve/adjustment.ts).
      if (Math.abs(value) > 1e-7 * size + 1e-10) result[i] = true;
    }
  }
  return result;
}

/** Standard uncertainty of every member, µm. */
export function uncertainties(family: LinearFamily, adjustment: Adjustment): Float64Array {
  const n = family.local.length;
  const k = family.shared.length;
  const withShared = family.shared.map((f) => adjustment.covarianceWith(f));
  const sharedCovariance = family.shared.map((f) => withShared.map((c) => dot(f, c)));
  const u = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const local = family.local[i]!;
    let variance = localVariance(local, adjustment);
    for (let j = 0; j < k; j++) {
      const m = family.multiplier[i * k + j]!;
      variance -= 2 * m * dot(local, withShared[j]!);
      for (let l = 0; l < k; l++) variance += m * family.multiplier[i * k + l]! * sharedCovariance[j]![l]!;
    }
    u[i] = Math.sqrt(Math.max(0, variance));
  }
  return u;
}

/** The variance or covariance of one or two unknowns: as the adjustment has it, else calculated with a pass through the factor. */
function localVariance(local: Functional, adjustment: Adjustment): number {
  const [a, b] = [local.index[0]!, local.index[1]];
  const [u, v] = [local.weight[0]!, local.weight[1]];
  if (b === undefined || v === undefined) return u * u * adjustment.variance[a]!;
  const covariance = local.index.length === 2 ? adjustment.covarianceAtHand(a, b) : null;
  if (covariance === null) return adjustment.standardUncertainty(local) ** 2;
  return u * u * adjustment.variance[a]! + v * v * adjustment.variance[b]! + 2 * u * v * covariance;
}

/** A part of the members, in the same order. */
export function subFamily(family: LinearFamily, keep: readonly number[]): LinearFamily {
  const k = family.shared.length;
  const multiplier = new Float64Array(keep.length * k);
  keep.forEach((i, row) => multiplier.set(family.multiplier.subarray(i * k, (i + 1) * k), row * k));
  return {
    points: keep.map((i) => family.points[i]!),
    positions: Float64Array.from(keep, (i) => family.positions[i]!),
    local: keep.map((i) => family.local[i]!),
    shared: family.shared,
    multiplier,
  };
}

function absoluteDot(f: Functional, x: ArrayLike<number>): number {
  let sum = 0;
  for (let k = 0; k < f.index.length; k++) sum += Math.abs(f.weight[k]! * x[f.index[k]!]!);
  return sum;
}
