/** Units as cells and headers name them: more words than job files may use. */
import { unitNames } from './units.js';

const UNIT_NAMES: ReadonlySet<string> = new Set([...unitNames('length'), ...unitNames('slope')]);

/** A unit as job files write it, or by its sign; undefined: not known. */
function unitOf(text: string): string | undefined {
  const plain = text
    .trim()
    .replace(/[µμ]/g, 'u')
    .replace(/^"$|^″$/, 'in')
    .replace(/^°$/, 'deg');
  return UNIT_NAMES.has(plain) ? plain : undefined;
}

/** Words in lower case; null: a unit that job files do not have, or a word that people use for two units. */
const WORDS: Readonly<Record<string, string | null>> = {
  mic: 'um',
  mics: 'um',
  micron: 'um',
  microns: 'um',
  micrometre: 'um',
  micrometres: 'um',
  micrometer: 'um',
  micrometers: 'um',
  millimetre: 'mm',
  millimetres: 'mm',
  millimeter: 'mm',
  millimeters: 'mm',
  metre: 'm',
  metres: 'm',
  meter: 'm',
  meters: 'm',
  cm: null,
  dm: null,
  nm: null,
  'in.': 'in',
  inch: 'in',
  inches: 'in',
  ins: 'in',
  'ft.': 'ft',
  "'": 'ft',
  '′': 'ft',
  foot: 'ft',
  feet: 'ft',
  'thou.': 'thou',
  thous: 'thou',
  thousandth: 'thou',
  thousandths: 'thou',
  '.001"': 'thou',
  '0.001"': 'thou',
  '.001in': 'thou',
  '0.001in': 'thou',
  '.001 in': 'thou',
  '0.001 in': 'thou',
  // A thousandth of an inch in one workshop, a millimetre in another.
  mil: null,
  mils: null,
  tenths: null,
  sec: null,
  secs: null,
  seconds: null,
  'arc sec': 'arcsec',
  'arc-sec': 'arcsec',
  arcsecond: 'arcsec',
  arcseconds: 'arcsec',
  'arc seconds': 'arcsec',
  arcminute: 'arcmin',
  arcminutes: 'arcmin',
  'arc min': 'arcmin',
  degree: 'deg',
  degrees: 'deg',
  microradian: 'urad',
  microradians: 'urad',
  milliradian: 'mrad',
  milliradians: 'mrad',
  'micron/m': 'um/m',
  'microns/m': 'um/m',
  'mil/ft': null,
  'mils/ft': null,
};

/** The unit that a word names, in upper or lower case; null: a unit that needs another word; undefined: not a unit. */
export function unitWord(text: string): string | null | undefined {
  const exact = unitOf(text);
  if (exact !== undefined) return exact;
  const word = text.trim().replace(/[µμ]/g, 'u').toLowerCase();
  if (Object.hasOwn(WORDS, word)) return WORDS[word];
  return unitOf(word);
}

/** The last word of a header without brackets, if it is a unit: `V_mm`, `Reading, thou`; else null. */
export function trailingUnit(header: string): string | null {
  const match = /[^\s_,;:/-][\s_,;:-]+([^\s_,;:]+)$/.exec(header.trim());
  return match !== null && unitWord(match[1]!) !== undefined ? match[1]! : null;
}
