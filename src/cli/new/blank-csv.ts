/** Readings files with every planned row and no reading. All cells are ours: no text of a person gets into them. */
import { stringify } from 'csv-stringify/sync';
import type { OffsetRow, SpanRow } from './planned-rows.js';

const OFFSET = 'setup,rail,station,monument,target,pass,time,vertical,horizontal,along,use,note'.split(',');
const SPAN = 'rail,other,station,span,pass,time,use,note'.split(',');

export const offsetCsv = (rows: readonly OffsetRow[]): string =>
  csv(
    OFFSET,
    rows.map(({ setup, rail, station, monument, target, pass, note }) => ({
      setup,
      rail,
      station,
      monument,
      target,
      pass,
      note,
    })),
  );

export const spanCsv = (rows: readonly SpanRow[]): string =>
  csv(
    SPAN,
    rows.map(({ rail, other, station, pass }) => ({ rail, other, station, pass })),
  );

type Cell = string | number | null;

function csv(header: readonly string[], rows: readonly Readonly<Record<string, Cell>>[]): string {
  return stringify([header, ...rows.map((row) => header.map((column) => String(row[column] ?? '')))]);
}
