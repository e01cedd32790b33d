/**
 * How a file with other columns than ours is read as a readings file: some keys of its entry in job.json.
 *
 *   "columns": { "station": "Stn No.", "note": "Remarks" }            our column: the file's own header
 *   "values":  { "setup": "S1", "axis": "vertical" }                  values that the file does not have
 *   "rows":    [ { "columns": { "reading": "A P1" }, "values": { "rail": "A", "pass": "1" } },
 *                { "columns": { "reading": "A P2" }, "values": { "rail": "A", "pass": "2" } } ]
 *   "ignore":  ["Operator", "Battery"]                                columns without readings
 *   "ignoreRows": ["Mean", "Checked by"]                              rows without readings, by their first text
 *
 * With `rows`, each row of the sheet is read once for each of them: a column for each pass, rail or plane. What a row
 * says replaces what the entry says. A header is written as it is in the file; if it needs more, as
 * { "column": "A V (mils)", "unit": "thou", "nth": 2, "words": { "V": "vertical" } }.
 * Columns that have our names need no mapping. A column that is neither known, mapped nor ignored is an error, because
 * readings could be lost without notice.
 */
import * as z from 'zod';
import { columnNames, columns as ourColumns, type ColumnName } from './columns.js';
import { lengthUnits, slopeUnits } from '../../base/units/units.js';

/** Our columns, and `date` for files that have day and time in separate columns. */
export type MappedName = ColumnName | 'date';
export const mappedNames: readonly MappedName[] = [...columnNames, 'date'];

const header = z.string().regex(/\S/, 'the text of a header').max(500);
const cell = z.string().max(500);

const columnSchema = z.union([
  header,
  z.strictObject({
    column: header.describe('The header as it is in the file.'),
    nth: z
      .int()
      .min(1)
      .max(100_000)
      .optional()
      .describe('Which of several columns with this header, from the left.'),
    unit: z
      .enum([...lengthUnits, ...slopeUnits])
      .optional()
      .describe('Unit of the column, if its header does not state it or states it in other words.'),
    words: z.record(cell, cell).optional().describe('What the cells say, in our words: { "V": "vertical" }.'),
  }),
]);
export type MappedColumnInput = z.infer<typeof columnSchema>;

const meaningOf = (name: MappedName): string =>
  name === 'date' ? 'Day of the reading, if the file has day and time apart.' : ourColumns[name].meaning;

/** An object that may have each of our columns as a key, and no other. */
const forEachColumn = <S extends z.ZodType>(schema: S) =>
  z.strictObject(
    Object.fromEntries(
      mappedNames.map((name) => [name, schema.optional().describe(meaningOf(name))]),
    ) as Record<MappedName, z.ZodOptional<S>>,
  );

const columns = forEachColumn(columnSchema).describe('Our column: the header of the file, as it is there.');
const values = forEachColumn(cell).describe(
  'Values that hold for the whole file and are in no column of it.',
);

export const mappingKeys = {
  columns: columns.optional(),
  values: values.optional(),
  rows: z
    .array(z.strictObject({ columns, values: values.optional() }))
    .min(1)
    .max(200)
    .optional()
    .describe('A wide sheet: each of its rows is read once for each of these.'),
  ignore: z.array(header).max(1000).optional().describe('Headers of columns that are left out on purpose.'),
  ignoreRows: z
    .array(header)
    .max(100)
    .optional()
    .describe('Rows without readings (sums, signatures), by their first text.'),
  dates: z
    .enum(['day-month', 'month-day'])
    .optional()
    .describe('The order of dates such as 03/04/2026; without it only 2026-04-03 is read.'),
};
export type MappedColumnsInput = z.infer<typeof columns>;
export type FixedValuesInput = z.infer<typeof values>;
