/** As left beside what was asked: adjuster by adjuster what the rail did, and what the difference says. */
import type { Results } from '../../../results/results-schema.js';
import { decimalsOf, measuredText, plusMinus } from '../../../results/words/format-quantity.js';
import type { Figures } from '../figures.js';
import { cell, figure, figureHead, head, row, rowHeader, table, type Table } from '../table.js';
import { railTitle } from './characteristic-names.js';
import { moveDirections } from './move-words.js';

export function doneMoves(results: Results, figures: Figures): Table | null {
  const { say, number } = figures;
  const { done = [], response } = results.corrections;
  if (done.length === 0) return null;
  const unit = figures.units.deviation;
  const heading = [
    head(say('head.adjuster')),
    head(say('head.plane')),
    figureHead(say('head.asked'), unit.label),
    figureHead(say('head.did'), unit.label),
    head(say('head.says')),
  ];
  const groups = results.survey.rails
    .map((rail) => ({
      title: railTitle(rail, figures),
      rows: done
        .filter((move) => move.rail === rail.id)
        .map(({ adjuster, axis, asked, did, says }) => {
          const text = measuredText(did.value, figures.k * did.u, unit, { signed: true });
          const decimals = decimalsOf(text.value);
          return row([
            rowHeader(adjuster),
            cell(moveDirections[axis].map((way) => say(`move.${way}`)).join('/')),
            figure(asked === 0 ? '–' : number(unit.fromBase(asked), decimals, { signed: true })),
            figure(plusMinus(text)),
            cell(say(`says.${says}`)),
          ]);
        }),
    }))
    .filter(({ rows }) => rows.length > 0);
  return table(say('done.caption'), [heading], groups, {
    css: 'hidden-caption',
    notes: [
      say('done.note'),
      ...(response?.learntFrom
        ? [say('done.response', { share: number(100 * response.u, 0), moves: response.learntFrom })]
        : []),
    ],
    mayBreak: true,
  });
}
