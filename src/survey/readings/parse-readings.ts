/** The rows of one readings file as readings, with all problems. Pure: it takes bytes. */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import { MAX_ERRORS } from '../../base/diagnostics/cap.js';
import type { Frame } from '../job/resolve-job.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import { isReading } from '../job/columns.js';
import type { Layout } from './layout.js';
import { readOffsetRow } from './offset.js';
import type { CsvRecord } from './records.js';
import { Row } from './row.js';
import type { Sink } from './sink.js';
import { readSlopeRow } from './slope.js';
import { readSpanRow } from './span.js';
import { MAX_ROWS, readTable, type Table } from './table.js';

const rowReaders = { offset: readOffsetRow, slope: readSlopeRow, span: readSpanRow };

/**
 * Pure: the rows of one readings file.
 *
 * @returns The file as a table; null: it is not a file of its kind.
 */
export function parseReadings(
  bytes: Uint8Array,
  entry: FileEntry,
  frame: Frame,
  sink: Sink,
  findings: Findings,
  rowsLeft = MAX_ROWS,
): Table | null {
  const table = readTable(bytes, entry, findings, rowsLeft);
  if (table === null) return null;
  const readRow = rowReaders[entry.kind];
  for (const record of table.rows()) {
    if (findings.isFull) {
      const place = { file: entry.file, row: record.line };
      findings.error('CSV_TOO_MANY_PROBLEMS', { limit: MAX_ERRORS }, place);
      break;
    }
    for (const layout of layoutsOf(record, table)) {
      readRow(new Row(table, record, frame, findings, layout), entry, frame, sink);
    }
  }
  return table;
}

/**
 * The readings of a row. In a wide sheet a blank cell has no meaning, so its point need not exist. A row without any reading is
 * treated as a row with one blank reading.
 */
function layoutsOf({ cells }: CsvRecord, { layouts }: Table): readonly Layout[] {
  if (layouts.length === 1) return layouts;
  const holdsReading = ({ columns }: Layout) =>
    [...columns].some(([name, { index }]) => isReading(name) && (cells[index] ?? '').trim() !== '');
  const filled = layouts.filter(holdsReading);
  return filled.length === 0 ? layouts.slice(0, 1) : filled;
}
