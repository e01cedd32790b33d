/**
 * What to move: the page that the crew takes to the machine. Two parts that add up: a rail as a whole onto the
 * datum rail's line, and each station onto its own rail's line.
 */
import type { Quantity, Results, StationResult } from '../../results/results-schema.js';
import {
  alignDecimals,
  plusMinus,
  positionColumn,
  positionText,
  withUnit,
  type ReportUnit,
} from '../format-quantity.js';
import { isKnown, lastPhase, quantityText, type Figures } from '../figures.js';
import {
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
import { CAUTIONS, phaseWords } from '../texts.js';
import { thinStations } from './thin.js';

export interface Moves {
  /** Of the section: one that fits on a page is not parted, for the crew takes it along. */
  readonly css: string;
  readonly intro: string;
  readonly rails: Table | null;
  readonly stations: Table | null;
  readonly cautions: typeof CAUTIONS;
}

/** Rows of stations that fit on a page under the cautions, in one column. */
const ROWS_OF_A_PAGE = 28;
/** Characters across that have room twice beside each other. */
const NARROW = { A4: 40, Letter: 42 };

type Known = Extract<Quantity, { value: number }>;
type Rail = Results['survey']['rails'][number];

/** Words for the move that undoes a departure. */
interface Direction {
  /** Where the departure is positive. */
  readonly undoPlus: string;
  readonly undoMinus: string;
}

const upDown: Direction = { undoPlus: 'lower', undoMinus: 'raise' };
const leftRight: Direction = { undoPlus: 'right', undoMinus: 'left' };
const aheadBack: Direction = { undoPlus: 'back', undoMinus: 'ahead' };

export function moves(results: Results, figures: Figures): Moves | null {
  const { name, phase } = lastPhase(results);
  const rails = wholeRailTable(results, phase.stations, figures);
  const stations = stationTable(results, phase.stations, figures);
  if (!rails && !stations) return null;
  const rows = (stations?.groups ?? []).reduce((sum, group) => sum + group.rows.length + 1, 0);
  const columns = stations?.wrap.includes('in-columns') ? 2 : 1;
  return {
    css: rows <= ROWS_OF_A_PAGE * columns ? 'moves-page' : '',
    intro: `For the crew, from the readings ${phaseWords[name]}. For information: it does not take the place of the machine builder’s procedure. Left and right are those of someone who faces increasing along. “leave” stands where a move would be smaller than its own uncertainty U.`,
    rails,
    stations,
    cautions: CAUTIONS,
  };
}

/* -- each station onto its own rail's line -- */

function stationTable(results: Results, stations: readonly StationResult[], figures: Figures): Table | null {
  const thinned = thinStations([lastPhase(results)]);
  const deviation = figures.units.deviation;
  const planes = { vertical: false, sideways: false };
  const sidewaysOf = (rail: Rail) =>
    rail.direction === 'along' ? ('horizontal' as const) : ('along' as const);
  for (const rail of results.survey.rails)
    for (const s of stations.filter((s) => s.rail === rail.id)) {
      planes.vertical ||= isKnown(s.deviation.vertical);
      planes.sideways ||= isKnown(s.deviation[sidewaysOf(rail)]);
    }
  const groups = results.survey.rails.flatMap((rail): Group[] => {
    const sideways = sidewaysOf(rail);
    const mine = stations.filter((s) => s.rail === rail.id && thinned.isShown(s.rail, s.station));
    const known = mine.filter((s) => isKnown(s.deviation.vertical) || isKnown(s.deviation[sideways]));
    if (known.length === 0) return [];
    const positions = positionColumn(
      known.map((s) => (rail.direction === 'along' ? s.along : s.across)),
      figures.units.length,
    );
    const vertical = moveCells(
      known.map((s) => s.deviation.vertical),
      upDown,
      deviation,
      figures,
    );
    const horizontal = moveCells(
      known.map((s) => s.deviation[sideways]),
      rail.direction === 'along' ? leftRight : aheadBack,
      deviation,
      figures,
    );
    return [
      {
        title: `Rail ${rail.id}${rail.name ? ` · ${rail.name}` : ''}`,
        rows: known.map((s, i) =>
          row([
            rowHeader(String(s.station), { css: 'number' }),
            figure(positions[i]!),
            ...(planes.vertical ? vertical[i]! : []),
            ...(planes.sideways ? horizontal[i]! : []),
          ]),
        ),
      },
    ];
  });
  if (groups.length === 0) return null;
  const moveHeads = (title: string) => [
    head(title, { unit: deviation.label, colspan: 2, css: 'move' }),
    figureHead('U', '', { css: 'uncertainty' }),
  ];
  return table(
    'Each station onto its own rail’s least-squares line',
    [
      [
        figureHead('St.'),
        figureHead('Along', figures.units.length.label),
        ...(planes.vertical ? moveHeads('Height') : []),
        ...(planes.sideways ? moveHeads('Sideways') : []),
      ],
    ],
    groups,
    {
      css: 'moves hidden-caption',
      columns: charactersAcross(groups, [3, 9]) <= NARROW[results.style.paper],
      notes:
        thinned.everyNth === null
          ? []
          : [
              'Of this long survey a part of the stations is shown, the greatest deviations among them; all deviations are in stations.csv. A move is the deviation with its sign turned.',
            ],
    },
  );
}

/** Direction word, size and U for each departure. */
function moveCells(
  departures: readonly (Quantity | undefined)[],
  words: Direction,
  unit: ReportUnit,
  figures: Figures,
): Cell[][] {
  const texts = departures.map((q) => (isKnown(q) ? moveOf(q, words, unit, figures) : null));
  const sizes = alignDecimals(texts.map((text) => text?.size ?? ''));
  const expanded = alignDecimals(texts.map((text) => text?.expanded ?? ''));
  return texts.map((text, i) => [
    cellOfMove(text?.word ?? '–'),
    figure(sizes[i]!, { css: 'size' }),
    figure(expanded[i]!, { css: 'uncertainty' }),
  ]);
}

const cellOfMove = (word: string): Cell => ({
  text: word,
  detail: '',
  mark: '',
  css: word === 'leave' ? 'move quiet' : 'move',
  header: false,
});

function moveOf(departure: Known, words: Direction, unit: ReportUnit, figures: Figures) {
  const { expanded } = quantityText(figures, departure, unit);
  const size = quantityText(figures, { value: Math.abs(departure.value), u: departure.u }, unit).value;
  if (Math.abs(departure.value) <= figures.k * departure.u || !/[1-9]/.test(size))
    return { word: 'leave', size: '', expanded };
  return { word: departure.value > 0 ? words.undoPlus : words.undoMinus, size, expanded };
}

/* -- a rail as a whole onto the datum rail's line -- */

/** The rail's least-squares line at a station: the station less its deviation from that line. */
interface LineEnd {
  readonly station: StationResult;
  readonly um: number;
  readonly u: number;
}

type Plane = 'vertical' | 'horizontal';

function wholeRailTable(
  results: Results,
  stations: readonly StationResult[],
  figures: Figures,
): Table | null {
  const datum = results.survey.rails.find((rail) => rail.datum);
  if (!datum) return null;
  const others = results.survey.rails.filter((rail) => !rail.datum && rail.direction === 'along');
  const groups = others.flatMap((rail): Group[] => {
    const vertical = endMoves(rail, datum, stations, 'vertical');
    const horizontal = endMoves(rail, datum, stations, 'horizontal');
    if (!vertical && !horizontal) return [];
    const rows = [0, 1].map((end) => {
      const at = (vertical ?? horizontal)![end]!.station;
      const place = withUnit(positionText(at.along, figures.units.length), figures.units.length);
      return row([
        rowHeader(`${end === 0 ? 'First' : 'Last'} end, station ${at.station}, along ${place}`),
        endCell(vertical?.[end], upDown, figures),
        endCell(horizontal?.[end], leftRight, figures),
      ]);
    });
    return [{ title: `Rail ${rail.id}${rail.name ? ` · ${rail.name}` : ''}`, rows }];
  });
  if (groups.length === 0) return null;
  const tied = others.some((rail) => lastPhase(results).phase.offsetTied[rail.id]);
  return table(
    `The rail as a whole, to lie level with rail ${datum.id} and parallel to it`,
    [[head('End of the rail'), head('Height'), head('Sideways')]],
    groups,
    {
      css: 'ends hidden-caption',
      notes: [
        `Between the ends in proportion. ± is ${figures.expanded} of the single end station, not less than that of the line.${tied ? '' : ' Sideways moves turn the rail about its middle, as the distance across was not measured.'}`,
      ],
    },
  );
}

/** How far the rail's line stands from the datum rail's at the rail's first and last station. */
function endMoves(
  rail: Rail,
  datum: Rail,
  stations: readonly StationResult[],
  plane: Plane,
): [LineEnd, LineEnd] | null {
  const own = linePoints(rail, stations, plane);
  const reference = linePoints(datum, stations, plane);
  const first = own[0];
  const last = own.at(-1);
  const from = reference[0];
  const to = reference.at(-1);
  if (!first || !last || !from || !to || first === last || from === to) return null;
  const slope = (to.um - from.um) / (to.station.along - from.station.along);
  const departure = ({ station, um, u }: LineEnd): LineEnd => ({
    station,
    um: um - (from.um + slope * (station.along - from.station.along)),
    u,
  });
  return [departure(first), departure(last)];
}

function linePoints(rail: Rail, stations: readonly StationResult[], plane: Plane): LineEnd[] {
  return stations.flatMap((station) => {
    if (station.rail !== rail.id) return [];
    const place = plane === 'vertical' ? station.height : station.offset;
    const deviation = station.deviation[plane];
    if (!isKnown(place) || !isKnown(deviation)) return [];
    const difference = plane === 'vertical' ? station.difference?.height : station.difference?.offset;
    return [{ station, um: place.value - deviation.value, u: isKnown(difference) ? difference.u : place.u }];
  });
}

function endCell(end: LineEnd | undefined, words: Direction, figures: Figures): Cell {
  const cellOf = (text: string, quiet = false): Cell => ({
    text,
    detail: '',
    mark: '',
    css: quiet ? 'quiet' : '',
    header: false,
  });
  if (!end) return cellOf('not determined', true);
  const unit = figures.units.deviation;
  const move = moveOf({ value: end.um, u: end.u }, words, unit, figures);
  if (move.word === 'leave') return cellOf(`leave (U = ${withUnit(move.expanded, unit)})`, true);
  return cellOf(
    `${sideways(move.word)} ${withUnit(plusMinus({ value: move.size, expanded: move.expanded }), unit)}`,
  );
}

const sideways = (word: string): string => (word === 'left' || word === 'right' ? `shift ${word}` : word);
