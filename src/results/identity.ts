/** Identity and full names of characteristics, and the search for the characteristic that a person typed. */
import { visible } from '../base/diagnostics/messages.js';
import { toMm, isLengthUnit, type LengthUnit } from '../base/units/units.js';
import { characteristicOf } from '../survey/characteristics/characteristics.js';
import {
  identityKey,
  identityOf,
  type Identity,
  type IdentityOrNull,
} from '../survey/characteristics/identity.js';
import { readNumber } from '../survey/readings/number.js';
import type { Results } from './results-schema.js';
import {
  positionText,
  reportUnits,
  withUnit,
  type DecimalMark,
  type ReportUnit,
} from './words/format-quantity.js';
import { againstDatum, characteristicNames, referenceWords } from './words/texts.js';

export {
  identityKey,
  identityOf,
  identityShape,
  type Identity,
  type IdentityOrNull,
} from '../survey/characteristics/identity.js';

export interface Naming {
  /** The datum rail; null: it is not known, and its name is "the datum". */
  readonly datum: string | null;
  /** Unit of windows and working lengths. */
  readonly length: ReportUnit;
}

/** Greatest number of decimals of a length; more are rounding of a unit conversion. */
const MOST_DECIMALS = 9;

/** Names for a list: lengths have enough decimals to show that they differ. */
export function namingFor(list: readonly IdentityOrNull[], { datum, length }: Naming): Naming {
  const lengths = new Set(list.flatMap(({ over, between }) => [over ?? [], between ?? []].flat()));
  let { decimals } = length;
  const areApart = () =>
    new Set([...lengths].map((mm) => positionText(mm, { ...length, decimals }))).size === lengths.size;
  while (decimals < MOST_DECIMALS && !areApart()) decimals++;
  return { datum, length: { ...length, decimals } };
}

/** Names as in the report: in the job's units, with its datum rail. */
export const namingOf = (results: Pick<Results, 'phases' | 'style' | 'survey'>, mark?: DecimalMark): Naming =>
  namingFor(
    Object.values(results.phases).flatMap(({ characteristics }) => characteristics),
    {
      datum: results.survey.rails.find((rail) => rail.datum)?.id ?? null,
      length: reportUnits(results.style, mark).length,
    },
  );

/** "rail B to rail A", "rail A", "any two of rails A, B and C" */
export function railsText(of: IdentityOrNull, datum: string | null): string {
  const { what, rail, against, rails } = identityOf(of);
  const isPlane = what === 'coplanarity';
  if (rails !== undefined) {
    const all = `rails ${rails.slice(0, -1).map(visible).join(', ')} and ${visible(rails.at(-1)!)}`;
    return isPlane ? `${all} together` : `any two of ${all}`;
  }
  const own = visible(rail);
  if (against === undefined && (!againstDatum.has(what) || rail === datum)) return `rail ${own}`;
  const other = against ?? datum;
  if (other === null) return isPlane ? `rail ${own} and the datum` : `rail ${own} to the datum`;
  return isPlane ? `rails ${visible(other)} and ${own}` : `rail ${own} to rail ${visible(other)}`;
}

const sideWords = { convex: 'convex only', hollow: 'hollow only', both: 'to either side' } as const;

/** The reference that is used if none is stated. */
export const usualReference = ({ what }: Pick<Identity, 'what'>) => characteristicOf(what).references[0];

/** The conditions of a characteristic: "any 2000 mm", "minimum zone", "between 0 and 5 000 mm". */
export function conditionTexts(of: IdentityOrNull, { length }: Pick<Naming, 'length'>): string[] {
  const { over, reference, side, between } = identityOf(of);
  const at = (mm: number) => positionText(mm, length);
  return [
    ...(over === undefined ? [] : [`any ${withUnit(at(over), length)}`]),
    ...(reference === undefined || reference === usualReference(of) ? [] : [referenceWords[reference]]),
    ...(side === undefined ? [] : [sideWords[side]]),
    ...(between === undefined ? [] : [`between ${at(between[0])} and ${withUnit(at(between[1]), length)}`]),
  ];
}

/** "Straightness, vertical, between 0 and 5000 mm, rail A". Different identities have different names. */
export const identityName = (of: IdentityOrNull, naming: Naming): string =>
  [characteristicNames[of.what], ...conditionTexts(of, naming), railsText(of, naming.datum)].join(', ');

/** What a person typed to select a characteristic; null: not stated. */
export interface Typed {
  /** Its printed name, its title or its code, or words of these. */
  readonly what: string;
  /** A rail's id, "A,B,C" of rails together, or as printed: "rail B to rail A". */
  readonly rail: string | null;
  readonly reference: string | null;
  /** mm. */
  readonly over: number | null;
  /** mm. */
  readonly between: readonly [number, number] | null;
  readonly against: string | null;
}

