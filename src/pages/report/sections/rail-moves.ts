/** Each rail as a whole, end by end: the datum rail to lie level, the others to lie level with it and parallel to it. */
import type { RailMove, Results } from '../../../results/results-schema.js';
import { plusMinus, positionText, withUnit } from '../../../results/words/format-quantity.js';
import { lastPhase, type Figures } from '../figures.js';
import { cell, head, row, rowHeader, table, type Cell, type Group, type Table } from '../table.js';
import { railTitle } from './characteristic-names.js';
import { moveText } from './move-words.js';

export function railMoves(results: Results, figures: Figures): Table | null {
  const { say } = figures;
  const { rails: moves = [] } = results.corrections;
  const datum = results.survey.rails.find((rail) => rail.datum);
  if (!datum || moves.length === 0) return null;
  const { offsetTied } = lastPhase(results).phase;
  const groups = results.survey.rails.flatMap((rail): Group[] => {
    const own = moves.filter((move) => move.rail === rail.id);
    if (own.length === 0) return [];
    const title = say(rail.datum ? 'ends.datum' : 'ends.other', {
      rail: railTitle(rail, figures),
      datum: datum.id,
    });
    return [{ title, rows: endRows(own, rail.datum, figures) }];
  });
  const level = moves.some(({ to }) => to === 'level');
  const others = results.survey.rails.filter((rail) => !rail.datum && rail.direction === 'along');
  const untied = groups.length > (level ? 1 : 0) && !others.some((rail) => offsetTied[rail.id]);
  return table(
    say('ends.caption'),
    [[head(say('head.end')), head(say('head.height')), head(say('head.sideways'))]],
    groups,
    {
      css: 'ends hidden-caption',
      notes: [
        say('ends.note', { expanded: figures.expanded }),
        ...(level && groups.length > 1 ? [say('ends.others', { datum: datum.id })] : []),
        ...(untied ? [say('ends.untied')] : []),
      ],
    },
  );
}

function endRows(moves: readonly RailMove[], isDatum: boolean, figures: Figures) {
  const [vertical, horizontal] = (['vertical', 'horizontal'] as const).map((axis) =>
    moves.find((move) => move.axis === axis),
  );
  return [0, 1].map((end) => {
    const at = (vertical ?? horizontal)!.ends[end]!;
    const place = withUnit(positionText(at.along, figures.units.length), figures.units.length);
    return row([
      rowHeader(figures.say(end === 0 ? 'ends.first' : 'ends.last', { station: String(at.station), place })),
      endCell(vertical, end, figures),
      isDatum ? cell('–') : endCell(horizontal, end, figures),
    ]);
  });
}

function endCell(move: RailMove | undefined, end: number, figures: Figures): Cell {
  if (!move) return cell(figures.say('not-determined'), { css: 'quiet' });
  const unit = figures.units.deviation;
  const { direction, size, expanded } = moveText(move.ends[end]!, move.axis, figures);
  if (direction === 'leave')
    return cell(figures.say('ends.leave', { u: withUnit(expanded, unit) }), { css: 'quiet' });
  return cell(
    figures.say(`ends.${direction}`, { amount: withUnit(plusMinus({ value: size, expanded }), unit) }),
  );
}
