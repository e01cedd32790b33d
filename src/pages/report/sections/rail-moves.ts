/** Each rail as a whole, end by end: the datum rail to lie level, the others to lie level with it and parallel to it. */
import type { RailMove, Results } from '../../../results/results-schema.js';
import { plusMinus, positionText, withUnit } from '../../../results/words/format-quantity.js';
import { lastPhase, type Figures } from '../figures.js';
import { cell, head, row, rowHeader, table, type Cell, type Group, type Table } from '../table.js';
import { NOT_DETERMINED } from '../../../results/words/texts.js';
import { railTitle } from './characteristic-names.js';
import { LEAVE, moveText } from './move-words.js';

export function railMoves(results: Results, figures: Figures): Table | null {
  const { rails: moves = [] } = results.corrections;
  const datum = results.survey.rails.find((rail) => rail.datum);
  if (!datum || moves.length === 0) return null;
  const { offsetTied } = lastPhase(results).phase;
  const groups = results.survey.rails.flatMap((rail): Group[] => {
    const own = moves.filter((move) => move.rail === rail.id);
    if (own.length === 0) return [];
    const title = rail.datum
      ? `${railTitle(rail)}, to lie level, about its middle`
      : `${railTitle(rail)}, to lie level with rail ${datum.id} and parallel to it`;
    return [{ title, rows: endRows(own, rail.datum, figures) }];
  });
  const level = moves.some(({ to }) => to === 'level');
  const others = results.survey.rails.filter((rail) => !rail.datum && rail.direction === 'along');
  const untied = groups.length > (level ? 1 : 0) && !others.some((rail) => offsetTied[rail.id]);
  return table(
    'Each rail as a whole',
    [[head('End of the rail'), head('Height'), head('Sideways')]],
    groups,
    {
      css: 'ends hidden-caption',
      notes: [
        `Between the ends in proportion. ± is ${figures.expanded} of the end station.`,
        ...(level && groups.length > 1
          ? [`The others come to rail ${datum.id} as it lies; where it is moved, they move as much more.`]
          : []),
        ...(untied
          ? ['The distance across was not measured: sideways moves turn a rail about its middle.']
          : []),
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
      rowHeader(`${end === 0 ? 'First' : 'Last'} end, station ${at.station}, along ${place}`),
      endCell(vertical, end, figures),
      isDatum ? cell('–') : endCell(horizontal, end, figures),
    ]);
  });
}

function endCell(move: RailMove | undefined, end: number, figures: Figures): Cell {
  if (!move) return cell(NOT_DETERMINED, { css: 'quiet' });
  const unit = figures.units.deviation;
  const { word, size, expanded } = moveText(move.ends[end]!, move.axis, figures);
  if (word === LEAVE) return cell(`leave (U\u00a0=\u00a0${withUnit(expanded, unit)})`, { css: 'quiet' });
  const shift = move.axis === 'horizontal' ? `shift ${word}` : word;
  return cell(`${shift} ${withUnit(plusMinus({ value: size, expanded }), unit)}`);
}
