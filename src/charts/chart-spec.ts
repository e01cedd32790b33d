/** What a chart is before it is drawn: a Vega-Lite document as plain JSON, and the words that go with it. */
export type { Json } from '../report/sections/pictures.js';
import type { ChartSection, Json } from '../report/sections/pictures.js';
/** A datum: flat, JSON only. `null` in a path breaks the line. */
export type Row = Readonly<Record<string, string | number | null | readonly number[]>>;

/** The part of Vega-Lite that the charts here use: one layered view of fixed size, named data sets, parameters. */
export interface VegaLiteSpec {
  readonly $schema: string;
  readonly background: string;
  readonly autosize: 'none';
  /** Plot area, px. */
  readonly width: number;
  readonly height: number;
  readonly padding: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
  readonly datasets: Readonly<Record<string, readonly Row[]>>;
  readonly params: readonly { readonly name: string; readonly value: Json }[];
  readonly config: Json;
  readonly layer: readonly Json[];
}

export interface ChartSpec {
  /** Stable and safe as a file name: ASCII letters, digits, `.`, `_`, `-`; unique without regard to case. */
  readonly key: string;
  /** What stands in bold in the picture; plain text. */
  readonly title: string;
  /** Up to two lines below the picture: what the picture itself does not say. */
  readonly caption: string;
  /** For those who cannot see it: kind, rail, range, values, limit, verdict. */
  readonly alt: string;
  readonly section: ChartSection;
  /** Id of the rail, where the chart is about one. */
  readonly rail?: string;
  readonly spec: VegaLiteSpec;
}

/** Whole picture, px. Placed 170 mm wide on paper 1 px is 0.73 pt, so the smallest text, 10.5 px, is 7.7 pt. */
export const pictureWidthPx = 660;
/** A profile is no taller where its words leave room for a plot, so that three stand on a page with their captions. */
export const pictureHeightPx = 262;
export const textPx = 10.5;
export const titlePx = 12.5;