/**
 * The selected characteristics; several if the selection is not unique. If several fit, one with a limit comes before one
 * without, then the one without conditions.
 *
 * @returns In the order of `list`; of several with the same identity the first with a limit.
 */
export function findTyped<T extends Identity & { readonly limit: number | null }>(
  list: readonly T[],
  typed: Typed,
  naming: Naming,
): readonly T[] {
  const each = new Map<string, T>();
  for (const one of list) {
    const known = each.get(identityKey(one));
    if (known === undefined || (known.limit === null && one.limit !== null)) each.set(identityKey(one), one);
  }
  const isSaid = conditionsSaid(typed, naming);
  const asked = [...each.values()].filter(isSaid);
  const said = wordsOf(typed.what);
  const isTitle = ({ what }: T) =>
    [what, characteristicNames[what]].some((name) => isSame(wordsOf(name), said));
  const nameOf = (one: T) => wordsOf(identityName(one, naming));
  // A complete name comes before its parts: the plain name is part of the names with conditions.
  const ways: ((one: T) => boolean)[] = [
    (one) => spaced(identityName(one, naming)) === spaced(typed.what),
    (one) => isSame(nameOf(one), said),
    isTitle,
    (one) => isSame([...nameOf(one)].sort(), [...said].sort()),
    (one) => said.length > 0 && said.every((word) => nameOf(one).includes(word)),
  ];
  for (const [i, way] of ways.entries()) {
    const found = asked.filter(way);
    if (found.length === 0) continue;
    return i < 2 || found.length === 1 ? found : theUsual(found);
  }
  return [];
}

function theUsual<T extends Identity & { readonly limit: number | null }>(found: readonly T[]): readonly T[] {
  const limited = found.filter(({ limit }) => limit !== null);
  const among = limited.length > 0 ? limited : found;
  const plain = among.filter(
    (one) =>
      [one.over, one.against, one.rails, one.between, one.side].every(
        (condition) => condition === undefined,
      ) &&
      (one.reference === undefined || one.reference === usualReference(one)),
  );
  return plain.length === 1 ? plain : among;
}

/** true: a characteristic meets all stated conditions. */
function conditionsSaid({ rail, reference, over, between, against }: Typed, { datum, length }: Naming) {
  const isAt = (a: number, b: number) =>
    Math.abs(a - b) <= 1e-6 || positionText(a, length) === positionText(b, length);
  return (one: Identity): boolean =>
    (rail === null ||
      (one.rails === undefined ? rail === one.rail : rail.split(/\s*,\s*/).join() === one.rails.join()) ||
      isSame(wordsOf(rail), wordsOf(railsText(one, datum)))) &&
    (reference === null ||
      (one.reference !== undefined &&
        (reference === one.reference ||
          isSame(wordsOf(reference), wordsOf(referenceWords[one.reference]))))) &&
    (over === null || (one.over !== undefined && isAt(over, one.over))) &&
    (between === null ||
      (one.between !== undefined && between.every((mm, i) => isAt(mm, one.between![i as 0 | 1])))) &&
    (against === null ||
      against ===
        (one.against ?? (againstDatum.has(one.what) && one.rails === undefined ? datum : undefined)));
}

/** Text as it is typed: plain spaces and minus signs, digits without grouping. */
const spaced = (text: string): string =>
  text
    .trim()
    .replace(/\u2212/g, '-')
    .replace(/\s+/g, ' ')
    .replace(/(?<=\d) (?=\d{3}(?!\d))/g, '');

/** Words and numbers, without case and punctuation. */
const wordsOf = (text: string): string[] =>
  spaced(text)
    .toLowerCase()
    .match(/(?<![\p{L}\p{N}])-?\d+(?:\.\d+)?|[\p{L}\p{N}.]+/gu) ?? [];

const isSame = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((word, i) => word === b[i]);

/** "2000 mm", "78 in", "2" in the job's unit. @returns mm; null: not a length. */
export function typedLength(text: string, unit: LengthUnit): number | null {
  const read = readNumber(text.trim(), { decimal: '.', grouped: false });
  if (!read.ok) return null;
  const own = read.unit ?? unit;
  return isLengthUnit(own) ? toMm(read.value, own) : null;
}

/** "0 to 5000 mm": a unit at the end is for both. @returns mm; null: not two places. */
export function typedStretch(text: string, unit: LengthUnit): [number, number] | null {
  const parts = text.split(/\s*(?:\.\.|\bto\b|\band\b|,)\s*/);
  const last = readNumber((parts[1] ?? '').trim(), { decimal: '.', grouped: false });
  if (parts.length !== 2 || !last.ok) return null;
  const own = last.unit ?? unit;
  if (!isLengthUnit(own)) return null;
  const [from, to] = parts.map((part) => typedLength(part, own)) as [number | null, number | null];
  return from === null || to === null ? null : [from, to];
}
