/** Differences of a given order along a profile, scaled so that a smooth random profile makes each N(0, q). */
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
  /** q times this is the variance of the profile's amplitude over its longest segment, in order of magnitude. */
  readonly unitVariance: number;
  /** Variance of a single difference that makes a profile of unit height of one kink (order 2). */
  readonly kinkVariance: number;
  /** Part of the log marginal likelihood that depends on the order and the positions alone. */
  readonly logConstant: number;
}

/**
 * Scaled divided differences of order 1 (change of height), 2 (of slope) or 3 (of curvature).
 *
 * A difference over stations i … i+m is (m−1)! · [x_i … x_{i+m}] · (x_{i+m} − x_i) / √h, h the mean step: for
 * an (m−1)-fold integrated random walk its variance is about q, whatever the spacing.
 *
 * @param positions Shape (n), strictly ascending within a segment.
 * @param segments Index at which each segment begins.
 * @param order 1, 2 or 3.
 * @param tiltScale Prior scale of the free slope, as the height of its ramp over the segment.
 * @param arcScale Prior scale of the free curvature, as the height of its arc over the segment.
 * @throws {RangeError} positions that do not ascend.
 * @see C. H. Reinsch, Numerische Mathematik 10 (1967) 177; DLMF 3.3(iii), divided differences.
 */
export function roughnessPenalty(
  positions: Float64Array,
  segments: readonly number[],
  order: number,
  tiltScale: number,
  arcScale: number,
): RoughnessPenalty {
  const n = positions.length;
  const diagonal = new Float64Array(n);
  const starts: number[] = [];
  const coefficients: number[] = [];
  let logConstant = 0;
  let longest = 0;
  segments.forEach((first, k) => {
    const end = segments[k + 1] ?? n;
    for (let i = first + 1; i < end; i++) {
      if (!(positions[i]! > positions[i - 1]!)) {
        throw new RangeError(`positions must ascend: ${positions[i - 1]} is followed by ${positions[i]}`);
      }
    }
    const span = positions[end - 1]! - positions[first]!;
    longest = Math.max(longest, span);
    // Free slope and curvature are measured as the heights of their ramp and arc over the segment: the
    // ramp rises slope·span, the arc κ·span²/4 (κ the second divided difference).
    const x = positions.subarray(first, end);
    if (order >= 2 && x.length >= 2) logConstant += Math.log(span / (x[1]! - x[0]!) / tiltScale);
    if (order >= 3 && x.length >= 3) {
      logConstant += Math.log((span * span) / 4 / ((x[2]! - x[0]!) * (x[2]! - x[1]!)) / arcScale);
    }
    for (let i = first; i + order < end; i++) {
      const row = dividedDifference(positions, i, order);
      starts.push(i);
      coefficients.push(...row);
      logConstant += Math.log(Math.abs(row[order]!));
      for (let a = 0; a <= order; a++) diagonal[i + a] = diagonal[i + a]! + row[a]! ** 2;
    }
  });
  return {
    order,
    rows: starts.length,
    starts: Int32Array.from(starts),
    coefficients: Float64Array.from(coefficients),
    largest: diagonal.reduce((most, d) => Math.max(most, d), 0),
    unitVariance: longest ** (2 * order - 1),
    kinkVariance: (16 / (longest * longest)) * ((n - 1) / longest),
    logConstant,
  };
}

/** Coefficients of (m−1)! · [x_i … x_{i+m}] · (x_{i+m} − x_i) / √(mean step), shape (m + 1). */
function dividedDifference(x: Float64Array, first: number, m: number): number[] {
  const width = x[first + m]! - x[first]!;
  const factor = ((m === 3 ? 2 : 1) * width) / Math.sqrt(width / m);
  return Array.from({ length: m + 1 }, (_, a) => {
    let product = 1;
    for (let c = 0; c <= m; c++) if (c !== a) product *= x[first + a]! - x[first + c]!;
    return factor / product;
  });
}
