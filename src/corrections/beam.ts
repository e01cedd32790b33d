/**
 * What a rail does when its supports are moved. With a bending stiffness it is an elastic beam without load of its own
 * that follows its supports: between them a cubic, its bending moment continuous and nought at the outermost, which is
 * the natural cubic spline through the supports. Without one it is taken as straight pieces from support to support.
 * Beyond the outermost supports it goes on straight.
 *
 * @see Euler-Bernoulli beam, EI·y'''' = 0 between supports: any textbook of strength of materials.
 */

/** How every point moves when one support moves by 1 and the others stay. Shape (points × supports), row-major. */
export function shapeFunctions(
  supports: readonly number[],
  points: readonly number[],
  isElastic: boolean,
): Float64Array {
  const n = supports.length;
  const out = new Float64Array(points.length * n);
  if (n === 0) return out;
  for (let j = 0; j < n; j++) {
    const y = supports.map((_, i) => (i === j ? 1 : 0));
    const bend = isElastic ? curvatures(supports, y) : new Float64Array(n);
    points.forEach((x, p) => (out[p * n + j] = valueAt(supports, y, bend, x)));
  }
  return out;
}

/**
 * Force that each support has to take more when the supports move by `y` (m): EI times the jump of y'''.
 *
 * @param stiffness EI, N m². @returns N, + presses upwards (to the left) on the rail.
 */
export function supportForces(
  supports: readonly number[],
  y: readonly number[],
  stiffness: number,
): Float64Array {
  const n = supports.length;
  const forces = new Float64Array(n);
  const bend = curvatures(supports, y);
  for (let k = 0; k + 1 < n; k++) {
    const shear = (stiffness * (bend[k + 1]! - bend[k]!)) / (supports[k + 1]! - supports[k]!);
    forces[k]! += shear;
    forces[k + 1]! -= shear;
  }
  return forces;
}

/** y'' at the supports: nought at the outermost, where nothing holds the rail's direction. */
function curvatures(x: readonly number[], y: readonly number[]): Float64Array {
  const n = x.length;
  const bend = new Float64Array(n);
  if (n < 3) return bend;
  // Tridiagonal: h_{k-1}·M_{k-1} + 2(h_{k-1}+h_k)·M_k + h_k·M_{k+1} = 6(slope_k − slope_{k-1}).
  const upper = new Float64Array(n);
  const right = new Float64Array(n);
  for (let k = 1; k < n - 1; k++) {
    const [before, behind] = [x[k]! - x[k - 1]!, x[k + 1]! - x[k]!];
    const slopes = (y[k + 1]! - y[k]!) / behind - (y[k]! - y[k - 1]!) / before;
    const pivot = 2 * (before + behind) - before * upper[k - 1]!;
    upper[k] = behind / pivot;
    right[k] = (6 * slopes - before * right[k - 1]!) / pivot;
  }
  for (let k = n - 2; k >= 1; k--) bend[k] = right[k]! - upper[k]! * bend[k + 1]!;
  return bend;
}

function valueAt(x: readonly number[], y: readonly number[], bend: Float64Array, at: number): number {
  const n = x.length;
  if (n === 1) return y[0]!;
  const slopeIn = (k: number): number => (y[k + 1]! - y[k]!) / (x[k + 1]! - x[k]!);
  if (at <= x[0]!) return y[0]! + (at - x[0]!) * (slopeIn(0) - ((x[1]! - x[0]!) * bend[1]!) / 6);
  const last = n - 1;
  if (at >= x[last]!)
    return (
      y[last]! + (at - x[last]!) * (slopeIn(last - 1) + ((x[last]! - x[last - 1]!) * bend[last - 1]!) / 6)
    );
  const k = Math.max(0, x.findIndex((v) => v >= at) - 1);
  const h = x[k + 1]! - x[k]!;
  const [a, b] = [(x[k + 1]! - at) / h, (at - x[k]!) / h];
  return a * y[k]! + b * y[k + 1]! + (((a ** 3 - a) * bend[k]! + (b ** 3 - b) * bend[k + 1]!) * h * h) / 6;
}
