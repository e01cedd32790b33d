/** What the adjustment leaves of each reading, over its own uncertainty, with the bounds of the test for blunders. */
import { axisText } from '../words/names.js';
import { phrase } from '../words/phrases.js';
import type { Words } from '../words/words.js';
import type { Chart, Part, Row } from './chart.js';
import { rowsOf } from './chart.js';
import { stationKey, type Context, type PhaseContext } from './context.js';
import { colours, shapes } from './theme.js';

/** Beyond this many, only those beyond 2 are drawn, and every so many of the others. */
const MOST_POINTS = 800;
const MOST_NAMED = 5;

const view = (role: PhaseContext['role'], { say }: Words): Part => ({
  autosize: 'none',
  width: 600,
  height: 150,
  padding: { left: 36, right: 24, top: 44, bottom: 36 },
  title: { text: say('residuals.heading') },
  encoding: {
    x: {
      field: 'n',
      type: 'quantitative',
      title: say('residuals.axis'),
      scale: { domain: { expr: 'xDomain' }, nice: false },
      axis: { tickMinStep: 1 },
    },
    y: { field: 'y', type: 'quantitative', title: null, scale: { domain: { expr: 'yDomain' }, nice: false } },
  },
  layer: [
    { ...rowsOf('bounds'), mark: { type: 'rule', style: 'guard' }, encoding: { x: null, y: { field: 'y' } } },
    { ...rowsOf('zero'), mark: { type: 'rule', style: 'zero' }, encoding: { x: null, y: { field: 'y' } } },
    {
      ...rowsOf('points'),
      mark: { type: 'point', aria: true, color: colours[role], size: 18 },
      encoding: {
        shape: {
          field: 'axis',
          type: 'nominal',
          scale: { domain: { expr: 'axes' }, range: shapes },
          legend: { direction: 'horizontal', legendX: 280, legendY: -20, columns: 5 },
        },
        description: { field: 'says' },
      },
    },
    {
      ...rowsOf('named'),
      mark: { type: 'point', size: 90, filled: false, stroke: colours.ink, strokeWidth: 1.4 },
    },
    {
      ...rowsOf('named'),
      mark: {
        type: 'text',
        style: 'named',
        align: { expr: 'datum.align' },
        dx: { expr: "datum.align === 'left' ? 10 : -10" },
        limit: 320,
      },
      encoding: { text: { field: 'text' } },
    },
  ],
});

/** What is no reading of a place was stated before. */
const axisOf = (axis: string, words: Words): string =>
  ['vertical', 'horizontal', 'along'].includes(axis) ? axisText(axis, words) : words.say('residuals.stated');

export function residualChart(context: Context, phase: PhaseContext): Chart[] {
  const { phases, say, number } = context;
  const all = phase.phase.residuals.flatMap((r, n) =>
    r.standardised === null ? [] : [{ ...r, n: n + 1, standardised: r.standardised }],
  );
  if (all.length === 0) return [];
  const { critical = Infinity } = phase.phase.adjustment;
  const step = Math.ceil(all.length / MOST_POINTS);
  const drawn = all.filter((r, i) => i % step === 0 || Math.abs(r.standardised) > 2);
  const out = all
    .filter(({ standardised }) => Math.abs(standardised) > critical)
    .sort((a, b) => Math.abs(b.standardised) - Math.abs(a.standardised));
  const most = Math.max(4, ...all.map(({ standardised }) => Math.abs(standardised) * 1.15));
  const whatOf = (r: (typeof all)[number]) =>
    [
      r.rail === null || r.station === null ? phrase(r.kind, context) : stationKey(r.rail, r.station),
      ...(r.setup === null ? [] : [say('residuals.from', { setup: r.setup })]),
      ...(r.row === null ? [] : [say('row', { row: r.row })]),
    ].join(', ');
  const point = (r: (typeof all)[number]): Row => ({
    n: r.n,
    y: r.standardised,
    axis: axisOf(r.axis, context),
  });
  const text = (v: number) => number(v, 1, { signed: true });
  const title =
    phases.length > 1 ? say('residuals.title-phase', { phase: phase.words }) : say('residuals.title');
  const count = say('residuals.count', { out: out.length, all: all.length });
  return [
    {
      key: `residuals-${phase.name}`,
      title,
      caption: [
        say('residuals.caption', { bound: number(critical, 2), count }),
        ...(step > 1 ? [say('residuals.thinned', { step })] : []),
      ].join(' '),
      alt: say('residuals.alt', {
        title,
        all: all.length,
        least: text(Math.min(...all.map((r) => r.standardised))),
        greatest: text(Math.max(...all.map((r) => r.standardised))),
        count,
        worst:
          out.length === 0
            ? 'none'
            : out
                .slice(0, MOST_NAMED)
                .map((r) => `${whatOf(r)} (${text(r.standardised)})`)
                .join('; '),
      }),
      section: 'residuals',
      role: 'annex',
      of: [],
      stations: [],
      view: view(phase.role, context),
      params: {
        xDomain: [0, phase.phase.residuals.length + 1],
        yDomain: [-most, most],
        axes: [...new Set(all.map(({ axis }) => axisOf(axis, context)))],
      },
      data: {
        bounds: [-1, 1].map((side) => ({ y: side * critical })),
        zero: [{ y: 0 }],
        points: drawn.map((r) => ({ ...point(r), says: `${whatOf(r)}: ${text(r.standardised)} u` })),
        named: out.slice(0, MOST_NAMED).map((r) => ({
          ...point(r),
          align: r.n > phase.phase.residuals.length / 2 ? 'right' : 'left',
          text: whatOf(r),
        })),
      },
    },
  ];
}
