import { askedKey, type Question } from '../solution/characteristics/question.js';
import type { CharacteristicResult } from './results-schema.js';

type AskedOf = Pick<
  CharacteristicResult,
  'what' | 'rail' | 'reference' | 'over' | 'against' | 'rails' | 'between' | 'side'
>;

/** @returns The question that a characteristic answers; null: none of these. */
export function questionFinder(questions: readonly Question[]): (c: AskedOf) => Question | null {
  // Of two with one key the first.
  const byKey = new Map([...questions].reverse().map((q) => [askedKey(q), q]));
  return (c) => byKey.get(askedKey({ ...c, overMm: c.over, betweenMm: c.between })) ?? null;
}
