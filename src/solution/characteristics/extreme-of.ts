import type { LinearFamily } from './linear-family.js';
import { magnitude } from './measures.js';
import type { Asked, ProfileQuestion } from './question.js';

/** The member of greatest magnitude, with its sign. */
export const extremeOf = (about: Asked, family: LinearFamily, familyKey: string): ProfileQuestion => ({
  ...about,
  kind: 'signed-extreme',
  family,
  measure: magnitude,
  familyKey,
  key: familyKey,
  factor: 1,
});
