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

/** Words in lower case for each unit that job files have. */
const WORDS_OF_UNITS = {
  um: 'mic|mics|micron|microns|micrometre|micrometres|micrometer|micrometers',
  mm: 'millimetre|millimetres|millimeter|millimeters',
  m: 'metre|metres|meter|meters',
  in: 'in.|inch|inches|ins',
  ft: "ft.|'|′|foot|feet",
  thou: 'thou.|thous|thousandth|thousandths|.001"|0.001"|.001in|0.001in|.001 in|0.001 in',
  arcsec: 'arc sec|arc-sec|arcsecond|arcseconds|arc seconds',
  arcmin: 'arcminute|arcminutes|arc min',
  deg: 'degree|degrees',
  urad: 'microradian|microradians',
  mrad: 'milliradian|milliradians',
  'um/m': 'micron/m|microns/m',
};

/**
 * Units that job files do not have, and words that people use for two units: a mil is a thousandth of an inch in one
 * workshop, a millimetre in another.
 */
const NO_UNIT = 'cm|dm|nm|mil|mils|tenths|sec|secs|seconds|mil/ft|mils/ft';

const WORDS: ReadonlyMap<string, string | null> = new Map<string, string | null>([
  ...Object.entries(WORDS_OF_UNITS).flatMap(([unit, words]) =>
    words.split('|').map((word) => [word, unit] as const),
  ),
  ...NO_UNIT.split('|').map((word) => [word, null] as const),
]);

/** The unit that a word names, in upper or lower case; null: a unit that needs another word; undefined: not a unit. */
export function unitWord(text: string): string | null | undefined {
  const exact = unitOf(text);
  if (exact !== undefined) return exact;
  const word = text.trim().replace(/[µμ]/g, 'u').toLowerCase();
  const unit = WORDS.get(word);
  return unit === undefined ? unitOf(word) : unit;
}

/** The last word of a header without brackets, if it is a unit: `V_mm`, `Reading, thou`; else null. */
export function trailingUnit(header: string): string | null {
  const match = /[^\s_,;:/-][\s_,;:-]+([^\s_,;:]+)$/.exec(header.trim());
  return match !== null && unitWord(match[1]!) !== undefined ? match[1]! : null;
}
