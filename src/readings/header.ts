/** The header of a readings file: which column stands where, in which unit. */
import type { Findings } from '../diagnostics/diagnostic.js';
import { nearest } from '../diagnostics/nearest.js';
import type { FileEntry } from '../job/settle-readings-files.js';
import { familyOf, isKnownUnit, unitNames } from '../job/units.js';
import {
  columnNamed,
  columnsOf,
  isPosition,
  isReading,
  isStation,
  neededColumns,
  readHeaderCell,
} from './columns.js';
import type { HeaderCell, Kind } from './columns.js';
import { findHeader } from './find-header.js';
import type { FoundHeader, TextPlace } from './find-header.js';

export interface Column {
  readonly index: number;
  /** As it stands in the header. */
  readonly text: string;
  /** The unit in brackets behind the name; null: none. */
  readonly unit: string | null;
}

export interface Header {
  readonly delimiter: string;
  readonly line: number;
  /** Where the rows begin. */
  readonly body: TextPlace;
  readonly titleLines: number;
  readonly cells: readonly HeaderCell[];
  /** By the contract's column name. */
  readonly columns: ReadonlyMap<string, Column>;
}

/**
 * @param text With LF line ends.
 * @returns null when no row can be read: no header, or a column missing that every row needs. Other findings
 *   about columns are reported and leave the header usable for the columns that are sound.
 */
export function readHeader(text: string, entry: FileEntry, findings: Findings): Header | null {
  const found = findHeader(text, entry, findings);
  if (found === null) return null;
  const { delimiter, line, body, titleLines } = found;
  const cells = found.cells.map(readHeaderCell);
  const columns = nameColumns(cells, found, entry, findings);
  reportClash(columns, found, entry, findings);
  if (reportMissing(cells, found, entry, findings)) return null;
  return { delimiter, line, body, titleLines, cells, columns };
}

/** Reports: CSV_COLUMN_UNKNOWN, CSV_COLUMN_DUPLICATE, UNIT_UNKNOWN, CSV_UNIT_CLASH. */
function nameColumns(
  cells: readonly HeaderCell[],
  { line }: FoundHeader,
  entry: FileEntry,
  findings: Findings,
): Map<string, Column> {
  const columns = new Map<string, Column>();
  for (const [index, cell] of cells.entries()) {
    if (cell.key === '') continue;
    const place = { file: entry.file, row: line, column: cell.text };
    const name = columnNamed(entry.kind, cell);
    if (name === undefined) {
      const data = {
        column: cell.text,
        nearest: nearestUnused(cell, cells, entry.kind),
        wanted: columnsOf[entry.kind].join(', '),
      };
      findings.error('CSV_COLUMN_UNKNOWN', data, place);
    } else if (columns.has(name)) {
      findings.error('CSV_COLUMN_DUPLICATE', { column: name }, place);
    } else {
      columns.set(name, { index, text: cell.text, unit: headerUnit(name, cell, entry, place, findings) });
    }
  }
  return columns;
}

/** The column that an unknown name may stand for: one that the header has not got yet. */
function nearestUnused(cell: HeaderCell, cells: readonly HeaderCell[], kind: Kind): string {
  const used = new Set(cells.map((other) => columnNamed(kind, other)));
  return nearest(
    cell.text.replace(/\s*[([].*$/, ''),
    columnsOf[kind].filter((column) => !used.has(column)),
  );
}

/** A unit in brackets counts where it fits the column and does not contradict the job's entry for the file. */
function headerUnit(
  name: string,
  { bracket, unit }: HeaderCell,
  entry: FileEntry,
  place: { file: string; row: number; column: string },
  findings: Findings,
): string | null {
  if (isStation(name) && unit !== null) {
    findings.error(
      'UNIT_UNKNOWN',
      { found: bracket!, wanted: 'none: stations are numbers. Name it position' },
      place,
    );
    return null;
  }
  if (bracket === null || bracket === '' || !(isReading(name) || isPosition(name))) return null;
  const family = name === 'slope' ? 'slope' : 'length';
  if (unit === null || !isKnownUnit(unit) || familyOf(unit) !== family) {
    const wanted = `one of ${unitNames(family).join(' ')} in the brackets`;
    findings.error('UNIT_UNKNOWN', { found: bracket, wanted }, place);
    return null;
  }
  if (isReading(name) && entry.unitStated && unit !== entry.unit) {
    findings.error('CSV_UNIT_CLASH', { column: name, header: unit, entry: entry.unit }, place);
    return null;
  }
  return unit;
}

/** Readings stand in a column for each axis, or in `axis` and `reading`. Reports: CSV_COLUMNS_CLASH. */
function reportClash(
  columns: ReadonlyMap<string, Column>,
  { line }: FoundHeader,
  entry: FileEntry,
  findings: Findings,
): void {
  const wide = ['vertical', 'horizontal', 'along'].find((column) => columns.has(column));
  const long = ['axis', 'reading'].find((column) => columns.has(column));
  if (entry.kind !== 'offset' || wide === undefined || long === undefined) return;
  const place = { file: entry.file, row: line, column: columns.get(long)!.text };
  findings.error('CSV_COLUMNS_CLASH', { one: wide, other: long }, place);
}

/**
 * Whether something is missing without which no row can be read. Reports: CSV_COLUMN_MISSING, except where an
 * unknown column has been reported that looks like the missing one.
 */
function reportMissing(
  cells: readonly HeaderCell[],
  { line }: FoundHeader,
  entry: FileEntry,
  findings: Findings,
): boolean {
  const names = new Set(cells.map((cell) => columnNamed(entry.kind, cell)));
  const suspected = new Set(
    cells
      .filter((cell) => cell.key !== '' && columnNamed(entry.kind, cell) === undefined)
      .map((cell) => nearestUnused(cell, cells, entry.kind)),
  );
  const texts = cells.map((cell) => cell.text).filter((text) => text !== '');
  const found = texts.join(', ').slice(0, 200);
  let missing = false;
  for (const alternatives of neededColumns[entry.kind]) {
    if (alternatives.some((columns) => columns.every((column) => names.has(column)))) continue;
    missing = true;
    if (alternatives.flat().some((column) => suspected.has(column))) continue;
    const column = alternatives.map((columns) => columns.join(' with ')).join(', or ');
    findings.error('CSV_COLUMN_MISSING', { column, found }, { file: entry.file, row: line });
  }
  return missing;
}
