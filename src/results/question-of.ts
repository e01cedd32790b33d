import type { Question } from '../solution/characteristics/question.js';
import { identityKey, type Identity } from './identity.js';

/** @returns The question that a characteristic answers; null: none of these. */
export function questionFinder(questions: readonly Question[]): (c: Identity) => Question | null {
  // Of two with one key the first.
  const byKey = new Map([...questions].reverse().map((q) => [identityKey(q), q]));
  return (c) => byKey.get(identityKey(c)) ?? null;
}
