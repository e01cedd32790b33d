/** A move in the words of a crew: which way, how far, how sure. */
import type { PointMove } from '../../../results/results-schema.js';
import { quantityText, type Figures } from '../figures.js';

export const moveDirections = {
  vertical: ['raise', 'lower'],
  horizontal: ['left', 'right'],
  along: ['ahead', 'back'],
} as const satisfies Readonly<Record<PointMove['axis'], readonly [plus: string, minus: string]>>;

export type MoveDirection = (typeof moveDirections)[PointMove['axis']][number];

export interface MoveText {
  readonly direction: MoveDirection | 'leave';
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
  if (isSmall({ move, u }, figures))
    return { direction: 'leave', word: figures.say('move.leave'), size: '', expanded };
  const direction = moveDirections[axis][move > 0 ? 0 : 1];
  return { direction, word: figures.say(`move.${direction}`), size: value, expanded };
}

export const isSmall = (
  { move, u }: { readonly move: number; readonly u: number },
  figures: Figures,
): boolean => Math.abs(move) <= figures.k * u;
