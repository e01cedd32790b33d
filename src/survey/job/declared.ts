/** What a job declares under ids: rails, monuments, instruments, set-ups, targets. */
import type { Findings, Place } from '../../base/diagnostics/diagnostic.js';
import { nearest } from '../../base/diagnostics/nearest.js';
import { toUmPerM, type SlopeUnit } from '../../base/units/units.js';
import type { Item } from './draft.js';

/** By id, in the order of the job file; null: declared, but faulty, which was reported. */
export interface Declared<T> extends ReadonlyMap<string, T | null> {
  /** false: some entries have no id, so no id can be called unknown. */
  readonly complete: boolean;
}

/** @param complete false: some entries have no id. */
export const declaredAs = <T>(entries: Iterable<readonly [string, T | null]>, complete = true): Declared<T> =>
  Object.assign(new Map(entries), { complete });

/**
 * Resolves each entry of a list once.
 *
 * Reports: ID_DUPLICATE at each later entry of the same id; the first one counts.
 */
export function declare<I, T>(
  kind: string,
  items: readonly Item<I>[],
  resolve: (input: I, item: Item<I>) => T | null,
  complete: boolean,
  findings: Findings,
): Declared<T> {
  const declared = new Map<string, T | null>();
  for (const item of items) {
    const resolved = item.input === null ? null : resolve(item.input, item);
    if (item.id === null) continue;
    if (declared.has(item.id)) findings.error('ID_DUPLICATE', { kind, id: item.id }, item.at('id'));
    else declared.set(item.id, resolved);
  }
  return declaredAs(declared, complete);
}

/** A value that may be left out, converted; null: it is left out. */
export const ifGiven = <T, R>(value: T | undefined, convert: (value: T) => R): R | null =>
  value === undefined ? null : convert(value);

/** A standard uncertainty of a slope, µm/m. */
export const slopeU = ({ u, unit }: { readonly u: number; readonly unit: SlopeUnit }): number =>
  toUmPerM(u, unit);

/** The entries that are not faulty, in the order of the job file. */
export const soundOnes = <T>(declared: Declared<T>): T[] => [...declared.values()].filter((v) => v !== null);

/**
 * The entry with this id. null: there is none, which is reported as ID_UNKNOWN with the known ids, the nearest first; or
 * the entry is faulty, which was reported at its own place.
 */
export function lookUp<T>(
  kind: string,
  declared: Declared<T>,
  id: string,
  place: Place,
  findings: Findings,
): T | null {
  const found = declared.get(id);
  if (found === undefined && declared.complete) {
    findings.error('ID_UNKNOWN', { kind, id, known: knownWords(id, declared.keys()) }, place);
  }
  return found ?? null;
}

/** An id without spaces and in lower case, because people write these differently. */
export const foldId = (id: string): string => id.normalize('NFKC').toLowerCase().replace(/\s+/gu, '');

/** The one known id that differs from what was found only in upper or lower case and spaces; null: none, or more than one. */
export function alikeId(found: string, known: Iterable<string>): string | null {
  const folded = foldId(found);
  const alike = [...known].filter((id) => foldId(id) === folded);
  return alike.length === 1 && folded !== '' ? alike[0]! : null;
}

/** Longer lists are not searched for the nearest id: a hostile file may have a million unknown ids. */
const MAX_IDS_COMPARED = 200;

/** Known ids as a list for people, the most similar first: `B, A, C`; at most eight. */
export function knownWords(found: string, known: Iterable<string>): string {
  const all = [...known];
  const near = all.length > MAX_IDS_COMPARED ? '' : nearest(found, all);
  const ordered = near === '' ? all : [near, ...all.filter((id) => id !== near)];
  const shown = ordered.slice(0, 8).join(', ');
  if (all.length === 0) return '';
  return all.length > 8 ? `${shown} and ${all.length - 8} more` : shown;
}
