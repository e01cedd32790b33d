/** Readings files with every planned row and no reading. All cells are made by the program; no text that a person typed gets into them. */
import { stringify } from 'csv-stringify/sync';
import { columns, columnsOf, neededColumns, type Kind } from '../../survey/job/columns.js';
import type { OffsetRow, SlopeRow, SpanRow } from './planned-rows.js';

export const offsetCsv = (rows: readonly OffsetRow[]): string => csv('offset', rows);
export const slopeCsv = (rows: readonly SlopeRow[]): string => csv('slope', rows);
export const spanCsv = (rows: readonly SpanRow[]): string => csv('span', rows);

function csv(kind: Kind, rows: readonly object[]): string {
  const needed = neededColumns[kind].flatMap((group) => (group.length === 1 ? group[0]! : []));
  const header = columnsOf[kind].filter((name) => columns[name].isPlanned === true || needed.includes(name));
  const cell = (row: object, name: string) => String((row as Record<string, unknown>)[name] ?? '');
  return stringify([header, ...rows.map((row) => header.map((name) => cell(row, name)))]);
}
