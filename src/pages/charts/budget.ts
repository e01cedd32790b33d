/** Where the uncertainty of each characteristic with a tolerance comes from: its variance shared out by source. */
import { budgetSources } from '../../results/results-schema.js';
import type { Chart, Part } from './chart.js';
import { rowsOf } from './chart.js';
import { isJudged, titleOf, type Context } from './context.js';
import { colours } from './theme.js';

const view: Part = {
  width: { step: 58 },
  height: { step: 17 },
  ...rowsOf('shares'),
  encoding: {
    y: {
      field: 'what',
      type: 'nominal',
      sort: null,
      title: null,
      scale: { domain: { expr: 'rows' } },
      axis: { labelLimit: 500, labelPadding: 8, labelOverlap: false, minExtent: 290, maxExtent: 290 },
    },
    x: {
      field: 'source',
      type: 'nominal',
      sort: null,
      title: null,
      scale: { domain: { expr: 'sources' } },
      axis: {
        orient: 'top',
        labelAngle: 0,
        domain: false,
        ticks: false,
        labelOverlap: false,
        labelExpr: 'names[datum.value]',
        labelLimit: 0,
        labelBaseline: 'top',
        labelPadding: 26,
      },
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
    { mark: { type: 'text' }, encoding: { text: { field: 'text' } } },
  ],
};

/** A share of less is left blank. */
const LEAST = 0.005;

export function budgetChart(context: Context): Chart[] {
  const { say, number } = context;
  const percent = (share: number): string => number(share * 100, 0);
  // Where a name is too long for its column, the message says where it is parted.
  const linesOf = (source: (typeof budgetSources)[number]) => say(`budget.${source}`).split('|');
  const judged = context.last.phase.characteristics.filter(isJudged);
  const rows = judged.map((c) => ({ what: titleOf(context, c), budget: c.budget }));
  const sources = budgetSources.filter((s) => rows.some(({ budget }) => (budget[s] ?? 0) >= LEAST));
  if (rows.length === 0 || sources.length === 0) return [];
  const shares = rows.flatMap(({ what, budget }) =>
    sources.map((source) => ({ what, source, share: budget[source] ?? 0 })),
  );
  const most = rows.map(({ what, budget }) => {
    const source = sources.reduce((a, b) => ((budget[b] ?? 0) > (budget[a] ?? 0) ? b : a));
    return say('budget.mostly', {
      what,
      source: linesOf(source).join(' '),
      share: percent(budget[source] ?? 0),
    });
  });
  return [
    {
      key: 'budget',
      title: say('budget.title'),
      caption: say('budget.caption'),
      alt: say('budget.alt', { list: most.join('; ') }),
      section: 'budget',
      role: 'annex',
      of: [],
      stations: [],
      view,
      params: {
        rows: [...new Set(rows.map(({ what }) => what))],
        sources: [...sources],
        names: Object.fromEntries(sources.map((s) => [s, linesOf(s)])),
      },
      data: { shares: shares.map((row) => ({ ...row, text: row.share < LEAST ? '' : percent(row.share) })) },
    },
  ];
}
