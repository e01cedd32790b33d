/** The sources of the uncertainty of each characteristic with a limit, as shares of its variance. */
import { budgetSources } from '../../results/results-schema.js';
import { byUrgency } from '../../results/urgency.js';
import { judgedRows } from '../report/sections/judged-rows.js';
import type { Chart, Kind, Part } from './chart.js';
import { rowsOf } from './chart.js';
import { isJudged, titleOf, type Context } from './context.js';
import { colours } from './theme.js';

/** Greatest number of legible columns, and the width that they share, px. */
const MOST_COLUMNS = 24;
const ACROSS = 480;

const view = (): Part => {
  return {
    width: ACROSS,
    height: { step: 13 },
    ...rowsOf('shares'),
    encoding: {
      x: {
        field: 'n',
        type: 'ordinal',
        title: null,
        axis: {
          orient: 'top',
          labelAngle: 0,
          domain: false,
          ticks: false,
          labelOverlap: false,
          titleAnchor: 'start',
        },
      },
      y: {
        field: 'source',
        type: 'nominal',
        sort: null,
        title: null,
        scale: { domain: { expr: 'sources' } },
        axis: { labelLimit: 0, labelOverlap: false },
      },
    },
    layer: [
      {
        mark: { type: 'rect', stroke: colours.paper },
        encoding: {
          color: {
            field: 'share',
            type: 'quantitative',
            scale: { domain: [0, 1], range: [colours.paper, '#7fa3c2'], interpolate: 'rgb' },
            legend: null,
          },
        },
      },
      {
        mark: { type: 'text', fontSize: 10 },
        encoding: { text: { field: 'text' } },
      },
    ],
  };
};

export const budgetKinds: readonly Kind[] = [{ view: view(), params: ['sources'] }];

/** Smaller shares are not drawn. */
const LEAST = 0.005;

export function budgetChart(context: Context): Chart[] {
  const { say, number } = context;
  const percent = (share: number): string => number(share * 100, 0);
  const all = judgedRows(context.results, context).filter(({ made }) => isJudged(made));
  const rows = [...all].sort((a, b) => byUrgency(a.made, b.made)).slice(0, MOST_COLUMNS);
  const sources = budgetSources.filter((s) => rows.some(({ made }) => (made.budget[s] ?? 0) >= LEAST));
  if (rows.length === 0 || sources.length === 0) return [];
  const most = rows.map(({ made }) => {
    const source = sources.reduce((a, b) => ((made.budget[b] ?? 0) > (made.budget[a] ?? 0) ? b : a));
    return say('budget.mostly', {
      what: titleOf(context, made),
      source: say(`budget.${source}`),
      share: percent(made.budget[source] ?? 0),
    });
  });
  return [
    {
      key: 'budget',
      title: say('budget.title'),
      caption: say('budget.caption', {
        rows: rows.length,
        all: all.length,
        more: all.length > rows.length ? 'yes' : 'no',
      }),
      alt: say('budget.alt', { list: most.join('; ') }),
      section: 'budget',
      role: 'annex',
      of: [],
      stations: [],
      view: view(),
      params: { sources: sources.map((s) => say(`budget.${s}`)) },
      data: {
        shares: rows.flatMap(({ n, made }) =>
          sources.map((source) => {
            const share = made.budget[source] ?? 0;
            return { n, source: say(`budget.${source}`), share, text: share < LEAST ? '' : percent(share) };
          }),
        ),
      },
    },
  ];
}
