/** What a picture is before it is drawn: a Vega-Lite view, its rows and its parameters. */
import type { Figure, Json } from '../report/sections/pictures.js';
import { theme } from './theme.js';

export type Row = Readonly<Record<string, Json>>;
/** A part of a Vega-Lite document. */
export type Part = Readonly<Record<string, unknown>>;

export interface Chart extends Omit<Figure, 'svg' | 'phone' | 'spec'> {
  /** Without rows: data are named. All pictures of a kind have the same, so that it is compiled once. */
  readonly view: Part;
  readonly data: Readonly<Record<string, readonly Row[]>>;
  readonly params?: Readonly<Record<string, Json>>;
  /** What is otherwise where the page is as narrow as a phone, with letters of the same size; absent: it is not redrawn. */
  readonly phone?: { readonly view: Part; readonly data?: Chart['data'] };
}

export const onPhone = (chart: Chart): Chart | null =>
  chart.phone === undefined
    ? null
    : {
        ...chart,
        key: `${chart.key}-phone`,
        view: { ...chart.view, ...chart.phone.view },
        data: { ...chart.data, ...chart.phone.data },
      };

export const rowsOf = (name: string) => ({ data: { name } });

/** The whole document, as any Vega editor opens it. */
export const documentOf = ({ view, data, params, alt }: Chart): Part => ({
  $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
  description: alt,
  config: theme,
  ...view,
  params: Object.entries(params ?? {}).map(([name, value]) => ({ name, value })),
  datasets: data,
});
