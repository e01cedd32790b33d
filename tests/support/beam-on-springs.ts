/**
 * A rail on supports that only push: an elastic beam with its own weight on springs that let go of it. Finite elements with
 * Hermite cubics, so that nothing of the program's own beam is used.
 *
 * @see the beam element and its consistent load: any textbook of finite elements.
 */
export interface Rail {
  readonly lengthM: number;
  /** EI, N m². */
  readonly stiffness: number;
  /** N/m. */
  readonly weight: number;
  readonly supportsM: readonly number[];
  /** Of each support, N/m. */
  readonly spring: number;
}

export interface Lies {
  /** Height at a place, m. */
  readonly at: (x: number) => number;
  /** Force of each support, N; 0: the rail hangs over it. */
  readonly forces: readonly number[];
}

/** Nodes per metre; supports and stations are at nodes. */
const NODES = 4;

/** How the rail lies when its supports, unloaded, are at these heights, m. */
export function lies(rail: Rail, heights: readonly number[]): Lies {
  const { lengthM, stiffness, weight, supportsM, spring } = rail;
  const n = Math.round(lengthM * NODES) + 1;
  const h = lengthM / (n - 1);
  const nodes = supportsM.map((x) => Math.round(x / h));
  let touching = supportsM.map(() => true);
  for (let tries = 0; tries < 60; tries++) {
    const size = 2 * n;
    const a = Array.from({ length: size }, () => new Float64Array(size + 1));
    const c = stiffness / h ** 3;
    const element = [
      [12, 6 * h, -12, 6 * h],
      [6 * h, 4 * h * h, -6 * h, 2 * h * h],
      [-12, -6 * h, 12, -6 * h],
      [6 * h, 2 * h * h, -6 * h, 4 * h * h],
    ];
    const load = [h / 2, (h * h) / 12, h / 2, -(h * h) / 12];
    for (let e = 0; e + 1 < n; e++)
      for (let i = 0; i < 4; i++) {
        a[2 * e + i]![size]! -= weight * load[i]!;
        for (let j = 0; j < 4; j++) a[2 * e + i]![2 * e + j]! += c * element[i]![j]!;
      }
    nodes.forEach((node, j) => {
      if (!touching[j]) return;
      a[2 * node]![2 * node]! += spring;
      a[2 * node]![size]! += spring * heights[j]!;
    });
    const y = eliminated(a, 3);
    const at = (x: number) => y[2 * Math.round(x / h)]!;
    const forces = nodes.map((node, j) => (touching[j] ? spring * (heights[j]! - y[2 * node]!) : 0));
    const next = nodes.map((node, j) => (touching[j] ? forces[j]! > 0 : y[2 * node]! < heights[j]!));
    if (next.every((is, j) => is === touching[j])) return { at, forces };
    touching = next;
  }
  throw new Error('no state of contact was found');
}

/** Gauss elimination of a positive definite band, its right side in the last column. */
function eliminated(a: Float64Array[], band: number): Float64Array {
  const n = a.length;
  for (let k = 0; k < n; k++)
    for (let i = k + 1; i <= Math.min(n - 1, k + band); i++) {
      const f = a[i]![k]! / a[k]![k]!;
      if (f === 0) continue;
      for (let j = k; j <= Math.min(n - 1, k + band); j++) a[i]![j]! -= f * a[k]![j]!;
      a[i]![n]! -= f * a[k]![n]!;
    }
  const x = new Float64Array(n);
  for (let k = n - 1; k >= 0; k--) {
    let v = a[k]![n]!;
    for (let j = k + 1; j <= Math.min(n - 1, k + band); j++) v -= a[k]![j]! * x[j]!;
    x[k] = v / a[k]![k]!;
  }
  return x;
}
