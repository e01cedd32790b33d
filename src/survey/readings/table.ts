/**
 * A readings file as a table: encoding, delimiter, header, decimal mark and row lengths are determined, so that the
 * kinds (offset.ts, slope.ts, span.ts) see nothing but named cells.
 */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import { decodeText } from '../../base/input/decode.js';
import { decimalStyle, MarkCensus } from './decimal-style.js';
import { isNumeric } from '../job/columns.js';
import { readHeader } from './header.js';
import { textOf, type Header, type Layout } from './layout.js';
import type { NumberStyle } from './number.js';
import { MAX_RECORD, recordsOf, unifyLineEnds, type CsvRecord, type RecordProblem } from './records.js';
import { lengthProblem, RowLengths } from './row-lengths.js';
import { isBelowReadings, isNamed, labelOf } from './rows-below.js';
import { TableDoubts } from './table-doubts.js';
import { DateCensus, type DateOrder } from '../../base/input/time.js';
import { readUse } from '../../base/input/use.js';

/** Rows of all readings files of a job together, a wide row for each that it is read as; more are refused. */
export const MAX_ROWS = 1_000_000;

export interface Table {
  readonly file: string;
  /** Each row of the file is read once for each of these. */
  readonly layouts: readonly Layout[];
  readonly dates: 'day-month' | 'month-day' | null;
  readonly style: NumberStyle;
  /** What was detected, for people: `UTF-8, comma, decimal point`. */
  readonly read: string;
  readonly rowCount: number;
  /** Rows with anything in them and of the right length, in the order of the file. */
  readonly rows: () => Iterable<CsvRecord>;
}

const DELIMITER_NAMES: Readonly<Record<string, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'bar',
};

/**
 * Two passes over the text, so that no row is kept: the first determines what the whole file must show (decimal
 * mark, row lengths, quotes), the second gives out the rows.
 *
 * @param rowsLeft How many rows the job may still have.
 * @returns null when the file cannot be read at all. Other findings (a quote, a row's length) leave the other
 *   rows readable.
 */
export function readTable(
  bytes: Uint8Array,
  entry: FileEntry,
  findings: Findings,
  rowsLeft = MAX_ROWS,
): Table | null {
  const decoded = decodeText(bytes, entry.file);
  findings.list.push(...decoded.diagnostics);
  if (!decoded.ok) return null;
  const text = unifyLineEnds(decoded.value.text);
  const header = readHeader(text, entry, findings);
  if (header === null) return null;
  const survey = surveyRows(text, header, entry, rowsLeft, findings);
  if (survey === null) return null;
  const { style, lengths, rowCount, headers, shownDates } = survey;
  const dates = entry.mapping?.dates ?? shownDates;
  return {
    file: entry.file,
    layouts: header.layouts,
    dates,
    style,
    rowCount,
    read: describe(decoded.value.encoding, header, entry, style, shownDates),
    rows: () => soundRows(text, header, lengths, headers),
  };
}

const isBlank = (cells: readonly string[]): boolean => cells.every((cell) => cell.trim() === '');

interface Survey {
  readonly style: NumberStyle;
  readonly lengths: RowLengths;
  readonly rowCount: number;
  /** The order of day and month that the file's own dates show. */
  readonly shownDates: DateOrder | null;
  /** Lines of further headers, sums and signatures, which have been reported. */
  readonly headers: ReadonlySet<number>;
}

/**
 * Reports: CSV_NO_ROWS; CSV_TOO_MANY_ROWS; CSV_QUOTE_OPEN, CSV_QUOTE_STRAY, CSV_LINE_TOO_LONG and
 * CSV_ROW_LENGTH at their lines; CSV_CELL_UNNAMED for a cell under no column name.
 */
function surveyRows(
  text: string,
  header: Header,
  entry: FileEntry,
  rowsLeft: number,
  findings: Findings,
): Survey | null {
  const file = entry.file;
  const lengths = new RowLengths(header);
  const census = new MarkCensus();
  const dates = new DateCensus();
  const dateCells = ['time', 'date'].flatMap((name) => header.layouts[0]?.columns.get(name) ?? []);
  const numbers = numberCells(header.layouts);
  const doubts = new TableDoubts(header, entry, findings);
  const headers = new Set<number>();
  let rows = 0;
  let problems = 0;
  const report = (problem: RecordProblem) => {
    problems++;
    reportProblem(problem, file, findings);
  };
  const labels = entry.mapping?.ignoreRows ?? [];
  const ignored: CsvRecord[] = [];
  const below: CsvRecord[] = [];
  for (const record of recordsOf(text, header.delimiter, header.body, report)) {
    if (isBlank(record.cells)) continue;
    const isIgnored = isNamed(record.cells, labels);
    if (isIgnored || isBelowReadings(record.cells)) {
      (isIgnored ? ignored : below).push(record);
      headers.add(record.line);
      continue;
    }
    if (!doubts.add(record)) {
      headers.add(record.line);
      continue;
    }
    rows += header.layouts.length;
    if (rows > rowsLeft) {
      findings.error('CSV_TOO_MANY_ROWS', { limit: MAX_ROWS }, { file, row: record.line });
      return null;
    }
    lengths.add(record);
    reportUnnamed(record, header, file, findings);
    for (const column of dateCells) dates.add(textOf(record.cells, column));
    for (const { isUsed, numeric } of numbers) {
      if (!isUsed(record.cells)) continue;
      for (const index of numeric) census.add(record.cells[index] ?? '');
    }
  }
  doubts.finish();
  reportBelow(below, ignored, file, findings);
  if (rows === 0 && problems === 0) findings.error('CSV_NO_ROWS', {}, { file, row: header.line });
  for (const { line, cells } of lengths.odd) {
    if (lengths.accepts(line)) continue;
    findings.error('CSV_ROW_LENGTH', { cells, columns: header.cells.length }, { file, row: line });
  }
  return {
    style: decimalStyle(census, header.delimiter, entry.decimal),
    lengths,
    rowCount: rows,
    headers,
    shownDates: dates.order,
  };
}

