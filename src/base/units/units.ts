/**
 * The units that job files may use, each as a factor to one base.
 * Inside waysheet: positions mm, deviations µm, angles and slopes µm/m (= µrad), temperature °C.
 */

/** Factor to millimetres. The international inch is exactly 25.4 mm. */
const LENGTH_MM = {
  m: 1000,
  mm: 1,
  um: 0.001,
  in: 25.4,
  ft: 304.8,
  thou: 0.0254,
} as const;

/**
 * Factor to µm/m. A slope is a ratio. For an angle the size in radians is used, which differs from the tangent by less
 * than 1e-9 at 1 mrad: the angles of a level or an autocollimator are small.
 */
const SLOPE_UM_PER_M = {
  'um/m': 1,
  'mm/m': 1000,
  'in/ft': 1e6 / 12,
  'thou/ft': 1e3 / 12,
  arcsec: (Math.PI / 648000) * 1e6,
  arcmin: (Math.PI / 10800) * 1e6,
  deg: (Math.PI / 180) * 1e6,
  mrad: 1000,
  urad: 1,
} as const;

export type LengthUnit = keyof typeof LENGTH_MM;
/** A rate of drift: a length unit per hour. */
export type RateUnit = `${LengthUnit}/h`;
export type SlopeUnit = keyof typeof SLOPE_UM_PER_M;
export type TemperatureUnit = 'C' | 'F';
/** Factor of a temperature gradient to kelvin per metre. */
const GRADIENT_K_PER_M = { 'K/m': 1, 'K/ft': 1 / 0.3048, 'F/ft': 5 / 9 / 0.3048 } as const;
export type GradientUnit = keyof typeof GRADIENT_K_PER_M;
export const gradientUnits = Object.keys(GRADIENT_K_PER_M) as [GradientUnit, ...GradientUnit[]];
/** A gradient in kelvin per metre. */
export const toKelvinPerM = (value: number, unit: GradientUnit): number => value * GRADIENT_K_PER_M[unit];

export const lengthUnits = Object.keys(LENGTH_MM) as [LengthUnit, ...LengthUnit[]];
export const slopeUnits = Object.keys(SLOPE_UM_PER_M) as [SlopeUnit, ...SlopeUnit[]];

export const rateUnits = lengthUnits.map((unit) => `${unit}/h` as const) as [RateUnit, ...RateUnit[]];

/** true: a unit of length. */
export const isLengthUnit = (unit: string): unit is LengthUnit => Object.hasOwn(LENGTH_MM, unit);
/** true: a unit of slope or angle. */
export const isSlopeUnit = (unit: string): unit is SlopeUnit => Object.hasOwn(SLOPE_UM_PER_M, unit);

/** true: a unit of length, slope or angle. */
export const isKnownUnit = (unit: string): unit is LengthUnit | SlopeUnit =>
  isLengthUnit(unit) || isSlopeUnit(unit);

export type UnitFamily = 'length' | 'slope';
/** The family of a unit. */
export const familyOf = (unit: LengthUnit | SlopeUnit): UnitFamily =>
  isLengthUnit(unit) ? 'length' : 'slope';
/** All units of a family, as they are written in files. */
export const unitNames = (family: UnitFamily): readonly string[] =>
  family === 'length' ? lengthUnits : slopeUnits;

/** A unit that readings may be in instead of the one that is written; right is then what was taken for read, times `factor`. */
export interface OtherUnit {
  readonly unit: LengthUnit | SlopeUnit;
  readonly factor: number;
}

/** The other units of the family, one of each size, from the smallest. */
export function otherUnits(unit: LengthUnit | SlopeUnit): OtherUnit[] {
  const names: readonly (LengthUnit | SlopeUnit)[] = isLengthUnit(unit) ? lengthUnits : slopeUnits;
  const sizes = new Map(names.toReversed().map((name) => [toBase(1, name) / toBase(1, unit), name]));
  return [...sizes]
    .filter(([factor]) => factor !== 1)
    .sort(([a], [b]) => a - b)
    .map(([factor, name]) => ({ unit: name, factor }));
}

/** true: a job in this unit is reported in inches, unless it states other units. */
export const isInchFamily = (unit: LengthUnit): boolean => unit === 'in' || unit === 'ft' || unit === 'thou';

/** A length in mm. */
export const toMm = (value: number, unit: LengthUnit): number => value * LENGTH_MM[unit];
/** A length in µm. */
export const toUm = (value: number, unit: LengthUnit): number => value * (LENGTH_MM[unit] * 1000);
/** A rate in µm per hour. */
export const toUmPerHour = (value: number, unit: RateUnit): number =>
  toUm(value, unit.slice(0, -2) as LengthUnit);
/** Converts a length from mm to another unit. */
export const fromMm = (mm: number, unit: LengthUnit): number => mm / LENGTH_MM[unit];
/** Converts a length from µm to another unit. */
export const fromUm = (um: number, unit: LengthUnit): number => um / (LENGTH_MM[unit] * 1000);
/** A slope or a small angle in µm/m. */
export const toUmPerM = (value: number, unit: SlopeUnit): number => value * SLOPE_UM_PER_M[unit];
/** A length in µm, a slope in µm/m. */
export const toBase = (value: number, unit: LengthUnit | SlopeUnit): number =>
  isLengthUnit(unit) ? toUm(value, unit) : toUmPerM(value, unit);
/** Converts a slope from µm/m to another unit. */
export const fromUmPerM = (umPerM: number, unit: SlopeUnit): number => umPerM / SLOPE_UM_PER_M[unit];
/** µm in a unit of length, µm/m in a unit of slope. */
export const fromBase = (value: number, unit: LengthUnit | SlopeUnit): number =>
  isLengthUnit(unit) ? fromUm(value, unit) : fromUmPerM(value, unit);
/** A temperature in °C. */
export const toCelsius = (value: number, unit: TemperatureUnit): number =>
  unit === 'F' ? ((value - 32) * 5) / 9 : value;

/** A unit as people read it: µ for u, ° for deg; "in" and "arcsec" stay words. */
export function unitLabel(unit: string): string {
  return unit
    .replace(/\bum\b/g, 'µm')
    .replace(/^urad$/, 'µrad')
    .replace(/^deg$/, '°')
    .replace(/^C$/, '°C')
    .replace(/^F$/, '°F');
}
