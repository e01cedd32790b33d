/** What a section of the report is made from, and the numbers of its tables and figures. */
import type { Results } from '../../../results/results-schema.js';
import type { Brand } from '../../../survey/brand/read-brand.js';
import type { Words } from '../../words/words.js';
import type { Figures } from '../figures.js';
import type { SectionId } from '../section-list.js';
import type { Table } from '../table.js';
import type { JudgedRow } from './judged-rows.js';
import type { Picture, ReportChart } from './pictures.js';

/**
 * A section: its place in section-list.ts, its title `section.ID` in the catalogue, its template `partials/ID.hbs`, and what
 * the template places.
 */
export interface Section<View> {
  readonly id: SectionId;
  /** Classes of its element in the page. */
  readonly css: string;
  /** null: this report has no such section. Called in the order of printing. */
  readonly make: (parts: SectionParts) => View | null;
}

/** Characters that the report's font cannot draw, in one field. */
export interface Lacking {
  /** Key in job.json: "customer", "rails[0].name"; null: not from a field of the results, but from a brand, for example. */
  readonly field: string | null;
  readonly characters: readonly string[];
}

export interface SectionParts {
  readonly results: Results;
  readonly figures: Figures;
  readonly charts: readonly ReportChart[];
  readonly rows: readonly JudgedRow[];
  readonly lacking: readonly Lacking[];
  readonly brand: Brand | null;
  readonly number: Numbering;
}

/** Keeps the type of its view. */
export const section = <View>(described: Section<View>): Section<View> => described;

export type Numbering = ReturnType<typeof numbering>;

/** Tables and figures, numbered through the report. */
export function numbering({ say }: Words) {
  let [tables, figures] = [0, 0];
  const numbered = <T extends Table | null>(one: T): T =>
    one === null
      ? one
      : ({ ...one, caption: say('caption.table', { n: ++tables, caption: one.caption }) } as T);
  return {
    table: numbered,
    /** Each table of a record, in its order. */
    tables: <T extends Readonly<Record<string, Table | null>>>(all: T): T =>
      Object.fromEntries(Object.entries(all).map(([name, one]) => [name, numbered(one)])) as T,
    pictures: (list: readonly Picture[]): Picture[] =>
      list.map((one) => ({ ...one, caption: say('caption.figure', { n: ++figures, caption: one.caption }) })),
    /** Figure 1 is on page 1. */
    skipFigure: () => void figures++,
  };
}
