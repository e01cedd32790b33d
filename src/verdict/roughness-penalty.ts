/** Differences of one order along a profile, scaled so that in a smooth random profile each is N(0, q). */
export interface RoughnessPenalty {
  readonly order: number;
  /** Number of differences. */
  readonly rows: number;
  /** First station of each difference, shape (rows). */
  readonly starts: Int32Array;
  /** Coefficients R, shape (rows × (order + 1)), row-major. */
  readonly coefficients: Float64Array;
  /** Largest diagonal entry of RᵀR. */
  readonly largest: number;
  /** q times this is the variance of the profile over its longest segment, in order of magnitude. */
  readonly unitVariance: number;
  /** The part of a log marginal likelihood that depends on order and positions alone. */
  readonly logConstant: number;
}

/**
 * Scaled divided differences of order m = 1 (change of height), 2 (of slope) or 3 (of curvature).
 *
 * Over stations i … i+m: (m−1)! · [x_i … x_{i+m}] · (x_{i+m} − x_i) / √h, h their mean step. In an
 * (m−1)-fold integrated random walk of intensity q its variance is about q, whatever the spacing.
 *
 * The free polynomial of degree m−1 has a flat prior. For orders to be compared its scale counts: slope
 * and curvature are measured as the heights of their ramp and their arc over the segment.
 *
 * @param positions Shape (n), strictly ascending within a segment.
 * @param segments Index at which each segment begins.
 * @param order 1, 2 or 3.
 * @param rampScale Prior scale of the ramp's height, > 0, unit of the profile.
 * @param arcScale Prior scale of the arc's height, > 0, same unit.
 * @throws {RangeError} positions that do not ascend.
 * @see NIST Handbook of Mathematical Functions (DLMF), 3.3(iii), divided differences.
 * @see C. H. Reinsch, Numerische Mathematik 10 (1967) 177, smoothing by them.
 */
export function roughnessPenalty(
  positions: Float64Array,
  segments: readonly number[],
  order: number,
  rampScale: number,
  arcScale: number,
): RoughnessPenalty {
  const starts: number[] = [];
  const coefficients: number[] = [];
  const diagonal = new Float64Array(positions.length);
  let logConstant = 0;
  let longest = 0;
  segments.forEach((first, k) => {
    const x = positions.subarray(first, segments[k + 1]);
    requireAscending(x);
    const span = x[x.length - 1]! - x[0]!;
    longest = Math.max(longest, span);
    // ramp = slope·span; arc = κ·span²/4 with κ the second divided difference of the first three
    if (order >= 2 && x.length >= 2) logConstant += Math.log(span / (x[1]! - x[0]!) / rampScale);
    if (order >= 3 && x.length >= 3) {
      logConstant += Math.log((span * span) / 4 / ((x[2]! - x[0]!) * (x[2]! - x[1]!)) / arcScale);
    }
    for (let i = 0; i + order < x.length; i++) {
      const row = scaledDifference(x.subarray(i, i + order + 1));
      starts.push(first + i);
      coefficients.push(...row);
      logConstant += Math.log(row[order]!);
      row.forEach((c, a) => (diagonal[first + i + a] = diagonal[first + i + a]! + c * c));
    }
  });
  return {
    order,
    rows: starts.length,
    starts: Int32Array.from(starts),
    coefficients: Float64Array.from(coefficients),
    largest: diagonal.reduce((most, d) => Math.max(most, d), 0),
    unitVariance: longest ** (2 * order - 1),
    logConstant,
  };
}

function scaledDifference(x: Float64Array): number[] {
  const m = x.length - 1;
  const width = x[m]! - x[0]!;
  const factor = ((m === 3 ? 2 : 1) * width) / Math.sqrt(width / m);
  return Array.from(x, (xa, a) => {
    let product = 1;
    for (let c = 0; c <= m; c++) if (c !== a) product *= xa - x[c]!;
    return factor / product;
  });
}

function requireAscending(x: Float64Array): void {
  for (let i = 1; i < x.length; i++) {
    if (!(x[i]! > x[i - 1]!))
      throw new RangeError(`positions must ascend: ${x[i - 1]} is followed by ${x[i]}`);
  }
}
