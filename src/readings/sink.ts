/** Where the rows of one readings file go. */
import type { ExcludedRow, Reading } from './readings.js';

export interface Sink {
  readonly readings: Reading[];
  readonly excluded: ExcludedRow[];
  /** Set-ups that a used row with anything read in it names, sound or not. */
  readonly setupsSeen: Set<string>;
}
