/**
 * Bending of light in air of uneven temperature, towards the colder side.
 *
 * Its curvature is k/R with R the earth's radius and k = 503·(p/T²)·(0.0343 + dT/dh), p in hPa, T in K, dT/dh in K/m:
 * 0.0343 K/m is the effect of the decreasing pressure in still air without a gradient; sideways there is no such effect. Over
 * a distance d the light departs by ½·(k/R)·d².
 *
 * @see Standard geodesy (refraction coefficient of the line of sight; W. Torge, Geodesy; H. Kahmen, Vermessungskunde),
 *   from memory; k = 0.20 at 293 K and 1013 hPa without a gradient. Valid for visible light, gradients of up to some K/m
 *   that are the same all along the line.
 */
import type { Job } from '../../survey/job/job.js';
import { EARTH_RADIUS_M } from '../../base/geometry/earth-curvature.js';

const PRESSURE_HPA = 1013.25;
const USUAL_C = 20;
const ABSOLUTE_ZERO_C = -273.15;
/** Equivalent gradient of the pressure in still air, K/m. */
export const STILL_AIR = 0.0343;

/** Coefficient k of refraction. @param gradient dT/dh, K/m. @param celsius Temperature of the air. */
export const refractionCoefficient = (gradient: number, celsius = USUAL_C, hPa = PRESSURE_HPA): number =>
  (503 * hPa * (STILL_AIR + gradient)) / (celsius - ABSOLUTE_ZERO_C) ** 2;

/** Departure of light per K/m and m² of distance: µm/(K/m·m²). */
export function bendPerGradient(job: Pick<Job, 'conditions'>): number {
  const { temperatureC } = job.conditions;
  const celsius = temperatureC === null ? USUAL_C : (temperatureC.from + temperatureC.to) / 2;
  const perGradient = refractionCoefficient(1, celsius) - refractionCoefficient(0, celsius);
  return (0.5e6 * perGradient) / EARTH_RADIUS_M;
}
