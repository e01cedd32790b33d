/**
 * The least-squares line of each segment of a profile, evaluated at its stations.
 *
 * @param profile Shape (n).
 * @param positions Shape (n), ascending within a segment.
 * @param segments Index at which each segment begins; the first is 0.
 * @param slopes False: a level line, the mean, instead.
 * @param out Where to put the result; default a new array.
 * @returns Shape (n), unit of the profile; profile − result is free of intercept and slope.
 */
export function segmentTrend(
  profile: Float64Array,
  positions: Float64Array,
  segments: readonly number[],
  slopes = true,
  out: Float64Array = new Float64Array(profile.length),
): Float64Array {
  for (let k = 0; k < segments.length; k++) {
    const first = segments[k]!;
    const end = segments[k + 1] ?? profile.length;
    let xBar = 0;
    let dBar = 0;
    for (let i = first; i < end; i++) {
      xBar += positions[i]!;
      dBar += profile[i]!;
    }
    xBar /= end - first;
    dBar /= end - first;
    let slope = 0;
    if (slopes) {
      let sxx = 0;
      let sxd = 0;
      for (let i = first; i < end; i++) {
        const dx = positions[i]! - xBar;
        sxx += dx * dx;
        sxd += dx * (profile[i]! - dBar);
      }
      if (sxx > 0) slope = sxd / sxx;
    }
    for (let i = first; i < end; i++) out[i] = dBar + slope * (positions[i]! - xBar);
  }
  return out;
}
