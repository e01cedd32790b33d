/** The residual of each reading divided by its uncertainty, with the bounds of the test for blunders. */
import { leastOf, mostOf } from '../../base/statistics/extent.js';
import type { ResidualResult } from '../../results/results-schema.js';
import { axisText } from '../words/names.js';
import { phrase } from '../words/phrases.js';
import type { Words } from '../words/words.js';
import type { Chart, Kind, Part, Row } from './chart.js';
import { rowsOf } from './chart.js';
import { stationKey, type Context, type Role } from './context.js';
import { colours, shapes } from './theme.js';

/** With more residuals than this, only those beyond 2 and a part of the others are drawn. */
const MOST_POINTS = 800;
const MOST_NAMED = 5;

const ofPhase = (role: Role, width: number): Part => ({
  width,
  height: 74,
  title: { text: { expr: `headings['${role}']` } },
  encoding: {
    x: {
      field: 'n',
      type: 'quantitative',
      scale: { domain: { expr: `xDomain['${role}']` }, nice: false },
      axis: { tickMinStep: 1, title: { expr: 'xWords' } },
    },
    y: { field: 'y', type: 'quantitative', title: null, scale: { domain: { expr: 'yDomain' }, nice: false } },
  },
  layer: [
    {
      ...rowsOf(`bounds-${role}`),
      mark: { type: 'rule', style: 'guard' },
      encoding: { x: null, y: { field: 'y' } },
    },
    { ...rowsOf('zero'), mark: { type: 'rule', style: 'zero' }, encoding: { x: null, y: { field: 'y' } } },
    {
      ...rowsOf(`points-${role}`),
      mark: { type: 'point', aria: true, color: colours[role], size: 16 },
      encoding: {
        shape: {
          field: 'axis',
          type: 'nominal',
          scale: { domain: { expr: 'axes' }, range: shapes },
          legend: { orient: 'bottom', direction: 'horizontal' },
        },
        description: { field: 'says' },
      },
    },
    {
      ...rowsOf(`named-${role}`),
      mark: { type: 'point', size: 90, filled: false, stroke: colours.ink, strokeWidth: 1.4 },
    },
    {
      ...rowsOf(`named-${role}`),
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

const viewOf = (roles: readonly Role[]): Part => ({
  hconcat: roles.map((role) => ofPhase(role, roles.length > 1 ? 286 : 600)),
});

export const residualKinds: readonly Kind[] = (
  [['as-found'], ['as-left'], ['as-found', 'as-left']] as const
).map((roles) => ({ view: viewOf(roles), params: ['xWords', 'headings', 'xDomain', 'yDomain', 'axes'] }));

/**
 * The stated scale of a target is left out. Its coefficient is a reading, whose noise is in its residual here; it is tested for an
 * outlier with the adjusted readings instead (solve/linearised.ts).
 */
const isDrawn = ({ kind }: ResidualResult): boolean => kind !== 'scale';

/** Residuals of priors have no place. */
const axisOf = (axis: string, words: Words): string =>
  ['vertical', 'horizontal', 'along'].includes(axis) ? axisText(axis, words) : words.say('residuals.stated');

export function residualChart(context: Context): Chart[] {
  const { phases, say, number } = context;
  const drawn = phases.flatMap((phase) => {
    const all = phase.phase.residuals.flatMap((r, n) =>
      r.standardised === null || !isDrawn(r) ? [] : [{ ...r, n: n + 1, standardised: r.standardised }],
    );
    return all.length === 0 ? [] : [{ phase, all }];
  });
  if (drawn.length === 0) return [];
  type Residual = (typeof drawn)[number]['all'][number];
  const whatOf = (r: Residual) =>
    [
      r.rail === null || r.station === null ? phrase(r.kind, context) : stationKey(r.rail, r.station),
      ...(r.setup === null ? [] : [say('residuals.from', { setup: r.setup })]),
      ...(r.row === null ? [] : [say('row', { row: r.row })]),
    ].join(', ');
  const point = (r: Residual): Row => ({ n: r.n, y: r.standardised, axis: axisOf(r.axis, context) });
  const text = (v: number) => number(v, 1, { signed: true });
  const parts = drawn.map(({ phase, all }) => {
    const { critical = null } = phase.phase.adjustment;
    const step = Math.ceil(all.length / MOST_POINTS);
    const out = all
      .filter(({ standardised }) => critical !== null && Math.abs(standardised) > critical)
      .sort((a, b) => Math.abs(b.standardised) - Math.abs(a.standardised));
    const count = say('residuals.count', { phase: phase.words, out: out.length, all: all.length });
    const named = out.slice(0, MOST_NAMED);
    const sizes = all.map(({ standardised }) => standardised);
    return {
      count,
      step,
      bound: critical === null ? '–' : number(critical, 2),
      told: say('residuals.told', {
        all: all.length,
        least: text(leastOf(sizes)),
        greatest: text(mostOf(sizes)),
        bound: critical === null ? '–' : number(critical, 2),
        count,
        worst:
          named.length === 0 ? 'none' : named.map((r) => `${whatOf(r)} (${text(r.standardised)})`).join('; '),
      }),
      data: {
        [`bounds-${phase.role}`]: (critical === null ? [] : [-critical, critical]).map((y) => ({ y })),
        [`points-${phase.role}`]: all
          .filter((r, i) => i % step === 0 || Math.abs(r.standardised) > 2)
          .map((r) => ({ ...point(r), says: `${whatOf(r)}: ${text(r.standardised)} u` })),
        [`named-${phase.role}`]: named.map((r) => ({
          ...point(r),
          align: r.n > phase.phase.residuals.length / 2 ? 'right' : 'left',
          text: whatOf(r),
        })),
      },
    };
  });
  const thinned = Math.max(...parts.map(({ step }) => step));
  const everything = drawn.flatMap(({ all }) => all);
  const most = Math.max(4, mostOf(everything.map(({ standardised }) => Math.abs(standardised) * 1.15)));
  return [
    {
      key: 'residuals',
      title: say('residuals.title'),
      caption: [
        say('residuals.caption', {
          bound: [...new Set(parts.map(({ bound }) => bound))].join(', '),
          count: parts.map(({ count }) => count).join('; '),
        }),
        ...(thinned > 1 ? [say('residuals.thinned', { step: thinned })] : []),
      ].join(' '),
      alt: say('residuals.alt', { list: parts.map(({ told }) => told).join('. ') }),
      section: 'residuals',
      role: 'annex',
      of: [],
      stations: [],
      view: viewOf(drawn.map(({ phase }) => phase.role)),
      params: {
        xWords: say('residuals.axis'),
        headings: Object.fromEntries(drawn.map(({ phase }) => [phase.role, phase.words])),
        xDomain: Object.fromEntries(
          drawn.map(({ phase }) => [phase.role, [0, phase.phase.residuals.length + 1]]),
        ),
        yDomain: [-most, most],
        axes: [...new Set(everything.map(({ axis }) => axisOf(axis, context)))],
      },
      data: { zero: [{ y: 0 }], ...Object.assign({}, ...parts.map(({ data }) => data)) },
    },
  ];
}
