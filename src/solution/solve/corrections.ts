/** Physical reductions of readings. Each is off unless the job asks for it, and is stated in the report. */
import type { Job } from '../../survey/job/job.js';
import { EARTH_RADIUS_M } from '../../base/geometry/earth-curvature.js';

export interface PlaceM {
  readonly alongM: number;
  readonly acrossM: number;
}

/** The place where the level surface touches the plane: the middle of the datum rail. */
export function curvatureOrigin(job: Job): PlaceM {
  const { stations } = job.datum;
  const first = stations[0]!;
  const last = stations[stations.length - 1]!;
  return { alongM: (first.alongMm + last.alongMm) / 2000, acrossM: first.acrossMm / 1000 };
}

/**
 * Slope of the level surface at a place against the plane that touches it at `origin`, µm/m: it descends on all sides by
 * distance / radius of the earth.
 */
export const levelSurfaceSlope = (at: PlaceM, origin: PlaceM): { along: number; across: number } => ({
  along: (-(at.alongM - origin.alongM) / EARTH_RADIUS_M) * 1e6,
  across: (-(at.acrossM - origin.acrossM) / EARTH_RADIUS_M) * 1e6,
});

/**
 * Reduction of a measured span to 20 °C, µm, to be added: the scale of the instrument is right at 20 °C, and the length of
 * the machine at 20 °C is wanted.
 */
export function spanCorrectionUm(job: Job, nominalMm: number): number {
  const span = job.corrections.spanAt20;
  return span === null ? 0 : nominalMm * 1000 * (span.instrument - span.machine) * (span.temperatureC - 20);
}

/**
 * Rise of the middle of a free rail above its ends if its top is warmer than its bottom, µm: α·ΔT·L²/(8h).
 *
 * @see Beam theory: a linear temperature gradient bends a free beam to the curvature α·ΔT/h.
 */
export const thermalBowUm = (
  expansion: number,
  topWarmerByK: number,
  lengthMm: number,
  heightMm: number,
): number => ((expansion * topWarmerByK * lengthMm ** 2) / (8 * heightMm)) * 1000;
