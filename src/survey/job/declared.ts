/** What a job declares under ids: rails, monuments, instruments, set-ups, targets. */
import type { Findings, Place } from '../../base/diagnostics/diagnostic.js';
import { nearest } from '../../base/diagnostics/nearest.js';
import type { Item } from './draft.js';

/** By id, in the order of the job file; null: declared, but faulty (which has been reported). */
export interface Declared<T> extends ReadonlyMap<string, T | null> {
  /** false: entries without an id are among them, so that no id can be called unknown. */
  readonly complete: boolean;
}

/** @param complete false: some entries have no id. */
export const declaredAs = <T>(entries: Iterable<readonly [string, T | null]>, complete = true): Declared<T> =>
  Object.assign(new Map(entries), { complete });

/**
 * Settles each entry of a list once.
 *
 * Reports: ID_DUPLICATE at each later entry of the same id; the first one counts.
 */
export function declare<I, T>(
  kind: string,
  items: readonly Item<I>[],
  settle: (input: I, item: Item<I>) => T | null,
  complete: boolean,
  findings: Findings,
): Declared<T> {
  const declared = new Map<string, T | null>();
  for (const item of items) {
    const settled = item.input === null ? null : settle(item.input, item);
    if (item.id === null) continue;
    if (declared.has(item.id)) findings.error('ID_DUPLICATE', { kind, id: item.id }, item.at('id'));
    else declared.set(item.id, settled);
  }
  return declaredAs(declared, complete);
}

/** The sound ones, in the order of the job file. */
export const soundOnes = <T>(declared: Declared<T>): T[] => [...declared.values()].filter((v) => v !== null);

/**
 * What stands under `id`. null: nothing, which is reported as ID_UNKNOWN with what is known, the nearest
 * first; or something faulty, which has been reported where it stands.
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

/** An id without what a hand writes now so, now otherwise: capitals and blanks. */
export const foldId = (id: string): string => id.normalize('NFKC').toLowerCase().replace(/\s+/gu, '');

/** The one known id that differs from what was found in capitals and blanks only; null: none, or more than one. */
export function alikeId(found: string, known: Iterable<string>): string | null {
  const folded = foldId(found);
  const alike = [...known].filter((id) => foldId(id) === folded);
  return alike.length === 1 && folded !== '' ? alike[0]! : null;
}

/** Longer lists are not searched for the nearest: a hostile file may ask a million times. */
const MOST_COMPARED = 200;

/** Known ids as a list for people, the likeliest first: `B, A, C`; never longer than a line. */
export function knownWords(found: string, known: Iterable<string>): string {
  const all = [...known];
  const near = all.length > MOST_COMPARED ? '' : nearest(found, all);
  const ordered = near === '' ? all : [near, ...all.filter((id) => id !== near)];
  const shown = ordered.slice(0, 8).join(', ');
  if (all.length === 0) return '';
  return all.length > 8 ? `${shown} and ${all.length - 8} more` : shown;
}
