/** Straight lines through a profile: positions x (m, ascending) and deviations d (µm). */

export interface Line {
  /** µm at x = 0. */
  readonly intercept: number;
  /** µm/m. */
  readonly slope: number;
}

/**
 * The part of a least-squares line that depends only on the positions, calculated once for many profiles.
 * Sums are about the mean position, so that a common offset in x costs no digits.
 */
export interface LineBasis {
  readonly x: Float64Array;
  readonly mean: number;
  /** Σ (x − mean)². */
  readonly sxx: number;
}

/**
 * @param x Positions, shape (n), n ≥ 2, not all equal.
 * @throws {RangeError} fewer than two different positions.
 */
export function lineBasis(x: Float64Array): LineBasis {
  let mean = 0;
  for (const v of x) mean += v / x.length;
  let sxx = 0;
  for (const v of x) sxx += (v - mean) ** 2;
  if (!(sxx > 0)) throw new RangeError(`no line through ${x.length} position(s)`);
  return { x, mean, sxx };
}

/**
 * Ordinary least-squares line, equal weights.
 *
 * @see JCGM 100:2008, H.3; ISO 12780-1 (least-squares reference line).
 */
export function leastSquaresLine(basis: LineBasis, d: Float64Array): Line {
  const { x, mean, sxx } = basis;
  let sum = 0;
  for (let i = 0; i < d.length; i++) sum += d[i]!;
  const dMean = sum / d.length;
  let sxy = 0;
  for (let i = 0; i < x.length; i++) sxy += (x[i]! - mean) * (d[i]! - dMean);
  const slope = sxy / sxx;
  return { intercept: dMean - slope * mean, slope };
}

/** The line through the first and the last point. */
export function endPointLine(x: Float64Array, d: Float64Array): Line {
  const n = x.length;
  const slope = (d[n - 1]! - d[0]!) / (x[n - 1]! - x[0]!);
  return { intercept: d[0]! - slope * x[0]!, slope };
}

/** Greatest minus least distance from a line, and the (first) index of each. */
export function rangeAbout(
  line: Line,
  x: Float64Array,
  d: Float64Array,
): { range: number; high: number; low: number } {
  let high = 0;
  let low = 0;
  let most = -Infinity;
  let least = Infinity;
  for (let i = 0; i < x.length; i++) {
    const v = d[i]! - line.intercept - line.slope * x[i]!;
    if (v > most) {
      most = v;
      high = i;
    }
    if (v < least) {
      least = v;
      low = i;
    }
  }
  return { range: most - least, high, low };
}
