/** Factors between units that people take for each other. */

export interface UnitFactor {
  readonly factor: number;
  readonly units: string;
}

export const lengthFactors: readonly UnitFactor[] = [
  { factor: 25.4, units: 'in to mm, thou to um' },
  { factor: 39.37, units: 'mm to thou, m to in' },
  { factor: 1000, units: 'mm to um, in to thou' },
  { factor: 25400, units: 'in to um' },
];
const SLOPE: readonly UnitFactor[] = [
  { factor: 4.848, units: 'arcsec to um/m' },
  { factor: 17.19, units: 'thou/ft to arcsec' },
  { factor: 83.33, units: 'thou/ft to um/m' },
  { factor: 206.3, units: 'mrad or mm/m to arcsec' },
  { factor: 1000, units: 'mm/m or mrad to um/m' },
];

/** @param ratio Above 1 or below. @param near How far off it may be, as a share. */
export function nearUnitFactor(ratio: number, unit: 'um' | 'um/m', near: number): UnitFactor | null {
  const size = ratio < 1 ? 1 / ratio : ratio;
  if (!(ratio > 0) || !Number.isFinite(size)) return null;
  const list = unit === 'um' ? lengthFactors : SLOPE;
  return list.find(({ factor }) => Math.abs(size / factor - 1) < near) ?? null;
}

/** The least factor that makes `wanted` of `size` or more. */
export const leastFactor = (size: number, unit: 'um' | 'um/m', wanted: number): UnitFactor | null =>
  (unit === 'um' ? lengthFactors : SLOPE).find(({ factor }) => size * factor >= wanted) ?? null;
