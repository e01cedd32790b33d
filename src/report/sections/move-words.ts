/** A move in the words of a crew: which way, how far, how sure. */
import { quantityText, type Figures, type Known } from '../figures.js';
import { moveDecimals, numberText, roundTo, type ReportUnit } from '../format-quantity.js';

/** Words for the move that undoes a departure. */
export interface Direction {
  /** Where the departure is positive. */
  readonly undoPlus: string;
  readonly undoMinus: string;
}

export const upDown: Direction = { undoPlus: 'lower', undoMinus: 'raise' };
export const leftRight: Direction = { undoPlus: 'right', undoMinus: 'left' };
export const aheadBack: Direction = { undoPlus: 'back', undoMinus: 'ahead' };

export const LEAVE = 'leave';

export interface Move {
  readonly word: string;
  /** With its sign: that of the direction in which to move; empty where nothing is to be moved. */
  readonly size: string;
  /** Expanded uncertainty. */
  readonly expanded: string;
  /** The same to the decimals of the move. */
  readonly rounded: string;
}

/**
 * The move that undoes a departure, rounded to what a crew can use. One that does not exceed its own uncertainty,
 * rounded or not, is none.
 *
 * @param decimals Of all moves of one list (decimalsOfMoves).
 */
export function moveOf(
  departure: Known,
  words: Direction,
  unit: ReportUnit,
  decimals: number,
  figures: Figures,
): Move {
  const { expanded } = quantityText(figures, departure, unit);
  const [exact, uncertainty] = [unit.fromBase(-departure.value), unit.fromBase(figures.k * departure.u)];
  const size = roundTo(exact, decimals);
  const rounded = numberText(uncertainty, decimals);
  if (size === 0 || Math.min(Math.abs(size), Math.abs(exact)) <= uncertainty)
    return { word: LEAVE, size: '', expanded, rounded };
  return {
    word: size < 0 ? words.undoPlus : words.undoMinus,
    size: numberText(size, decimals, { signed: true }),
    expanded,
    rounded,
  };
}

/** One step for a whole list, after its surest move. */
export const decimalsOfMoves = (
  departures: readonly (Known | undefined)[],
  unit: ReportUnit,
  figures: Figures,
): number =>
  moveDecimals(
    departures.flatMap((departure) => (departure ? [unit.fromBase(figures.k * departure.u)] : [])),
  );
