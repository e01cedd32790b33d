/** Where the rows of one readings file go. */
import type { FileEntry } from '../job/resolve-readings-files.js';
import type { BlankRow, ExcludedRow, Reading } from './readings.js';
import type { Row } from './row.js';
import type { SignCheck } from './sign-checks.js';

export interface Sink {
  readonly readings: Reading[];
  readonly excluded: ExcludedRow[];
  /** Rows that are in use and hold no reading; absent: nobody asks for them. */
  readonly blank?: BlankRow[];
  /** Targets that were moved to see the sign: compared, never solved. */
  readonly checks: SignCheck[];
  /** Set-ups that a used row with anything read in it names, sound or not. */
  readonly setupsSeen: Set<string>;
}

/** Lists a row that says use = no. @param said The row in words, and what it names, as far as that is known. */
export function exclude(
  row: Row,
  { phase }: FileEntry,
  sink: Sink,
  said: Pick<ExcludedRow, 'what' | 'stations' | 'setup' | 'pass'> & { readonly note?: string },
): void {
  sink.excluded.push({ source: row.source, phase, note: row.text('note'), ...said });
}

/** Lists a row in use that holds no reading. Warns: READING_ROW_EMPTY. @param said The row in words, and what it names. */
export function leaveBlank(
  row: Row,
  { phase }: FileEntry,
  sink: Sink,
  said: Pick<BlankRow, 'what' | 'setup' | 'point' | 'pass'>,
): void {
  row.findings.warn('READING_ROW_EMPTY', {}, { ...row.source });
  sink.blank?.push({ source: row.source, phase, ...said });
}
