/** Every unit against its definition; nothing here is taken from the program. */
import { describe, expect, test } from 'vitest';
import {
  fromUm,
  fromUmPerM,
  gradientUnits,
  lengthUnits,
  rateUnits,
  slopeUnits,
  toCelsius,
  toKelvinPerM,
  toMm,
  toUm,
  toUmPerHour,
  toUmPerM,
} from '../../../src/base/units/units.js';

/**
 * In metres. International yard and pound agreement of 1959: the inch is 0.0254 m exactly, the foot twelve of them; SI
 * prefixes; a thou is a thousandth of an inch.
 */
const METRES: Record<(typeof lengthUnits)[number], number> = {
  m: 1,
  mm: 1e-3,
  um: 1e-6,
  in: 0.0254,
  ft: 12 * 0.0254,
  thou: 0.0254 / 1000,
};

/** As a ratio. SI brochure, table 8: a degree is π/180 rad, a minute a 60th of it, a second a 60th of that. */
const DEGREE = 3.141592653589793 / 180;
const RATIO: Record<(typeof slopeUnits)[number], number> = {
  'um/m': 1e-6,
  'mm/m': 1e-3,
  'in/ft': 1 / 12,
  'thou/ft': 1 / 12_000,
  arcsec: DEGREE / 3600,
  arcmin: DEGREE / 60,
  deg: DEGREE,
  mrad: 1e-3,
  urad: 1e-6,
};

/** In kelvin a metre: a degree Fahrenheit is 5/9 K (NIST SP 811, B.8). */
const KELVIN_PER_M: Record<(typeof gradientUnits)[number], number> = {
  'K/m': 1,
  'K/ft': 1 / (12 * 0.0254),
  'F/ft': 5 / 9 / (12 * 0.0254),
};

const near = (found: number, wanted: number) => expect(found / wanted).toBeCloseTo(1, 12);

describe('lengths', () => {
  test.each(lengthUnits)('%s', (unit) => {
    near(toMm(7, unit), 7e3 * METRES[unit]);
    near(toUm(7, unit), 7e6 * METRES[unit]);
    near(fromUm(7, unit), 7e-6 / METRES[unit]);
  });
  test.each(rateUnits)('%s', (unit) => near(toUmPerHour(7, unit), 7e6 * METRES[unit.slice(0, -2) as 'm']));
});

describe('slopes and angles', () => {
  test.each(slopeUnits)('%s', (unit) => {
    near(toUmPerM(7, unit), 7e6 * RATIO[unit]);
    near(fromUmPerM(7, unit), 7e-6 / RATIO[unit]);
  });
  // Handbook figures (common practice, no source): a second of arc is 4.848 µm/m, a thou a foot 83.33 µm/m.
  test('as people know them', () => {
    expect(toUmPerM(1, 'arcsec')).toBeCloseTo(4.848, 3);
    expect(toUmPerM(1, 'thou/ft')).toBeCloseTo(83.33, 2);
  });
});

describe('temperatures', () => {
  // NIST SP 811, B.8: t/°C = (t/°F − 32)/1.8.
  test.each([
    [32, 0],
    [212, 100],
    [68, 20],
    [-40, -40],
  ])('%f °F is %f °C', (f, c) => expect(toCelsius(f, 'F')).toBeCloseTo(c, 12));
  test('Celsius stays', () => expect(toCelsius(20.5, 'C')).toBe(20.5));
  test.each(gradientUnits)('%s', (unit) => near(toKelvinPerM(7, unit), 7 * KELVIN_PER_M[unit]));
});
