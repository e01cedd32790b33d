import type { Question } from '../solution/characteristics/question.js';
import { identityKey, type Identity } from './identity.js';

/** @returns The question of a characteristic; null: none of these. */
export function questionFinder(questions: readonly Question[]): (c: Identity) => Question | null {
  // If two have the same key, the first is used.
  const byKey = new Map([...questions].reverse().map((q) => [identityKey(q), q]));
  return (c) => byKey.get(identityKey(c)) ?? null;
}
