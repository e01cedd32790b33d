/** Charts as the report places them: pictures with an alternative text, by section. */

/** A rendered chart. */
export interface ReportChart {
  readonly key: string;
  readonly title: string;
  readonly caption: string;
  readonly alt: string;
  readonly section: string;
  readonly rail?: string;
  readonly svg: string;
}

export interface Picture {
  /** Stands for the picture itself, which html.ts puts in its place: a chart is some 70 kB of text. */
  readonly source: string;
  readonly alt: string;
  readonly caption: string;
}

export const picture = (chart: ReportChart): Picture => ({
  source: `chart:${chart.key}`,
  alt: chart.alt,
  caption: chart.caption,
});

/** Sections that stand elsewhere in the report than among the charts. */
const elsewhere = new Set(['plan', 'residuals', 'budget', 'moves']);

/** The charts of the results themselves, in their own order. */
export const resultPictures = (charts: readonly ReportChart[]): Picture[] =>
  charts.filter((chart) => !elsewhere.has(chart.section)).map(picture);

export const picturesOf = (charts: readonly ReportChart[], section: string): Picture[] =>
  charts.filter((chart) => chart.section === section).map(picture);
