/** The columns that each kind of readings file may have, and how header cells name them. */
import { unitWord } from '../../base/units/unit-words.js';

/** Kinds of readings files. */
export type Kind = 'offset' | 'slope' | 'span';

const READINGS: readonly string[] = ['vertical', 'horizontal', 'along', 'reading', 'slope', 'span'];
const STATIONS: readonly string[] = ['station', 'from_station', 'to_station'];
const POSITIONS: readonly string[] = ['position', 'from_position', 'to_position'];
const NUMBERS: ReadonlySet<string> = new Set([...READINGS, ...POSITIONS, ...STATIONS]);

const OFFSET = [
  'setup',
  'rail',
  'station',
  'position',
  'monument',
  'target',
  'pass',
  'placing',
  'time',
  'vertical',
  'horizontal',
  'along',
  'axis',
  'reading',
  'check',
  'use',
  'note',
] as const;
const SLOPE = [
  'from_rail',
  'from_station',
  'from_position',
  'to_rail',
  'to_station',
  'to_position',
  'axis',
  'slope',
  'pass',
  'time',
  'use',
  'note',
] as const;
const SPAN = ['rail', 'other', 'station', 'position', 'span', 'pass', 'time', 'use', 'note'] as const;

/** The name of a column of some kind of readings file. */
export type ColumnName = (typeof OFFSET)[number] | (typeof SLOPE)[number] | (typeof SPAN)[number];
export const columnNames = [...new Set([...OFFSET, ...SLOPE, ...SPAN])] as readonly ColumnName[];

/** Every column that a kind may have, in its usual order. */
export const columnsOf: Readonly<Record<Kind, readonly string[]>> = {
  offset: OFFSET,
  slope: SLOPE,
  span: SPAN,
};

/** Groups of alternatives: a file of the kind needs at least one alternative of each group, with all its columns. */
export const neededColumns: Readonly<Record<Kind, readonly (readonly (readonly string[])[])[]>> = {
  offset: [
    [['setup']],
    [['rail', 'station'], ['rail', 'position'], ['monument']],
    [['vertical'], ['horizontal'], ['along'], ['axis', 'reading']],
  ],
  slope: [
    [['from_rail']],
    [['from_station'], ['from_position']],
    [['to_rail']],
    [['to_station'], ['to_position']],
    [['axis']],
    [['slope']],
  ],
  span: [[['rail']], [['other']], [['station'], ['position']], [['span']]],
};

export const isNumeric = (column: string): boolean => NUMBERS.has(column);
export const isReading = (column: string): boolean => READINGS.includes(column);
export const isStation = (column: string): boolean => STATIONS.includes(column);
export const isPosition = (column: string): boolean => POSITIONS.includes(column);

export interface HeaderCell {
  /** As it is in the file. */
  readonly text: string;
  /** Letters and digits of the name, lower case: `From Station` and `from_station` are one. */
  readonly key: string;
  /** The text in brackets after the name, as in `Reading (thou)`; null: none. */
  readonly bracket: string | null;
  /** `bracket` as a unit of job files; null: it is no unit. */
  readonly unit: string | null;
}

/**
 * A header in the form in which it is compared with job.json: spaces, line breaks, the two signs for µ and upper or
 * lower case make no difference.
 */
export const normalHeader = (text: string): string =>
  text.normalize('NFKC').replace(/\s+/gu, ' ').trim().toLowerCase();

const keyOf = (name: string): string => name.toLowerCase().replace(/[\s_-]+/g, '');

/** "vertical (thou)": a name, and a unit in brackets. */
export function readHeaderCell(cell: string): HeaderCell {
  const text = cell.trim();
  const match = /^(.*?)\s*[([]\s*([^()[\]]*?)\s*[)\]]$/.exec(text);
  const bracket = match?.[2] ?? null;
  return {
    text,
    key: keyOf(match?.[1] ?? text),
    bracket,
    unit: bracket === null ? null : (unitWord(bracket) ?? null),
  };
}

const byKey = (columns: readonly string[]): ReadonlyMap<string, string> =>
  new Map(columns.map((column) => [keyOf(column), column]));
const columnByKey: Readonly<Record<Kind, ReadonlyMap<string, string>>> = {
  offset: byKey(OFFSET),
  slope: byKey(SLOPE),
  span: byKey(SPAN),
};

/** The kind's column that a header cell names; undefined: none. */
export const columnNamed = (kind: Kind, cell: HeaderCell): string | undefined =>
  columnByKey[kind].get(cell.key);
