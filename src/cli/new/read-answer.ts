/** What a person types in answer to a question: numbers with or without units, counts, words. */
import { fromMm, fromUm, isLengthUnit, toMm, toUm, type LengthUnit } from '../../base/units/units.js';
import { readNumber } from '../../survey/readings/number.js';
import { tidy } from './plan.js';

/** What is wrong with an answer. */
export type Wrong = string;

const NOT_A_NUMBER = 'wanted: a number such as 2 or 0.5, with or without its unit';

export interface Bound {
  readonly holds: (value: number) => boolean;
  readonly words: string;
}
export const any: Bound = { holds: () => true, words: '' };
export const positive: Bound = { holds: (value) => value > 0, words: 'wanted: more than nothing' };
export const notNegative: Bound = { holds: (value) => value >= 0, words: 'wanted: nothing or more' };

interface NumberTyped {
  readonly value: number;
  readonly unit: string | null;
}

/** A number, or one made of several with their units: `35 ft 5 in`. */
function numberOf(text: string): NumberTyped | null {
  const one = plainNumber(text);
  if (one !== null) return one;
  const parts = text.match(/\d[\d./]*\s*[^\d\s./-]+/g);
  if (parts === null || parts.length < 2 || parts.join('').replace(/\s/g, '') !== text.replace(/\s/g, ''))
    return null;
  let sum = 0;
  for (const part of parts) {
    const read = plainNumber(part.replace(/['′’]\s*$/, 'ft'));
    if (read === null || read.unit === null || !isLengthUnit(read.unit)) return null;
    sum += toMm(read.value, read.unit);
  }
  return { value: sum, unit: 'mm' };
}

function plainNumber(text: string): NumberTyped | null {
  const read = readNumber(text.replace(/(?<=\d)\s*['′’]$/, 'ft'), { decimal: '.', grouped: false });
  return read.ok && Number.isFinite(read.value) ? read : null;
}

export type Put<T> = (value: T) => void;

/** A length in a unit of the plan, from whatever unit is after it. */
export const length = (text: string, own: LengthUnit, bound: Bound, put: Put<number>): Wrong | null =>
  measured(text, bound, put, (value, from) => tidy(fromMm(toMm(value, from), own)));

/** A reading's size, in µm or thou. */
export const reading = (text: string, own: LengthUnit, bound: Bound, put: Put<number>): Wrong | null =>
  measured(text, bound, put, (value, from) => tidy(fromUm(toUm(value, from), own)));

function measured(
  text: string,
  { holds, words }: Bound,
  put: Put<number>,
  convert: (value: number, from: LengthUnit) => number,
): Wrong | null {
  const read = numberOf(text);
  if (read === null) return NOT_A_NUMBER;
  if (read.unit !== null && !isLengthUnit(read.unit))
    return 'wanted: one of m, mm, um, in, ft, thou after it';
  if (!holds(read.value)) return words;
  put(read.unit === null ? read.value : convert(read.value, read.unit as LengthUnit));
  return null;
}

/** A number with one of some units after it; without a unit, the first one. */
export function quantity<U extends string>(
  text: string,
  units: readonly [U, ...U[]],
  { holds, words }: Bound,
  put: Put<{ value: number; unit: U }>,
): Wrong | null {
  const read = numberOf(text);
  if (read === null) return NOT_A_NUMBER;
  const unit = units.find((u) => u === (read.unit ?? units[0]));
  if (unit === undefined) return `wanted: ${units.join(' or ')}`;
  if (!holds(read.value)) return words;
  put({ value: read.value, unit });
  return null;
}

export function count(text: string, least: number, most: number, put: Put<number>): Wrong | null {
  const n = /^\d{1,6}$/.test(text) ? Number(text) : NaN;
  if (!(n >= least && n <= most))
    return least === most ? `wanted: ${least}` : `wanted: a whole number from ${least} to ${most}`;
  put(n);
  return null;
}

export function oneOf<W extends string>(text: string, known: readonly W[], put: Put<W>): Wrong | null {
  const word = known.find((w) => w.toLowerCase() === text.toLowerCase());
  if (word === undefined) return `wanted: ${known.join(' or ')}`;
  put(word);
  return null;
}
