/** Each rail as a whole, end by end: the datum rail to lie level, the others to lie level with it and parallel to it. */
import type { Results, StationResult } from '../../results/results-schema.js';
import { plusMinus, positionText, withUnit } from '../format-quantity.js';
import { isKnown, lastPhase, type Figures } from '../figures.js';
import { cell, head, row, rowHeader, table, type Cell, type Group, type Table } from '../table.js';
import { NOT_DETERMINED } from '../texts.js';
import { railTitle } from './characteristic-names.js';
import { decimalsOfMoves, LEAVE, leftRight, moveOf, upDown, type Direction } from './move-words.js';

type Rail = Results['survey']['rails'][number];
type Plane = 'vertical' | 'horizontal';

/** How far a rail's line departs from where it should lie, at one of the rail's end stations. */
interface LineEnd {
  readonly station: StationResult;
  readonly um: number;
  readonly u: number;
}
type Ends = readonly [LineEnd, LineEnd];

interface RailEnds {
  readonly title: string;
  readonly vertical: Ends | null;
  /** undefined: there is nothing to move it to. */
  readonly horizontal: Ends | null | undefined;
}

export function railMoves(results: Results, figures: Figures): Table | null {
  const datum = results.survey.rails.find((rail) => rail.datum);
  if (!datum) return null;
  const { stations, offsetTied } = lastPhase(results).phase;
  const others = results.survey.rails.filter((rail) => !rail.datum && rail.direction === 'along');
  const level = levelEnds(datum, results);
  const rails: RailEnds[] = [
    ...(level
      ? [
          {
            title: `${railTitle(datum)}, to lie level, about its middle`,
            vertical: level,
            horizontal: undefined,
          },
        ]
      : []),
    ...others.flatMap((rail) => {
      const vertical = endsAgainst(rail, datum, stations, 'vertical');
      const horizontal = endsAgainst(rail, datum, stations, 'horizontal');
      const title = `${railTitle(rail)}, to lie level with rail ${datum.id} and parallel to it`;
      return vertical || horizontal ? [{ title, vertical, horizontal }] : [];
    }),
  ];
  if (rails.length === 0) return null;
  const all = rails.flatMap(({ vertical, horizontal }) => [...(vertical ?? []), ...(horizontal ?? [])]);
  const decimals = decimalsOfMoves(
    all.map(({ um, u }) => ({ value: um, u })),
    figures.units.deviation,
    figures,
  );
  const groups = rails.map((ends) => groupOf(ends, decimals, figures));
  const follows = level !== null && rails.length > 1;
  const untied = rails.length > (level ? 1 : 0) && !others.some((rail) => offsetTied[rail.id]);
  return table(
    'Each rail as a whole',
    [[head('End of the rail'), head('Height'), head('Sideways')]],
    groups,
    {
      css: 'ends hidden-caption',
      notes: [
        `Between the ends in proportion. ± is ${figures.expanded} of the end station.`,
        ...(follows
          ? [`The others come to rail ${datum.id} as it lies; where it is moved, they move as much more.`]
          : []),
        ...(untied
          ? ['The distance across was not measured: sideways moves turn a rail about its middle.']
          : []),
      ],
    },
  );
}

function groupOf({ title, vertical, horizontal }: RailEnds, decimals: number, figures: Figures): Group {
  const rows = [0, 1].map((end) => {
    const at = (vertical ?? horizontal)![end]!.station;
    const place = withUnit(positionText(at.along, figures.units.length), figures.units.length);
    return row([
      rowHeader(`${end === 0 ? 'First' : 'Last'} end, station ${at.station}, along ${place}`),
      endCell(vertical?.[end], upDown, decimals, figures),
      horizontal === undefined ? cell('–') : endCell(horizontal?.[end], leftRight, decimals, figures),
    ]);
  });
  return { title, rows };
}

/** The datum rail against gravity, turned about its middle. */
function levelEnds(datum: Rail, results: Results): Ends | null {
  const { characteristics, stations } = lastPhase(results).phase;
  const slope = characteristics.find(({ what, rail }) => what === 'level-along' && rail === datum.id);
  const own = stations.filter(({ rail }) => rail === datum.id);
  const [first, last] = [own[0], own.at(-1)];
  if (!slope || slope.value === null || slope.u === null || !first || !last || first === last) return null;
  const halfM = (last.along - first.along) / 2000;
  const end = (station: StationResult, side: number): LineEnd => ({
    station,
    um: side * slope.value! * halfM,
    u: slope.u! * halfM,
  });
  return [end(first, -1), end(last, 1)];
}

/** How far the rail's least-squares line stands from the datum rail's at the rail's first and last station. */
function endsAgainst(rail: Rail, datum: Rail, stations: readonly StationResult[], plane: Plane): Ends | null {
  const own = linePoints(rail, stations, plane);
  const reference = linePoints(datum, stations, plane);
  const [first, last] = [own[0], own.at(-1)];
  const [from, to] = [reference[0], reference.at(-1)];
  if (!first || !last || !from || !to || first === last || from === to) return null;
  const slope = (to.um - from.um) / (to.station.along - from.station.along);
  const departure = ({ station, um, u }: LineEnd): LineEnd => ({
    station,
    um: um - (from.um + slope * (station.along - from.station.along)),
    u,
  });
  return [departure(first), departure(last)];
}

/** Points of a rail's least-squares line: a station less its deviation from that line. */
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

function endCell(end: LineEnd | undefined, words: Direction, decimals: number, figures: Figures): Cell {
  if (!end) return cell(NOT_DETERMINED, { css: 'quiet' });
  const unit = figures.units.deviation;
  const { word, size, expanded, rounded } = moveOf(
    { value: end.um, u: end.u },
    words,
    unit,
    decimals,
    figures,
  );
  if (word === LEAVE) return cell(`leave (U\u00a0=\u00a0${withUnit(expanded, unit)})`, { css: 'quiet' });
  const shift = words === leftRight ? `shift ${word}` : word;
  return cell(`${shift} ${withUnit(plusMinus({ value: size, expanded: rounded }), unit)}`);
}
