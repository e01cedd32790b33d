/** What the report's own rounding does not cover: numbers that are round by choice, and rough ones. */
import { numberText, trimmedText } from '../../results/words/format-quantity.js';

/** A number that somebody chose, such as a limit or a window: as few digits as it has, six significant at most. */
export const chosenText = (value: number): string => trimmedText(Number(value.toPrecision(6)), 8);

/** "21 000": two significant digits. */
export function roughText(value: number): string {
  const rough = Number(value.toPrecision(2));
  return rough >= 10 ? numberText(rough, 0) : chosenText(rough);
}
