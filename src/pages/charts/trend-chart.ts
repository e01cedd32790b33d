/** The characteristics of one machine over its surveys: small pictures side by side, with one axis of days. */
import type { PhaseName } from '../../survey/job/job-schema.js';
import { phaseText, verdictText } from '../words/names.js';
import type { Words } from '../words/words.js';
import type { Verdict } from '../../results/results-schema.js';
import { type Chart, type Kind, type Part, rowsOf } from './chart.js';
import { colours } from './theme.js';

export interface TrendValue {
  /** Since 1970-01-01. */
  readonly day: number;
  readonly phase: PhaseName;
  /** In the unit of the drawing; null: not determined. */
  readonly value: number | null;
  readonly interval: readonly [number, number] | null;
  readonly limit: number | null;
  readonly verdict: Verdict;
}

export interface TrendPanel {
  /** "Straightness, vertical, rail A" */
  readonly name: string;
  /** The last value in words. */
  readonly outcome: string;
  readonly signed: boolean;
  /** In order of time, two or more. */
  readonly values: readonly TrendValue[];
}

export interface TrendInput {
  /** The machine. */
  readonly title: string;
  readonly alt: string;
  readonly panels: readonly TrendPanel[];
  readonly intervalLabel: string;
}

/** Days since 1970-01-01, from a date as 2026-03-14. */
export const dayNumber = (date: string): number => Math.round(Date.parse(`${date}T00:00:00Z`) / 86_400_000);

const phases = ['as-found', 'as-left'] as const;
const legend = { orient: 'bottom', direction: 'horizontal' };
const scaled = (range: readonly string[]) => ({
  scale: { domain: { expr: 'names' }, range },
  legend,
});

const view = (columns: number): Part => ({
  ...rowsOf('values'),
  facet: { field: 'panel', type: 'nominal', sort: { field: 'n', op: 'min' } },
  columns,
  resolve: { scale: { y: 'independent' } },
  spec: {
    width: columns === 1 ? 560 : 270,
    height: 110,
    encoding: {
      x: {
        field: 'date',
        type: 'temporal',
        title: null,
        scale: { type: 'utc' },
        axis: { tickCount: 4, format: '%Y-%m-%d' },
      },
      y: { field: 'y', type: 'quantitative', title: null },
    },
    layer: [
      ...['upper', 'lower'].map((field) => ({
        mark: { type: 'line', color: colours.ink, strokeWidth: 1.1 },
        encoding: {
          y: { field },
          opacity: { field: 'shown', type: 'quantitative', scale: null, legend: null },
        },
      })),
      { mark: { type: 'rule' }, encoding: { y: { field: 'low' }, y2: { field: 'high' } } },
      {
        mark: { type: 'point', size: 40 },
        encoding: {
          color: {
            field: 'phase',
            type: 'nominal',
            ...scaled(phases.map((name) => colours[name])),
          },
          shape: { field: 'phase', type: 'nominal', ...scaled(['diamond', 'circle']) },
        },
      },
      { mark: { type: 'text', style: 'quiet', dy: -11 }, encoding: { text: { field: 'mark' } } },
    ],
  },
});

export const trendKinds: readonly Kind[] = [1, 2].map((columns) => ({
  view: view(columns),
  params: ['names'],
}));

/** @param input One panel or more. */
export function trendChart(
  { title, alt, panels, intervalLabel }: TrendInput,
  key: string,
  words: Words,
): Chart {
  const { say } = words;
  const values = panels.flatMap(({ name, outcome, signed, values }, n) =>
    values.flatMap((v) =>
      v.value === null
        ? []
        : [
            {
              n,
              panel: say('trend.panel', { name, outcome }),
              date: v.day * 86_400_000,
              phase: phaseText(v.phase, words),
              y: v.value,
              // The scale of a panel needs numbers: a missing limit is drawn at the value, or at the other limit.
              low: v.interval?.[0] ?? v.value,
              high: v.interval?.[1] ?? v.value,
              upper: v.limit ?? v.value,
              lower: v.limit === null ? v.value : signed ? -v.limit : v.limit,
              shown: v.limit === null ? 0 : 1,
              mark:
                v.verdict === 'does-not-conform' || v.verdict === 'undecided'
                  ? verdictText(v.verdict, words)
                  : '',
            },
          ],
    ),
  );
  return {
    key,
    title,
    alt,
    caption: say('trend.caption', { interval: intervalLabel }),
    section: 'trend',
    role: 'annex',
    of: [],
    stations: [],
    view: view(panels.length > 1 ? 2 : 1),
    params: { names: phases.map((name) => phaseText(name, words)) },
    data: { values },
  };
}
