/** A direction in the words of a crew. */
import type { DoneMove } from '../../../results/results-schema.js';

export const moveWords: Readonly<Record<DoneMove['axis'], readonly [plus: string, minus: string]>> = {
  vertical: ['raise', 'lower'],
  horizontal: ['left', 'right'],
};
