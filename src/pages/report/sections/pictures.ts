/** Charts as the report places them: pictures with an alternative text, by section. */

import type { PhaseName } from '../../../survey/job/job-schema.js';

export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

export const chartSections = [
  'plan',
  'straightness',
  'parallelism',
  'cross-level',
  'budget',
  'residuals',
  'moves',
  'trend',
] as const;
export type ChartSection = (typeof chartSections)[number];

/**
 * A figure as the report places it. `spec` is a whole Vega-Lite document with its data and theme: any Vega editor draws
 * it; it is kept as charts/KEY.vl.json next to charts/KEY.svg.
 */
export interface Figure {
  /** Stable and safe as a file name; unique without regard to case. */
  readonly key: string;
  /** "Height difference, rail D to rail A": plain text, no number and no verdict. */
  readonly title: string;
  /** How to read the picture, one or two sentences; what it shows (value, interval, limit, verdict) is the report's. */
  readonly caption: string;
  /** Verdict, value, interval and limit, where the page is too narrow for them next to the picture; absent: none. */
  readonly outcome?: string;
  /** For those who cannot see it, from the data: kind, rail, values, limit, verdict. */
  readonly alt: string;
  readonly section: ChartSection;
  /** Id of the rail, where the figure is about one. */
  readonly rail?: string;
  /** body: it shows a decision, in the order in which it is to be placed; annex: for reference. */
  readonly role: 'body' | 'annex';
  /** The characteristics that it decides: their phase and their place in that phase's list. */
  readonly of: readonly { readonly phase: PhaseName; readonly characteristic: number }[];
  /** Stations that are named in it because they decide. */
  readonly stations: readonly { readonly rail: string; readonly station: number }[];
  readonly svg: string;
  /** The same where the page is as narrow as a phone, with letters of the same size; absent: not drawn anew. */
  readonly phone?: string;
  readonly spec: Readonly<Record<string, unknown>>;
}

export type ReportChart = Figure;

export interface Picture {
  /** Stands for the picture itself, which html.ts puts in its place: a chart is some 70 kB of text. */
  readonly source: string;
  readonly alt: string;
  readonly caption: string;
  readonly outcome: string;
}

export const picture = (chart: ReportChart): Picture => ({
  source: `chart:${chart.key}`,
  alt: chart.alt,
  caption: `${chart.title}. ${chart.caption}`.trim(),
  outcome: chart.outcome ?? '',
});

/** Where a chart goes: figures of the body, what to move, the set-ups, and what is for reference. */
export type Place = 'body' | 'moves' | 'plan' | 'annex';

const placeOf = ({ section, role }: ReportChart): Place =>
  section === 'moves' || section === 'plan'
    ? section
    : section === 'residuals' || section === 'budget' || role === 'annex'
      ? 'annex'
      : 'body';

export const chartPictures = (charts: readonly ReportChart[], place: Place): Picture[] =>
  charts.filter((chart) => placeOf(chart) === place).map(picture);
