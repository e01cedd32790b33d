/** A picture before it is drawn: a Vega-Lite view, its data and its parameters. */
import type { Figure, Json } from '../report/sections/pictures.js';
import type { DecimalMark } from '../../results/words/format-quantity.js';
import { theme } from './theme.js';

export type Row = Readonly<Record<string, Json>>;
/** A part of a Vega-Lite document. */
export type Part = Readonly<Record<string, unknown>>;

/** What pictures have in common. Each is compiled once, when the program is built (kinds.ts). */
export interface Kind {
  /** Without rows: data are named. All pictures of a kind have the same, but for its sizes where `isSized`. */
  readonly view: Part;
  readonly params: readonly string[];
  /** Width and height of what is next to each other depend on the survey. */
  readonly isSized?: boolean;
}

export interface Chart extends Omit<Figure, 'svg' | 'phone' | 'spec'>, Omit<Kind, 'params'> {
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

const SCHEMA = 'https://vega.github.io/schema/vega-lite/v6.json';

/** What is compiled: a document without rows, words and sizes. */
export const shapeOf = ({ view, params, isSized = false }: Kind): Part => ({
  ...{ $schema: SCHEMA, config: theme },
  ...(isSized ? Object.fromEntries(Object.entries(view).map(([key, part]) => [key, unsized(part)])) : view),
  params: [...params].sort().map((name) => ({ name, value: null })),
});

type Sized = Part & { readonly spec?: Part };
const unsized = (parts: unknown): unknown =>
  Array.isArray(parts)
    ? (parts as Sized[]).map((part, n) => {
        const { spec = part } = part;
        // No two of them equal: equal ones would share a signal.
        const own = { ...spec, width: 101 + n, height: 201 + n };
        return part === spec ? own : { ...part, spec: own };
      })
    : parts;

/** Signals of the sizes that a shape has not, as vega-lite names them. */
export function sizesOf({ view, isSized = false }: Pick<Kind, 'view' | 'isSized'>): [string, unknown][] {
  const parts = isSized ? (Object.values(view).find(Array.isArray) as Sized[]) : [];
  return parts.flatMap(({ spec, ...part }, n): [string, unknown][] => {
    const { width, height } = spec ?? part;
    const [wide, high] =
      spec !== undefined
        ? [`concat_${n}_child_width`, `concat_${n}_child_height`]
        : parts.length > 1
          ? [`concat_${n}_width`, `concat_${n}_height`]
          : ['childWidth', 'childHeight'];
    return [
      [wide, width],
      [high, height],
    ];
  });
}

/** The whole document, as any Vega editor opens it. */
export const documentOf = ({ view, data, params, alt, mark }: Chart): Part => ({
  $schema: SCHEMA,
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
