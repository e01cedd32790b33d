/** What the adjustment leaves of each reading, over its own uncertainty, with the bounds of the test for blunders. */
import { numberText } from '../../results/words/format-quantity.js';
import { BAARDA_CRITICAL } from '../../solution/solve/suspects.js';
import type { Chart, Part, Row } from './chart.js';
import { rowsOf } from './chart.js';
import { stationKey, type Context, type PhaseContext } from './context.js';
import { colours, shapes } from './theme.js';

/** Beyond this many, only those beyond 2 are drawn, and every so many of the others. */
const MOST_POINTS = 800;
const MOST_NAMED = 5;

const ofPhase = ({ role, words }: PhaseContext, width: number): Part => ({
  width,
  height: 74,
  title: { text: words },
  encoding: {
    x: {
      field: 'n',
      type: 'quantitative',
      title: 'readings, in the order of their files',
      scale: { domain: { expr: `xDomain['${role}']` }, nice: false },
      axis: { tickMinStep: 1 },
    },
    y: { field: 'y', type: 'quantitative', title: null, scale: { domain: { expr: 'yDomain' }, nice: false } },
  },
  layer: [
    { ...rowsOf('bounds'), mark: { type: 'rule', style: 'guard' }, encoding: { x: null, y: { field: 'y' } } },
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

/** What is no reading of a place was stated before. */
const axisOf = (axis: string): string =>
  ['vertical', 'horizontal', 'along'].includes(axis) ? axis : 'stated';

export function residualChart({ phases }: Context): Chart[] {
  const drawn = phases.flatMap((phase) => {
    const all = phase.phase.residuals.flatMap((r, n) =>
      r.standardised === null ? [] : [{ ...r, n: n + 1, standardised: r.standardised }],
    );
    return all.length === 0 ? [] : [{ phase, all }];
  });
  if (drawn.length === 0) return [];
  type Residual = (typeof drawn)[number]['all'][number];
  const whatOf = (r: Residual) =>
    [
      r.rail === null || r.station === null ? r.kind : stationKey(r.rail, r.station),
      ...(r.setup === null ? [] : [`from ${r.setup}`]),
      ...(r.row === null ? [] : [`row ${r.row}`]),
    ].join(', ');
  const point = (r: Residual): Row => ({ n: r.n, y: r.standardised, axis: axisOf(r.axis) });
  const text = (v: number) => numberText(v, 1, { signed: true });
  const parts = drawn.map(({ phase, all }) => {
    const step = Math.ceil(all.length / MOST_POINTS);
    const out = all
      .filter(({ standardised }) => Math.abs(standardised) > BAARDA_CRITICAL)
      .sort((a, b) => Math.abs(b.standardised) - Math.abs(a.standardised));
    const count =
      out.length === 0
        ? `${phase.words}, no reading is beyond them`
        : `${phase.words}, ${out.length} of ${all.length} readings ${out.length === 1 ? 'is' : 'are'} beyond them`;
    const named = out.slice(0, MOST_NAMED);
    return {
      count,
      step,
      told: `${phase.words}, ${all.length} readings, from ${text(Math.min(...all.map((r) => r.standardised)))} to ${text(Math.max(...all.map((r) => r.standardised)))}; the bounds of the test for blunders, ± ${numberText(BAARDA_CRITICAL, 2)}: ${count}${named.length === 0 ? '' : `: ${named.map((r) => `${whatOf(r)} (${text(r.standardised)})`).join('; ')}`}`,
      data: {
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
  const most = Math.max(4, ...everything.map(({ standardised }) => Math.abs(standardised) * 1.15));
  return [
    {
      key: 'residuals',
      title: 'Residuals, each over its standard uncertainty',
      caption: `Dotted: bounds of the test for blunders, ± ${numberText(BAARDA_CRITICAL, 2)}; ${parts.map(({ count }) => count).join('; ')}.${thinned > 1 ? ` Of those within ± 2 every ${thinned}th is drawn.` : ''}`,
      alt: `Scatter chart of residuals, each over its standard uncertainty. ${parts.map(({ told }) => told).join('. ')}.`,
      section: 'residuals',
      role: 'annex',
      of: [],
      stations: [],
      view: {
        hconcat: drawn.map(({ phase }) => ofPhase(phase, drawn.length > 1 ? 286 : 600)),
      },
      params: {
        xDomain: Object.fromEntries(
          drawn.map(({ phase }) => [phase.role, [0, phase.phase.residuals.length + 1]]),
        ),
        yDomain: [-most, most],
        axes: [...new Set(everything.map(({ axis }) => axisOf(axis)))],
      },
      data: {
        bounds: [-1, 1].map((side) => ({ y: side * BAARDA_CRITICAL })),
        zero: [{ y: 0 }],
        ...Object.assign({}, ...parts.map(({ data }) => data)),
      },
    },
  ];
}
