/** Directions of moves, by their keys in the catalogue. */
import type { DoneMove } from '../../../results/results-schema.js';

export const moveDirections = {
  vertical: ['raise', 'lower'],
  horizontal: ['left', 'right'],
} as const satisfies Readonly<Record<DoneMove['axis'], readonly [plus: string, minus: string]>>;
