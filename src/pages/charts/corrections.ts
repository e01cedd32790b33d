/** The expected effect of the planned moves on a rail, and the planned moves compared with the movements. */
import { measuredText } from '../../results/words/format-quantity.js';
import type { Determined } from '../../results/results-schema.js';
import { type Chart, type Kind, type Part, rowsOf } from './chart.js';
import { findSame, profileChart } from './profile.js';
import { isJudged, signedText, titleOf, type Context, type Judged } from './context.js';
import { colours } from './theme.js';

/** Greatest number of pictures of expected results. */
const MOST = 4;

/** Each characteristic whose verdict the plan is expected to change, before and after. */
export function correctionsCharts(context: Context): Chart[] {
  const { predicted = [], of, moves = [] } = context.results.corrections;
  if (of !== 'adjusters' || moves.length === 0) return [];
  const { last, say } = context;
  const expected = { ...last, role: 'as-left' as const, words: say('chart.expected') };
  return predicted
    .map((c) => c as Determined)
    .filter((c): c is Judged => isJudged(c) && (c.profile?.length ?? 0) > 1)
    .map((c) => ({ c, now: findSame(last, c) }))
    .filter(({ now }) => now !== undefined && now.verdict !== 'conforms')
    .slice(0, MOST)
    .map(({ c, now }) => {
      const chart = profileChart(context, {
        phase: expected,
        c,
        before: { words: say('chart.now'), c: now! },
        key: ['moves', c.what, ...(c.rails ?? [c.rail]).map((id) => context.tokens.get(id)!)].join('-'),
        span: 0,
        place: { section: 'moves', role: 'annex', of: [] },
      });
      return { ...chart, title: say('chart.after-moves', { title: titleOf(context, c) }) };
    });
}

const view: Part = {
  autosize: 'none',
  width: 458,
  height: { step: 20 },
  padding: { left: 60, right: 142, top: 30, bottom: 36 },
  encoding: {
    y: {
      field: 'adjuster',
      type: 'nominal',
      sort: null,
      title: null,
      scale: { domain: { expr: 'adjusters' } },
      axis: { labelLimit: 54, labelOverlap: false },
    },
  },
  layer: [
    {
      ...rowsOf('zero'),
      mark: { type: 'rule', style: 'zero' },
      encoding: { y: null, x: { field: 'x', type: 'quantitative' } },
    },
    {
      ...rowsOf('done'),
      mark: { type: 'rule', color: colours['as-left'], strokeWidth: 3 },
      encoding: {
        x: { field: 'from', type: 'quantitative', axis: { title: { expr: 'xWords' } } },
        x2: { field: 'to' },
      },
    },
    {
      ...rowsOf('done'),
      mark: { type: 'point', color: colours['as-left'], size: 34 },
      encoding: { x: { field: 'did', type: 'quantitative' } },
    },
    {
      ...rowsOf('done'),
      mark: {
        type: 'point',
        shape: 'diamond',
        filled: false,
        stroke: colours['as-found'],
        strokeWidth: 1.4,
        size: 60,
      },
      encoding: { x: { field: 'asked', type: 'quantitative' } },
    },
    {
      ...rowsOf('done'),
      mark: { type: 'text', align: 'left', dx: 10, style: 'quiet', limit: 130 },
      encoding: { x: { value: 'width' }, text: { field: 'says' } },
    },
  ],
};

export const doneKinds: readonly Kind[] = [{ view, params: ['adjusters', 'xWords'] }];

export function doneChart(context: Context): Chart[] {
  const { done = [] } = context.results.corrections;
  if (done.length === 0) return [];
  const { deviation, k, say } = context;
  const inUnit = (um: number) => deviation.fromBase(um);
  const rows = done.map(({ adjuster, axis, asked, did, says }) => ({
    adjuster: `${adjuster} ${axis === 'vertical' ? '↕' : '↔'}`,
    asked: inUnit(asked),
    did: inUnit(did.value),
    from: inUnit(did.value - k * did.u),
    to: inUnit(did.value + k * did.u),
    says: say(`says-short.${says}`),
  }));
  const told = done.map(({ adjuster, asked, did, says }) => {
    const { value, expanded } = measuredText(did.value, k * did.u, deviation, { signed: true });
    return say('chart.done.one', {
      adjuster,
      asked: signedText(asked, deviation, k * did.u),
      did: `${value} ± ${expanded}`,
      says: say(`says-short.${says}`),
    });
  });
  return [
    {
      key: 'moves-done',
      title: say('chart.done.title'),
      caption: say('chart.done.caption'),
      alt: say('chart.done.alt', { unit: deviation.label, list: told.join('; ') }),
      section: 'moves',
      role: 'annex',
      of: [],
      stations: [],
      view,
      params: {
        adjusters: rows.map(({ adjuster }) => adjuster),
        xWords: say('chart.done.axis', { unit: deviation.label }),
      },
      data: { zero: [{ x: 0 }], done: rows },
    },
  ];
}
