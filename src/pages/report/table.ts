/** The form of every table in the report: texts and flags, in the order of the page. */
import { withSigns } from './sentence.js';

export interface Cell {
  readonly text: string;
  /** A second, quieter line. */
  readonly detail: string;
  /** The same in the second unit. */
  readonly also: string;
  /** A plain shape before the text. */
  readonly mark: string;
  readonly css: string;
  /** true: the name of the row, not a figure. */
  readonly header: boolean;
}

export interface HeadCell {
  readonly text: string;
  readonly unit: string;
  /** Meaning of the second line of the cells. */
  readonly detail: string;
  readonly css: string;
}

/** A column of a table: its heading, and its cell for each item. */
export type Column<T> = readonly [head: HeadCell, cellOf: (item: T) => Cell];
/** Columns from left to right; false: a column that this table does not have. */
export type Columns<T> = readonly (Column<T> | false)[];

/** Items below a heading; title '': no heading row. */
export interface Group<T> {
  readonly title: string;
  readonly items: readonly T[];
}

export type Table = ReturnType<typeof table>;

/** A label and its text. */
export interface Fact {
  readonly label: string;
  readonly text: string;
  /** true: in a weaker colour, as 'not recorded'. */
  readonly quiet: boolean;
}

export const cell = (text: string, more: Partial<Omit<Cell, 'text'>> = {}): Cell => ({
  text,
  detail: '',
  also: '',
  mark: '',
  css: '',
  header: false,
  ...more,
});

/** A figure: aligned at the right, never broken. */
export const figure = (text: string, more: Partial<Omit<Cell, 'text'>> = {}): Cell =>
  cell(text, { ...more, css: `number ${more.css ?? ''}`.trim() });

export const rowHeader = (text: string, more: Partial<Omit<Cell, 'text'>> = {}): Cell =>
  cell(text, { ...more, header: true });

export const head = (text: string, more: Partial<Omit<HeadCell, 'text'>> = {}): HeadCell => ({
  text,
  unit: '',
  detail: '',
  css: '',
  ...more,
});

export const figureHead = (text: string, unit = '', more: Partial<Omit<HeadCell, 'text'>> = {}): HeadCell =>
  head(text, { ...more, unit, css: `number ${more.css ?? ''}`.trim() });

/** A list without headings. */
export const plain = <T>(items: readonly T[]): readonly Group<T>[] => [{ title: '', items }];

/** Greatest number of rows of a table that is kept on one page. */
const SHORT_TABLE = 12;
/** Least number of rows of a table in two columns. */
const FEWEST_IN_COLUMNS = 8;

interface TableStyle<T> {
  readonly css?: string;
  readonly rowCss?: (item: T) => string;
  /** Continuous text below the table. */
  readonly notes?: readonly string[];
  /** true: a narrow table in two columns. */
  readonly inColumns?: boolean;
  /** true: even a short table may be divided between two pages. */
  readonly mayBreak?: boolean;
}

export function table<T>(
  caption: string,
  columns: Columns<T>,
  groups: readonly Group<T>[],
  { css = '', rowCss = () => '', notes = [], inColumns = false, mayBreak = false }: TableStyle<T> = {},
) {
  const shown = columns.filter((one) => one !== false);
  const count = groups.reduce((sum, { items }) => sum + items.length, 0);
  return {
    css,
    /** Class of the box around it. */
    wrap: [
      ...(inColumns && count > FEWEST_IN_COLUMNS ? ['in-columns'] : []),
      ...(count <= SHORT_TABLE && !mayBreak ? ['short'] : []),
    ].join(' '),
    caption,
    /** Number of columns, for rows that span them all. */
    span: shown.length,
    head: shown.map(([heading]) => heading),
    groups: groups
      .filter(({ items }) => items.length > 0)
      .map(({ title, items }) => ({
        title,
        rows: items.map((item) => ({ css: rowCss(item), cells: shown.map(([, cellOf]) => cellOf(item)) })),
      })),
    notes: notes.map(withSigns),
  };
}

/** null: there are no rows. */
export const tableIfAny = <T>(
  ...[caption, columns, groups, style]: Parameters<typeof table<T>>
): Table | null =>
  groups.some(({ items }) => items.length > 0) ? table(caption, columns, groups, style) : null;

export const fact = (label: string, text: string | null, notRecorded: string): Fact =>
  text === null || text.trim() === ''
    ? { label, text: notRecorded, quiet: true }
    : { label, text, quiet: false };