/** Reports: CSV_ROWS_BELOW; warns: CSV_ROWS_IGNORED. Each once. */
function reportBelow(
  below: readonly CsvRecord[],
  ignored: readonly CsvRecord[],
  file: string,
  findings: Findings,
): void {
  const labels = (records: readonly CsvRecord[]) => [...new Set(records.map(({ cells }) => labelOf(cells)))];
  if (below.length > 0) {
    const named = labels(below).slice(0, 10);
    const data = { count: below.length, first: named[0]!.slice(0, 60), key: JSON.stringify(named) };
    findings.error('CSV_ROWS_BELOW', data, { file, row: below[0]!.line });
  }
  if (ignored.length > 0) {
    const data = { count: ignored.length, labels: labels(ignored).join(', ').slice(0, 200) };
    findings.warn('CSV_ROWS_IGNORED', data, { file, row: ignored[0]!.line });
  }
}

interface NumberCells {
  readonly isUsed: (cells: readonly string[]) => boolean;
  readonly numeric: readonly number[];
}

/** The columns of numbers, each once, and which rows are left out and need hold none. */
function numberCells(layouts: readonly Layout[]): NumberCells[] {
  const seen = new Set<number>();
  return layouts.map(({ columns, values }) => {
    const indexes = [...columns].filter(([name]) => isNumeric(name)).map(([, column]) => column.index);
    const numeric = indexes.filter((index) => !seen.has(index));
    for (const index of numeric) seen.add(index);
    const use = columns.get('use');
    if (use === undefined) {
      const isUsed = readUse(values.get('use')?.text ?? '') !== false;
      return { isUsed: () => isUsed, numeric };
    }
    return { isUsed: (cells) => readUse(textOf(cells, use)) !== false, numeric };
  });
}

function* soundRows(
  text: string,
  header: Header,
  lengths: RowLengths,
  headers: ReadonlySet<number>,
): Generator<CsvRecord> {
  for (const record of recordsOf(text, header.delimiter, header.body, () => undefined)) {
    if (isBlank(record.cells) || headers.has(record.line)) continue;
    if (lengthProblem(record, header) === null || lengths.accepts(record.line)) yield record;
  }
}

function reportProblem(problem: RecordProblem, file: string, findings: Findings): void {
  const place = { file, row: problem.line };
  switch (problem.kind) {
    case 'quote-open':
      return findings.error('CSV_QUOTE_OPEN', {}, place);
    case 'quote-stray':
      return findings.error('CSV_QUOTE_STRAY', { found: problem.found }, place);
    case 'too-long':
      return findings.error(
        'CSV_LINE_TOO_LONG',
        { characters: problem.characters, limit: MAX_RECORD },
        place,
      );
  }
}

/** A column without a name is the rest of a spreadsheet's empty columns, as long as it is empty. */
function reportUnnamed(record: CsvRecord, header: Header, file: string, findings: Findings): void {
  const shared = Math.min(record.cells.length, header.cells.length);
  for (let i = 0; i < shared; i++) {
    if (header.cells[i]!.text !== '' || record.cells[i]!.trim() === '') continue;
    const data = { found: record.cells[i]!.trim().slice(0, 60), number: i + 1 };
    findings.error('CSV_CELL_UNNAMED', data, { file, row: record.line });
  }
}

function describe(
  encoding: string,
  header: Header,
  { mapping }: FileEntry,
  style: NumberStyle,
  shownDates: DateOrder | null,
): string {
  const decimal =
    style.decimal === null ? 'no decimals' : style.decimal === '.' ? 'decimal point' : 'decimal comma';
  const parts = [encoding, DELIMITER_NAMES[header.delimiter] ?? header.delimiter, decimal];
  if (shownDates !== null && (mapping?.dates ?? null) === null) parts.push(`dates ${shownDates}`);
  if (header.titleLines > 0) {
    parts.push(`${header.titleLines} ${header.titleLines === 1 ? 'line' : 'lines'} above the header`);
  }
  if ((mapping ?? null) !== null) parts.push('columns as job.json maps them');
  const { layouts } = header;
  if (layouts.length > 1) parts.push(`each row read as ${layouts.length}`);
  const units = layouts.flatMap(({ columns }) =>
    [...columns].flatMap(([name, { unit }]) => (unit === null ? [] : [`${name} in ${unit}`])),
  );
  return [...parts, ...new Set(units)].join(', ');
}
