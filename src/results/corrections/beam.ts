/**
 * Shape of a rail after its supports are moved. With a bending stiffness the change is that of an elastic beam without load:
 * the natural cubic spline through the supports (continuous bending moment, zero at the outermost supports). Without a
 * stiffness the change is linear from support to support. Beyond the outermost supports it is a straight line.
 *
 * @see Euler-Bernoulli beam, EI·y'''' = 0 between supports: any textbook of strength of materials.
 */
import { cube } from '../../base/statistics/power.js';

/** Movement of every point if one support moves by 1 and the others do not move. Shape (points × supports), row-major. */
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
 * Increase of the force on each support if the supports move by `y` (m): EI times the jump of y'''.
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

/**
 * Load on each support by the rail's own weight, if the rail is in contact with all of them: a continuous beam under a uniform
 * load, with overhanging ends if the rail is longer than the distance of its outermost supports.
 *
 * @param from,to Ends of the rail, m. @param load Weight per metre, N/m. @returns N.
 * @see the three-moment equation: any textbook of strength of materials.
 */
export function weightOnSupports(
  supports: readonly number[],
  [from, to]: readonly [number, number],
  load: number,
): Float64Array {
  const n = supports.length;
  const forces = new Float64Array(n);
  if (n === 0) return forces;
  if (n === 1) return forces.fill(load * (to - from));
  const [first, last] = overhangs(supports, [from, to]);
  const spans = supports.slice(1).map((x, k) => x - supports[k]!);
  const moment = loadedMoments(supports, [from, to], load);
  for (let k = 0; k + 1 < n; k++) {
    const shear = (moment[k + 1]! - moment[k]!) / spans[k]!;
    forces[k]! += (load * spans[k]!) / 2 + shear;
    forces[k + 1]! += (load * spans[k]!) / 2 - shear;
  }
  forces[0]! += load * first;
  forces[n - 1]! += load * last;
  return forces;
}

/** Length of the rail beyond its outermost supports, m. */
const overhangs = (supports: readonly number[], [from, to]: readonly [number, number]): [number, number] => [
  Math.max(0, supports[0]! - from),
  Math.max(0, to - supports.at(-1)!),
];

/** Bending moment at each support under a uniform load, N m; + if the rail is concave upwards. */
function loadedMoments(
  supports: readonly number[],
  reach: readonly [number, number],
  load: number,
): Float64Array {
  const [first, last] = overhangs(supports, reach);
  const spans = supports.slice(1).map((x, k) => x - supports[k]!);
  return threeMoments(
    spans,
    spans.map((h, k) => (-load * (cube(spans[k - 1] ?? 0) + cube(h))) / 4),
    [(-load * first ** 2) / 2, (-load * last ** 2) / 2],
  );
}

/**
 * Deflection by its own weight of a rail on supports of equal height, between and beyond them, m, + up.
 *
 * @param loadPerStiffness w/EI, 1/m³. @param points m.
 * @see the deflection of a beam under a uniform load and end moments, and of an overhang: any textbook.
 */
export function sagBetween(
  supports: readonly number[],
  reach: readonly [number, number],
  loadPerStiffness: number,
  points: readonly number[],
): number[] {
  const q = loadPerStiffness;
  const n = supports.length;
  const bend = loadedMoments(supports, reach, q);
  // y and y' at a distance s from the left end of a span h: y'' is linear from a to b, plus q·s(s − h)/2.
  const within = (k: number, s: number) => {
    const h = supports[k + 1]! - supports[k]!;
    const [a, b] = [bend[k]!, bend[k + 1]!];
    const t = s / h;
    return (
      (-h * h * (a * (1 - t - cube(1 - t)) + b * (t - cube(t)))) / 6 -
      (q * s * (cube(h) - 2 * h * s * s + cube(s))) / 24
    );
  };
  const slopeAt = (end: 'first' | 'last'): number => {
    const k = end === 'first' ? 0 : n - 2;
    const h = supports[k + 1]! - supports[k]!;
    const [near, far] = end === 'first' ? [bend[0]!, bend[1]!] : [bend[n - 1]!, bend[n - 2]!];
    return (-h * (2 * near + far)) / 6 - (q * cube(h)) / 24;
  };
  const beyond = (end: 'first' | 'last', s: number): number => {
    const length = Math.max(s, overhangs(supports, reach)[end === 'first' ? 0 : 1]);
    return -slopeAt(end) * s - (q * s * s * (6 * length * length - 4 * length * s + s * s)) / 24;
  };
  return points.map((x) => {
    if (x < supports[0]!) return beyond('first', supports[0]! - x);
    if (x > supports[n - 1]!) return beyond('last', x - supports[n - 1]!);
    const k = Math.max(0, supports.findIndex((at) => at >= x) - 1);
    return within(k, x - supports[k]!);
  });
}

/** y'' at the supports: zero at the outermost ones, where the rail is free to turn. */
export function curvatures(x: readonly number[], y: readonly number[]): Float64Array {
  const spans = x.slice(1).map((v, k) => v - x[k]!);
  const slopes = spans.map((h, k) => (y[k + 1]! - y[k]!) / h);
  return threeMoments(
    spans,
    slopes.map((slope, k) => 6 * (slope - (slopes[k - 1] ?? 0))),
    [0, 0],
  );
}

/**
 * Solves h_{k−1}·M_{k−1} + 2(h_{k−1} + h_k)·M_k + h_k·M_{k+1} = right_k for the inner supports. M is given at the
 * outermost supports.
 */
function threeMoments(
  spans: readonly number[],
  right: readonly number[],
  [first, last]: readonly [number, number],
): Float64Array {
  const n = spans.length + 1;
  const moment = new Float64Array(n);
  [moment[0], moment[n - 1]] = [first, last];
  const upper = new Float64Array(n);
  const reduced = new Float64Array(n);
  reduced[0] = first;
  for (let k = 1; k < n - 1; k++) {
    const [before, behind] = [spans[k - 1]!, spans[k]!];
    const pivot = 2 * (before + behind) - before * upper[k - 1]!;
    upper[k] = behind / pivot;
    reduced[k] = (right[k]! - before * reduced[k - 1]!) / pivot;
  }
  for (let k = n - 2; k >= 1; k--) moment[k] = reduced[k]! - upper[k]! * moment[k + 1]!;
  return moment;
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
  return a * y[k]! + b * y[k + 1]! + (((cube(a) - a) * bend[k]! + (cube(b) - b) * bend[k + 1]!) * h * h) / 6;
}
