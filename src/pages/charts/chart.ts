/** What a picture is before it is drawn: a Vega-Lite view, its rows and its parameters. */
import type { Figure, Json } from '../report/sections/pictures.js';
import type { DecimalMark } from '../../results/words/format-quantity.js';
import { theme } from './theme.js';

export type Row = Readonly<Record<string, Json>>;
/** A part of a Vega-Lite document. */
export type Part = Readonly<Record<string, unknown>>;

export interface Chart extends Omit<Figure, 'svg' | 'phone' | 'spec'> {
  /** Without rows: data are named. All pictures of a kind have the same, so that it is compiled once. */
  readonly view: Part;
  readonly data: Readonly<Record<string, readonly Row[]>>;
  readonly params?: Readonly<Record<string, Json>>;
  /** Decimal mark of the numbers along its axes; absent: a point. */
  readonly mark?: DecimalMark;
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
export const documentOf = ({ view, data, params, alt, mark }: Chart): Part => ({
  $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
  description: alt,
  ...(mark === undefined ? { config: theme, ...view } : withMark({ config: theme, ...view }, mark)),
  params: Object.entries(params ?? {}).map(([name, value]) => ({ name, value })),
  datasets: data,
});

const withMark = (
  { config, ...view }: { readonly config: typeof theme } & Part,
  decimal: DecimalMark,
): Part => ({
  config: { ...config, locale: { number: { ...config.locale.number, decimal } } },
  ...view,
});
