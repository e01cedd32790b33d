/** As left beside what was asked: adjuster by adjuster what the rail did, and what the difference says. */
import type { DoneMove, Results } from '../../../results/results-schema.js';
import { measuredText, numberText, plusMinus } from '../../../results/words/format-quantity.js';
import type { Figures } from '../figures.js';
import { cell, figure, figureHead, head, row, rowHeader, table, type Table } from '../table.js';
import { railTitle } from './characteristic-names.js';
import { moveWords } from './move-words.js';

const saysWords: Readonly<Record<DoneMove['says'], string>> = {
  'as-asked': 'as asked',
  'too-little': 'less than asked: does the support yield, or was the screw not turned as far?',
  'too-much': 'more than asked',
  'not-moved': 'not moved',
  'not-asked': 'moved though nothing was asked here: does its neighbour carry it along?',
  'turned-the-wrong-way': 'the other way: was the screw turned the wrong way?',
};

export function doneMoves(results: Results, figures: Figures): Table | null {
  const { done = [], response } = results.corrections;
  if (done.length === 0) return null;
  const unit = figures.units.deviation;
  const heading = [
    head('Adjuster'),
    head('Plane'),
    figureHead('Asked', unit.label),
    figureHead('Did', unit.label),
    head('What that says'),
  ];
  const groups = results.survey.rails
    .map((rail) => ({
      title: railTitle(rail),
      rows: done
        .filter((move) => move.rail === rail.id)
        .map(({ adjuster, axis, asked, did, says }) => {
          const text = measuredText(did.value, figures.k * did.u, unit, { signed: true });
          const decimals = (text.value.split('.')[1] ?? '').length;
          return row([
            rowHeader(adjuster),
            cell(moveWords[axis].join('/')),
            figure(asked === 0 ? '–' : numberText(unit.fromBase(asked), decimals, { signed: true })),
            figure(plusMinus(text)),
            cell(saysWords[says]),
          ]);
        }),
    }))
    .filter(({ rows }) => rows.length > 0);
  return table('Asked after as found, and done by as left', [heading], groups, {
    css: 'hidden-caption',
    notes: [
      'What the rail did at an adjuster is known but for a shift and a turn of the rail as a whole; these are taken so that most adjusters did what was asked.',
      ...(response?.learntFrom
        ? [
            `A move came out to within ${(100 * response.u).toFixed(0)}\u00a0% of itself (standard uncertainty, from ${response.learntFrom} moves); what is planned next allows for it.`,
          ]
        : []),
    ],
    mayBreak: true,
  });
}
