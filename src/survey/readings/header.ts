/** The header of a readings file: which column is where, in which unit, and how many readings rows each row of the file gives. */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import { nearest } from '../../base/diagnostics/nearest.js';
import type { MappedRow } from '../job/job.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import { familyOf, isKnownUnit, unitNames } from '../../base/units/units.js';
import {
  columnNamed,
  columnsOf,
  isPosition,
  isReading,
  isStation,
  neededColumns,
  readHeaderCell,
  type HeaderCell,
  type Kind,
} from '../job/columns.js';
import { findHeader, type FoundHeader } from './find-header.js';
import type { Column, Header, Layout } from './layout.js';
import { findMapped, HeaderIndex } from './mapped-columns.js';
import { trailingUnit, unitWord } from '../../base/units/unit-words.js';

const UNMAPPED: readonly MappedRow[] = [{ columns: new Map(), values: new Map() }];

/**
 * @param text With LF line ends.
 * @returns null: no row can be read, because there is no header, or a column that every row needs is missing. After other
 *   findings about columns the header can be used for the correct columns.
 */
export function readHeader(text: string, entry: FileEntry, findings: Findings): Header | null {
  const found = findHeader(text, entry, findings);
  if (found === null) return null;
  const { delimiter, line, body, titleLines } = found;
  const cells = found.cells.map(readHeaderCell);
  const rows = entry.mapping?.rows ?? UNMAPPED;
  const index = new HeaderIndex(cells);
  const mapped = rows.map((row) => findMapped(row, index, found, entry, findings));
  const taken = takenColumns(index, entry);
  const own = nameColumns(index, taken, found, entry, findings);
  const layouts = mapped.map(({ columns, values }) => ({
    columns: new Map([...own, ...withUnits(columns, cells, found, entry, findings)]),
    values,
  }));
  const isOverruled = reportOverruled(own, rows, found, entry, findings);
  let sound = !isOverruled && mapped.every(({ complete }) => complete);
  for (const [i, layout] of layouts.entries()) {
    reportClash(layout, found, entry, findings);
    if (reportMissing(layout, mapped[i]!.wanted, cells, taken, found, entry, findings)) sound = false;
  }
  return sound ? { delimiter, line, body, titleLines, cells, layouts } : null;
}

/** The columns that the entry names, to be read or left out. */
function takenColumns(index: HeaderIndex, { mapping }: FileEntry): Set<number> {
  const mapped = (mapping?.rows ?? []).flatMap(({ columns }) => [...columns.values()]);
  const taken = new Set((mapping?.ignore ?? []).flatMap((header) => index.all(header)));
  for (const { header, nth } of mapped) {
    const all = index.all(header);
    for (const i of nth === null ? all : all.slice(nth - 1, nth)) taken.add(i);
  }
  return taken;
}

/** The columns that have our names. Reports: CSV_COLUMN_UNKNOWN, CSV_COLUMN_DUPLICATE, UNIT_UNKNOWN, CSV_UNIT_CLASH. */
function nameColumns(
  { cells, names }: HeaderIndex,
  taken: ReadonlySet<number>,
  { line }: FoundHeader,
  entry: FileEntry,
  findings: Findings,
): Map<string, Column> {
  const columns = new Map<string, Column>();
  for (const [index, cell] of cells.entries()) {
    if (cell.key === '' || taken.has(index)) continue;
    const place = { file: entry.file, row: line, column: names[index]! };
    const name = columnNamed(entry.kind, cell);
    if (name === undefined) {
      const data = {
        column: cell.text,
        nearest: nearestUnused(cell, cells, entry.kind),
        wanted: columnsOf[entry.kind].join(', '),
      };
      findings.error('CSV_COLUMN_UNKNOWN', data, place);
    } else if (columns.has(name)) {
      findings.error('CSV_COLUMN_DUPLICATE', { column: name }, { ...place, column: cell.text });
    } else {
      const unit = headerUnit(name, cell, entry, place, findings);
      columns.set(name, { index, text: cell.text, unit, words: new Map() });
    }
  }
  return columns;
}

