/**
 * What is left of a profile about its least-squares line, each segment about its own.
 *
 * @param profile Shape (n).
 * @param positions Shape (n), ascending within a segment.
 * @param segments Index at which each segment begins; the first is 0.
 * @returns Residuals, shape (n), unit of the profile. A segment of one station leaves 0.
 */
export function removeTrend(
  profile: Float64Array,
  positions: Float64Array,
  segments: readonly number[],
): Float64Array {
  const residual = new Float64Array(profile.length);
  segments.forEach((first, k) => {
    const end = segments[k + 1] ?? profile.length;
    const m = end - first;
    let xBar = 0;
    let dBar = 0;
    for (let i = first; i < end; i++) {
      xBar += positions[i]! / m;
      dBar += profile[i]! / m;
    }
    let sxx = 0;
    let sxd = 0;
    for (let i = first; i < end; i++) {
      const dx = positions[i]! - xBar;
      sxx += dx * dx;
      sxd += dx * (profile[i]! - dBar);
    }
    const slope = sxx > 0 ? sxd / sxx : 0;
    for (let i = first; i < end; i++) residual[i] = profile[i]! - dBar - slope * (positions[i]! - xBar);
  });
  return residual;
}

/** What is left of a profile about its mean, each segment about its own; arguments as for `removeTrend`. */
export function removeMean(profile: Float64Array, segments: readonly number[]): Float64Array {
  const residual = new Float64Array(profile.length);
  segments.forEach((first, k) => {
    const end = segments[k + 1] ?? profile.length;
    let mean = 0;
    for (let i = first; i < end; i++) mean += profile[i]! / (end - first);
    for (let i = first; i < end; i++) residual[i] = profile[i]! - mean;
  });
  return residual;
}
