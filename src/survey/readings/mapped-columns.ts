/** Finds the columns of a foreign file that its entry in job.json names by their headers. */
import { addTo } from '../../base/lists.js';
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import { nearest } from '../../base/diagnostics/nearest.js';
import type { MappedColumn, MappedRow } from '../job/job.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import { normalHeader, type HeaderCell } from '../job/columns.js';
import type { FoundHeader } from './find-header.js';
import type { Column, Layout } from './layout.js';

/** The header cells by their text. */
export class HeaderIndex {
  private readonly exact = new Map<string, number[]>();
  private readonly normal = new Map<string, number[]>();

  /** Names in messages. */
  readonly names: readonly string[];

  constructor(readonly cells: readonly HeaderCell[]) {
    this.names = headerNames(cells);
    for (const [i, { text }] of cells.entries()) {
      if (text === '') continue;
      addTo(this.exact, text, i);
      addTo(this.normal, normalHeader(text), i);
    }
  }

  /** Indices of the columns with this header, from the left: the same text, else the same without regard to case and blanks. */
  all(header: string): readonly number[] {
    return this.exact.get(header.trim()) ?? this.normal.get(normalHeader(header)) ?? [];
  }

  nearest(header: string): string {
    return nearest(
      header,
      this.cells.slice(0, 200).map(({ text }) => text),
    );
  }
}

/** Names of header cells in messages: the second of two equal ones is `V #2`. */
export function headerNames(cells: readonly HeaderCell[]): string[] {
  const seen = new Map<string, number>();
  return cells.map(({ text }) => {
    const nth = (seen.get(text) ?? 0) + 1;
    seen.set(text, nth);
    return nth === 1 || text === '' ? text : `${text} #${nth}`;
  });
}

/** The columns of one entry of the mapping's `rows`; `complete` false: a column was not found. */
export interface FoundRow extends Layout {
  /** Our columns that the mapping takes from a column, found or not. */
  readonly wanted: ReadonlySet<string>;
  readonly complete: boolean;
}

/** Reports: CSV_MAPPED_MISSING with the nearest header; CSV_MAPPED_UNCLEAR if several have the name. */
export function findMapped(
  row: MappedRow,
  index: HeaderIndex,
  found: FoundHeader,
  entry: FileEntry,
  findings: Findings,
): FoundRow {
  const columns = new Map<string, Column>();
  for (const [name, mapped] of row.columns) {
    const at = findColumn(name, mapped, index, found, entry, findings);
    if (at !== null)
      columns.set(name, { index: at, text: index.names[at]!, unit: mapped.unit, words: mapped.words });
  }
  const complete = columns.size === row.columns.size;
  return { columns, values: row.values, wanted: new Set(row.columns.keys()), complete };
}

function findColumn(
  name: string,
  { header, nth }: MappedColumn,
  index: HeaderIndex,
  { line }: FoundHeader,
  entry: FileEntry,
  findings: Findings,
): number | null {
  const all = index.all(header);
  const place = { file: entry.file, row: line, column: header.trim() };
  if (all.length > 1 && nth === null) {
    findings.error('CSV_MAPPED_UNCLEAR', { header, count: all.length }, place);
    return null;
  }
  const at = all[(nth ?? 1) - 1];
  if (at !== undefined) return at;
  if (all.length > 0) findings.error('CSV_MAPPED_UNCLEAR', { header, count: all.length }, place);
  else {
    const texts = index.cells.map(({ text }) => text).filter((text) => text !== '');
    const data = { name, header, nearest: index.nearest(header), found: texts.join(', ').slice(0, 200) };
    findings.error('CSV_MAPPED_MISSING', data, place);
  }
  return null;
}