/** The column that an unknown name may mean, among those that the header does not have. */
function nearestUnused(cell: HeaderCell, cells: readonly HeaderCell[], kind: Kind): string {
  const used = new Set(cells.map((other) => columnNamed(kind, other)));
  return nearest(
    cell.text.replace(/\s*[([].*$/, ''),
    columnsOf[kind].filter((column) => !used.has(column)),
  );
}

/**
 * Mapped columns with the units of their headers, if the mapping states none. If a header seems to give
 * a unit which is not certain, nothing is guessed. Reports: UNIT_UNKNOWN, CSV_UNIT_CLASH.
 */
function withUnits(
  columns: ReadonlyMap<string, Column>,
  cells: readonly HeaderCell[],
  { line }: FoundHeader,
  entry: FileEntry,
  findings: Findings,
): [string, Column][] {
  return [...columns].map(([name, column]) => {
    if (column.unit !== null || !(isReading(name) || isPosition(name))) return [name, column];
    const cell = cells[column.index]!;
    const place = { file: entry.file, row: line, column: column.text };
    const family = name === 'slope' ? 'slope' : 'length';
    const said = cell.bracket === '' ? null : (cell.bracket ?? trailingUnit(cell.text));
    const isEntryUnit = said !== null && isReading(name) && unitWord(said) === entry.unit;
    if (said !== null && cell.unit === null && !isEntryUnit) {
      const wanted = `the unit next to the column in job.json, as { "column": ${JSON.stringify(cell.text)}, "unit": ${JSON.stringify(unitNames(family)[1])} }, because the header seems to give one`;
      findings.error('UNIT_UNKNOWN', { found: said, wanted }, place);
      return [name, column];
    }
    return [
      name,
      cell.unit === null ? column : { ...column, unit: headerUnit(name, cell, entry, place, findings) },
    ];
  });
}

/** A unit in brackets is used if it fits the column and does not contradict the job's entry for the file. */
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

/**
 * A column that has our name although job.json takes the same from elsewhere: only a person knows which of the two is right.
 * Reports: CSV_COLUMN_OVERRULED.
 */
function reportOverruled(
  own: ReadonlyMap<string, Column>,
  rows: readonly MappedRow[],
  { line }: FoundHeader,
  entry: FileEntry,
  findings: Findings,
): boolean {
  let isOverruled = false;
  for (const [name, { text }] of own) {
    const row = rows.find(({ columns, values }) => columns.has(name) || values.has(name));
    if (row === undefined) continue;
    const place = { file: entry.file, row: line, column: text };
    const instead = row.columns.get(name)?.header ?? row.values.get(name)!.text;
    findings.error('CSV_COLUMN_OVERRULED', { column: text, name, instead }, place);
    isOverruled = true;
  }
  return isOverruled;
}

const isSaid = ({ columns, values }: Layout, name: string): boolean => columns.has(name) || values.has(name);

/** Readings are in a column for each axis, or in `axis` and `reading`. Reports: CSV_COLUMNS_CLASH. */
function reportClash(layout: Layout, { line }: FoundHeader, entry: FileEntry, findings: Findings): void {
  const wide = ['vertical', 'horizontal', 'along'].find((column) => isSaid(layout, column));
  const long = ['axis', 'reading'].find((column) => isSaid(layout, column));
  if (entry.kind !== 'offset' || wide === undefined || long === undefined) return;
  const place = { file: entry.file, row: line, column: layout.columns.get(long)?.text ?? long };
  findings.error('CSV_COLUMNS_CLASH', { one: wide, other: long }, place);
}

/**
 * @returns true: a column is missing that every row needs. Reports: CSV_COLUMN_MISSING, unless an unknown column was reported
 * that is similar to the missing one.
 */
function reportMissing(
  layout: Layout,
  mapped: ReadonlySet<string>,
  cells: readonly HeaderCell[],
  taken: ReadonlySet<number>,
  { line }: FoundHeader,
  entry: FileEntry,
  findings: Findings,
): boolean {
  const own = cells.map((cell, i) => (taken.has(i) ? undefined : columnNamed(entry.kind, cell)));
  const isThere = (name: string) =>
    isSaid(layout, name) || mapped.has(name) || own.some((known) => known === name);
  const suspected = new Set(
    cells
      .filter((cell, i) => cell.key !== '' && own[i] === undefined && !taken.has(i))
      .map((cell) => nearestUnused(cell, cells, entry.kind)),
  );
  const texts = cells.map((cell) => cell.text).filter((text) => text !== '');
  const found = texts.join(', ').slice(0, 200);
  let missing = false;
  for (const alternatives of neededColumns[entry.kind]) {
    if (alternatives.some((columns) => columns.every(isThere))) continue;
    missing = true;
    if (alternatives.flat().some((column) => suspected.has(column))) continue;
    const column = alternatives.map((columns) => columns.join(' with ')).join(', or ');
    findings.error('CSV_COLUMN_MISSING', { column, found }, { file: entry.file, row: line });
  }
  return missing;
}
