/** As left next to what was asked: adjuster by adjuster what the rail did, and what the difference says. */
import type { Results } from '../../../results/results-schema.js';
import { decimalsOf, measuredText, plusMinus } from '../../../results/words/format-quantity.js';
import type { Figures } from '../figures.js';
import { cell, figure, figureHead, head, rowHeader, tableIfAny, type Group, type Table } from '../table.js';
import { railTitle } from './characteristic-names.js';
import { moveDirections } from './move-words.js';

/** Moves under the name of their rail, in the order of the rails. */
export const byRail = <T extends { readonly rail: string }>(
  { survey }: Results,
  moves: readonly T[],
  figures: Figures,
): Group<T>[] =>
  survey.rails.map((rail) => ({
    title: railTitle(rail, figures),
    items: moves.filter((move) => move.rail === rail.id),
  }));

export function doneMoves(results: Results, figures: Figures): Table | null {
  const { say, number } = figures;
  const { done = [], response } = results.corrections;
  const unit = figures.units.deviation;
  const moves = done.map((move) => ({
    ...move,
    text: measuredText(move.did.value, figures.k * move.did.u, unit, { signed: true }),
  }));
  return tableIfAny(
    say('done.caption'),
    [
      [head(say('head.adjuster')), ({ adjuster }) => rowHeader(adjuster)],
      [
        head(say('head.plane')),
        ({ axis }) => cell(moveDirections[axis].map((way) => say(`move.${way}`)).join('/')),
      ],
      [
        figureHead(say('head.asked'), unit.label),
        ({ asked, text }) =>
          figure(asked === 0 ? '–' : number(unit.fromBase(asked), decimalsOf(text.value), { signed: true })),
      ],
      [figureHead(say('head.did'), unit.label), ({ text }) => figure(plusMinus(text))],
      [head(say('head.says')), ({ says }) => cell(say(`says.${says}`))],
    ],
    byRail(results, moves, figures),
    {
      css: 'moves',
      notes: [
        say('done.note'),
        ...(response?.learntFrom
          ? [say('done.response', { share: number(100 * response.u, 0), moves: response.learntFrom })]
          : []),
      ],
      mayBreak: true,
    },
  );
}
