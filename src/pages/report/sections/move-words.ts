/** A move in the words of a crew: which way, how far, how sure. */
import type { PointMove } from '../../../results/results-schema.js';
import { quantityText, type Figures } from '../figures.js';

type Words = readonly [plus: string, minus: string];

export const moveWords: Readonly<Record<PointMove['axis'], Words>> = {
  vertical: ['raise', 'lower'],
  horizontal: ['left', 'right'],
  along: ['ahead', 'back'],
};

export const LEAVE = 'leave';

export interface MoveText {
  readonly word: string;
  /** With its sign: that of the direction in which to move; empty where nothing is to be moved. */
  readonly size: string;
  /** Expanded uncertainty. */
  readonly expanded: string;
}

/** A move by the report's rule of rounding. One that does not exceed its own uncertainty, rounded or not, is none. */
export function moveText(
  { move, u }: { readonly move: number; readonly u: number },
  axis: PointMove['axis'],
  figures: Figures,
): MoveText {
  const { value, expanded } = quantityText(figures, { value: move, u }, figures.units.deviation, {
    signed: true,
  });
  if (isSmall({ move, u }, figures)) return { word: LEAVE, size: '', expanded };
  return { word: moveWords[axis][move > 0 ? 0 : 1], size: value, expanded };
}

export const isSmall = (
  { move, u }: { readonly move: number; readonly u: number },
  figures: Figures,
): boolean => Math.abs(move) <= figures.k * u;
