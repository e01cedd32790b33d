/** The characteristics of one machine over its surveys: small pictures side by side, with one axis of days. */
import type { PhaseName } from '../../survey/job/job-schema.js';
import { phaseWords, verdictWords } from '../../results/words/texts.js';
import type { Verdict } from '../../results/results-schema.js';
import { type Chart, type Part, rowsOf } from './chart.js';
import { colours } from './theme.js';

export interface TrendValue {
  /** Since 1970-01-01. */
  readonly day: number;
  readonly phase: PhaseName;
  /** In the unit in which it is drawn; null: not determined. */
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
  readonly key: string;
  /** Whose trends they are. */
  readonly title: string;
  readonly alt: string;
  readonly panels: readonly TrendPanel[];
  readonly intervalLabel: string;
}

/** Days since 1970-01-01, from a date as 2026-03-14. */
export const dayNumber = (date: string): number => Math.round(Date.parse(`${date}T00:00:00Z`) / 86_400_000);

const phaseScale = {
  scale: {
    domain: [phaseWords('as-found'), phaseWords('as-left')],
    range: [colours['as-found'], colours['as-left']],
  },
  legend: { orient: 'bottom', direction: 'horizontal' },
};
const shapeScale = {
  scale: { domain: phaseScale.scale.domain, range: ['diamond', 'circle'] },
  legend: phaseScale.legend,
};

const view = (columns: number, limits: readonly string[], hasIntervals: boolean): Part => ({
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
      ...limits.map((field) => ({
        mark: { type: 'line', color: colours.ink, strokeWidth: 1.1 },
        encoding: { y: { field } },
      })),
      ...(hasIntervals
        ? [{ mark: { type: 'rule' }, encoding: { y: { field: 'low' }, y2: { field: 'high' } } }]
        : []),
      {
        mark: { type: 'point', size: 40 },
        encoding: {
          color: { field: 'phase', type: 'nominal', ...phaseScale },
          shape: { field: 'phase', type: 'nominal', ...shapeScale },
        },
      },
      { mark: { type: 'text', style: 'quiet', dy: -11 }, encoding: { text: { field: 'mark' } } },
    ],
  },
});

/** @param input One panel or more. */
export function trendChart({ key, title, alt, panels, intervalLabel }: TrendInput): Chart {
  const values = panels.flatMap(({ name, outcome, signed, values }, n) =>
    values.flatMap((v) =>
      v.value === null
        ? []
        : [
            {
              n,
              panel: `${name}: ${outcome}`,
              date: v.day * 86_400_000,
              phase: phaseWords(v.phase),
              y: v.value,
              low: v.interval?.[0] ?? null,
              high: v.interval?.[1] ?? null,
              upper: v.limit,
              lower: signed && v.limit !== null ? -v.limit : null,
              mark:
                v.verdict === 'does-not-conform' || v.verdict === 'undecided' ? verdictWords[v.verdict] : '',
            },
          ],
    ),
  );
  const has = (field: 'upper' | 'lower' | 'low') => values.some((row) => row[field] !== null);
  const limits = (['upper', 'lower'] as const).filter(has);
  return {
    key,
    title,
    alt,
    caption: `Uprights: ${intervalLabel}. Ink lines: the limits.`,
    section: 'trend',
    role: 'annex',
    of: [],
    stations: [],
    view: view(panels.length > 1 ? 2 : 1, limits, has('low')),
    data: { values },
  };
}
