/** The place of each value of a readings row in a row of the file. */
import type { FixedValue } from '../job/job.js';
import type { HeaderCell } from '../job/columns.js';

/** Offset of a record's first character, and its line. */
export interface TextPlace {
  readonly offset: number;
  readonly line: number;
}

export interface Column {
  readonly index: number;
  /** As it is in the header. */
  readonly text: string;
  /** The unit that the header or the mapping gives; null: none. */
  readonly unit: string | null;
  /** Our word for each text in the cells; empty: the cells are used as they are. */
  readonly words: ReadonlyMap<string, string>;
}

/** The cell of a row in the column, trimmed, in our words; '': the row has no such cell. */
export function textOf(cells: readonly string[], { index, words }: Column): string {
  const text = (cells[index] ?? '').trim();
  return words.get(text) ?? text;
}

/** The columns of a row of the file from which one readings row is read. */
export interface Layout {
  /** By our column name. */
  readonly columns: ReadonlyMap<string, Column>;
  /** Values that the job gives for the file, by our column name. */
  readonly values: ReadonlyMap<string, FixedValue>;
}

export interface Header {
  readonly delimiter: string;
  readonly line: number;
  /** Start of the rows. */
  readonly body: TextPlace;
  readonly titleLines: number;
  readonly cells: readonly HeaderCell[];
  /** One, or one per entry of the mapping's `rows`. */
  readonly layouts: readonly Layout[];
}
