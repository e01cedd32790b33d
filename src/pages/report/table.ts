/** The shape of every table in the report: texts and flags, in the order in which they are placed. */
import { withSigns } from './sentence.js';

export interface Cell {
  readonly text: string;
  /** A second, quieter line. */
  readonly detail: string;
  /** A plain shape before the text. */
  readonly mark: string;
  readonly css: string;
  /** The row's name rather than a figure. */
  readonly header: boolean;
}

export interface HeadCell {
  readonly text: string;
  readonly unit: string;
  /** What the second, quieter line of the cells says. */
  readonly detail: string;
  readonly css: string;
  readonly colspan: number;
  readonly rowspan: number;
  readonly scope: 'col' | 'colgroup';
}

export interface Row {
  readonly css: string;
  readonly cells: readonly Cell[];
}

export interface Group {
  /** Empty: no heading row. */
  readonly title: string;
  readonly rows: readonly Row[];
}

export interface Table {
  readonly css: string;
  /** Of the box about it: short tables are kept on one page, narrow ones run in two columns. */
  readonly wrap: string;
  readonly caption: string;
  /** Columns across, for rows that span them all. */
  readonly span: number;
  readonly head: readonly (readonly HeadCell[])[];
  readonly groups: readonly Group[];
  /** In one running text. */
  readonly notes: readonly string[];
  /** Each on a line of its own, below the notes. */
  readonly list: readonly string[];
}

/** A label and what stands beside it. */
export interface Fact {
  readonly label: string;
  readonly text: string;
  /** Set back: 'not recorded'. */
  readonly quiet: boolean;
}

export const cell = (text: string, more: Partial<Omit<Cell, 'text'>> = {}): Cell => ({
  text,
  detail: '',
  mark: '',
  css: '',
  header: false,
  ...more,
});

/** A figure: flush right, never broken. */
export const figure = (text: string, more: Partial<Omit<Cell, 'text'>> = {}): Cell =>
  cell(text, { ...more, css: `number ${more.css ?? ''}`.trim() });

export const rowHeader = (text: string, more: Partial<Omit<Cell, 'text'>> = {}): Cell =>
  cell(text, { ...more, header: true });

export const row = (cells: readonly Cell[], css = ''): Row => ({ css, cells });

export const head = (text: string, more: Partial<Omit<HeadCell, 'text'>> = {}): HeadCell => ({
  text,
  unit: '',
  detail: '',
  css: '',
  colspan: 1,
  rowspan: 1,
  scope: (more.colspan ?? 1) > 1 ? 'colgroup' : 'col',
  ...more,
});

export const figureHead = (text: string, unit = '', more: Partial<Omit<HeadCell, 'text'>> = {}): HeadCell =>
  head(text, { ...more, unit, css: `number ${more.css ?? ''}`.trim() });

/** Up to so many rows a table is kept together. */
const SHORT_TABLE = 12;
/** Two columns of fewer rows than these look scattered. */
const FEWEST_IN_COLUMNS = 8;

/** @throws {RangeError} a row that does not fill the columns of its head. */
export function table(
  caption: string,
  headRows: readonly (readonly HeadCell[])[],
  groups: readonly Group[],
  more: {
    css?: string;
    notes?: readonly string[];
    list?: readonly string[];
    columns?: boolean;
    mayBreak?: boolean;
  } = {},
): Table {
  const span = (headRows[0] ?? []).reduce((sum, h) => sum + h.colspan, 0);
  for (const { rows } of groups)
    for (const { cells } of rows)
      if (cells.length !== span)
        throw new RangeError(`${caption}: a row of ${cells.length} under ${span} columns`);
  const rows = groups.reduce((sum, group) => sum + group.rows.length, 0);
  const inColumns = more.columns && rows > FEWEST_IN_COLUMNS;
  const kept = rows <= SHORT_TABLE && !more.mayBreak;
  const wrap = [inColumns ? 'in-columns' : '', kept ? 'short' : ''].join(' ').trim();
  return {
    css: more.css ?? '',
    wrap,
    caption,
    span,
    head: headRows,
    groups,
    notes: (more.notes ?? []).map(withSigns),
    list: (more.list ?? []).map(withSigns),
  };
}

/** The longest text of each column, or its least width, added up: how much a table asks of the paper's width. */
export function charactersAcross(groups: readonly Group[], least: readonly number[] = []): number {
  const widths: number[] = [...least];
  for (const { rows } of groups)
    for (const { cells } of rows)
      cells.forEach(({ text }, i) => (widths[i] = Math.max(widths[i] ?? 0, text.length)));
  return widths.reduce((sum, width) => sum + width, 0);
}

export const fact = (label: string, text: string | null, notRecorded: string): Fact =>
  text === null || text.trim() === ''
    ? { label, text: notRecorded, quiet: true }
    : { label, text, quiet: false };
