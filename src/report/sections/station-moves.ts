/** Each station onto its own rail's least-squares line: which way and how far. */
import type { Quantity, Results, StationResult } from '../../results/results-schema.js';
import { alignDecimals, positionColumn, type ReportUnit } from '../format-quantity.js';
import { isKnown, lastPhase, type Figures } from '../figures.js';
import {
  cell,
  charactersAcross,
  figure,
  figureHead,
  head,
  row,
  rowHeader,
  table,
  type Cell,
  type Group,
  type Table,
} from '../table.js';
import { railTitle, stationName } from './characteristic-names.js';
import {
  aheadBack,
  decimalsOfMoves,
  LEAVE,
  leftRight,
  moveOf,
  upDown,
  type Direction,
} from './move-words.js';
import { thinStations } from './thin.js';

/** Characters across that have room twice beside each other. */
const NARROW = { A4: 42, Letter: 44 };

type Rail = Results['survey']['rails'][number];
type Departure = (station: StationResult) => Quantity | undefined;

/** One plane of one rail: where its stations lie, and the words for moving them. */
interface Plane {
  readonly departure: Departure;
  readonly words: Direction;
}

const planesOf = (rail: Rail): { vertical: Plane; sideways: Plane } => ({
  vertical: { departure: (s) => s.deviation.vertical, words: upDown },
  sideways:
    rail.direction === 'along'
      ? { departure: (s) => s.deviation.horizontal, words: leftRight }
      : { departure: (s) => s.deviation.along, words: aheadBack },
});

interface RailStations {
  readonly rail: Rail;
  readonly stations: readonly StationResult[];
}

export function stationMoves(results: Results, figures: Figures): Table | null {
  const unit = figures.units.deviation;
  const thinned = thinStations([lastPhase(results)]);
  const rails = railStations(results);
  const all = (plane: 'vertical' | 'sideways') =>
    rails.flatMap(({ rail, stations }) => stations.map(planesOf(rail)[plane].departure).filter(isKnown));
  const shown = { vertical: all('vertical').length > 0, sideways: all('sideways').length > 0 };
  if (!shown.vertical && !shown.sideways) return null;
  const decimals = decimalsOfMoves([...all('vertical'), ...all('sideways')], unit, figures);
  const groups = rails.map(({ rail, stations }): Group => {
    const { vertical, sideways } = planesOf(rail);
    const mine = stations.filter((s) => thinned.isShown(s.rail, s.station));
    const cells = (plane: Plane) =>
      moveCells(mine.map(plane.departure), plane.words, unit, decimals, figures);
    const [heights, places] = [cells(vertical), cells(sideways)];
    const positions = positionColumn(
      mine.map((s) => (rail.direction === 'along' ? s.along : s.across)),
      figures.units.length,
    );
    return {
      title: railTitle(rail),
      rows: mine.map((s, i) =>
        row([
          rowHeader(stationName(results.survey.rails, s.rail, s.station), { css: 'number' }),
          figure(positions[i]!),
          ...(shown.vertical ? heights[i]! : []),
          ...(shown.sideways ? places[i]! : []),
        ]),
      ),
    };
  });
  const moveHeads = (title: string) => [
    head(title, { unit: unit.label, colspan: 2, css: 'move' }),
    figureHead('U', '', { css: 'uncertainty' }),
  ];
  const heads = [
    figureHead('St.'),
    figureHead(
      rails.every(({ rail }) => rail.direction === 'across') ? 'Across' : 'Along',
      figures.units.length.label,
    ),
    ...(shown.vertical ? moveHeads('Height') : []),
    ...(shown.sideways ? moveHeads('Sideways') : []),
  ];
  const cross = rails.some(({ rail }) => rail.direction === 'across');
  return table('Each station onto its own rail’s least-squares line', [heads], groups, {
    css: 'moves hidden-caption',
    columns: charactersAcross(groups, [3, 9]) <= NARROW[results.style.paper],
    notes: [
      ...(cross
        ? ['Of a cross rail the position is that across, and sideways is ahead (+) or back (−).']
        : []),
      ...(thinned.everyNth === null
        ? []
        : [
            'Of this long survey a part of the stations is shown, the greatest deviations among them; all deviations are in stations.csv. A move is the deviation with its sign turned.',
          ]),
    ],
  });
}

/** The rails that have a move to tell, each with the stations that do. */
function railStations(results: Results): RailStations[] {
  const { stations } = lastPhase(results).phase;
  return results.survey.rails.flatMap((rail) => {
    const { vertical, sideways } = planesOf(rail);
    const known = stations.filter(
      (s) => s.rail === rail.id && (isKnown(vertical.departure(s)) || isKnown(sideways.departure(s))),
    );
    return known.length === 0 ? [] : [{ rail, stations: known }];
  });
}

/** Direction word, size and U for each departure. */
function moveCells(
  departures: readonly (Quantity | undefined)[],
  words: Direction,
  unit: ReportUnit,
  decimals: number,
  figures: Figures,
): Cell[][] {
  const moves = departures.map((q) => (isKnown(q) ? moveOf(q, words, unit, decimals, figures) : null));
  const expanded = alignDecimals(moves.map((move) => move?.expanded ?? ''));
  return moves.map((move, i) => [
    cell(move?.word ?? '–', { css: move?.word === LEAVE ? 'move quiet' : 'move' }),
    figure(move?.size ?? '', { css: 'size' }),
    figure(expanded[i]!, { css: 'uncertainty' }),
  ]);
}
