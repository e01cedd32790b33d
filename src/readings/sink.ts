/** Where the rows of one readings file go. */
import type { FileEntry } from '../job/settle-readings-files.js';
import type { ExcludedRow, Reading } from './readings.js';
import type { Row } from './row.js';

export interface Sink {
  readonly readings: Reading[];
  readonly excluded: ExcludedRow[];
  /** Set-ups that a used row with anything read in it names, sound or not. */
  readonly setupsSeen: Set<string>;
}

/** Lists a row that says use = no. @param what The row in words. */
export function exclude(row: Row, { phase }: FileEntry, what: string, sink: Sink): void {
  sink.excluded.push({ source: row.source, phase, what, note: row.text('note') });
}
