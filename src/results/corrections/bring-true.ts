/**
 * The move that brings each station to where it is wanted, with its sign, and the two parts that make it: the rail as a
 * whole, onto its line, and the station, onto the rail's line. For whoever has no adjusters to turn, and as background.
 *
 * Wanted is, as far as the readings tell: in height, level with the mean of the datum rail; sideways, on a line parallel
 * to the datum rail's; where they tell neither, on the rail's own line.
 */
import { isKnown } from '../known.js';
import type {
  PhaseResults,
  PointMove,
  Quantity,
  RailMove,
  Results,
  StationResult,
} from '../results-schema.js';

type Rail = Results['survey']['rails'][number];

/** @returns Every station and plane that was read and has a place of its own to go to. */
export function pointMoves(rails: readonly Rail[], { stations }: PhaseResults): PointMove[] {
  return rails.flatMap((rail) => {
    const own = stations.filter((s) => s.rail === rail.id);
    return own.flatMap((station) => [
      ...pointMove(rail, station, 'vertical', placeIn(station, 'vertical'), station.deviation.vertical),
      ...(rail.direction === 'along'
        ? pointMove(rail, station, 'horizontal', placeIn(station, 'horizontal'), station.deviation.horizontal)
        : pointMove(rail, station, 'along', station.ahead, station.deviation.along)),
    ]);
  });
}

function placeIn(station: StationResult, plane: 'vertical' | 'horizontal'): Quantity | undefined {
  const [place, difference] =
    plane === 'vertical'
      ? [station.height, station.difference?.height]
      : [station.offset, station.difference?.offset];
  return isKnown(place) ? place : difference;
}

function pointMove(
  rail: Rail,
  station: StationResult,
  axis: PointMove['axis'],
  place: Quantity | undefined,
  deviation: Quantity | undefined,
): PointMove[] {
  const to = isKnown(place) ? place : isKnown(deviation) ? deviation : null;
  if (to === null) return [];
  return [
    {
      rail: rail.id,
      station: station.station,
      along: rail.direction === 'along' ? station.along : station.across,
      axis,
      move: -to.value,
      u: to.u,
      ...(isKnown(deviation) && {
        ofStation: -deviation.value,
        ...(isKnown(place) && { ofRail: deviation.value - place.value }),
      }),
    },
  ];
}

/** Each rail as a whole, at its first and last station: the datum rail to lie level, the others with it. */
export function railMoves(rails: readonly Rail[], phase: PhaseResults): RailMove[] {
  const datum = rails.find((rail) => rail.datum);
  if (!datum) return [];
  const others = rails.filter((rail) => !rail.datum && rail.direction === 'along');
  return [
    ...levelEnds(datum, phase),
    ...others.flatMap((rail) =>
      (['vertical', 'horizontal'] as const).flatMap((axis) => endsAgainst(rail, datum, phase.stations, axis)),
    ),
  ];
}

/** The datum rail against gravity, turned about its middle. */
function levelEnds(datum: Rail, { characteristics, stations }: PhaseResults): RailMove[] {
  const slope = characteristics.find(({ what, rail }) => what === 'level-along' && rail === datum.id);
  const own = stations.filter(({ rail }) => rail === datum.id);
  const [first, last] = [own[0], own.at(-1)];
  if (!slope || slope.value === null || slope.u === null || !first || !last || first === last) return [];
  const halfM = (last.along - first.along) / 2000;
  const end = (station: StationResult, side: number): RailMove['ends'][number] => ({
    station: station.station,
    along: station.along,
    move: -side * slope.value! * halfM,
    u: slope.u! * halfM,
  });
  return [{ rail: datum.id, axis: 'vertical', to: 'level', ends: [end(first, -1), end(last, 1)] }];
}

interface LinePoint {
  readonly station: StationResult;
  readonly um: number;
  readonly u: number;
}

/** How far the rail's least-squares line stands from the datum rail's at the rail's first and last station. */
function endsAgainst(
  rail: Rail,
  datum: Rail,
  stations: readonly StationResult[],
  axis: 'vertical' | 'horizontal',
): RailMove[] {
  const own = linePoints(rail, stations, axis);
  const reference = linePoints(datum, stations, axis);
  const [first, last] = [own[0], own.at(-1)];
  const [from, to] = [reference[0], reference.at(-1)];
  if (!first || !last || !from || !to || first === last || from === to) return [];
  const slope = (to.um - from.um) / (to.station.along - from.station.along);
  const end = ({ station, um, u }: LinePoint): RailMove['ends'][number] => ({
    station: station.station,
    along: station.along,
    move: from.um + slope * (station.along - from.station.along) - um,
    u,
  });
  return [{ rail: rail.id, axis, to: 'datum', ends: [end(first), end(last)] }];
}

/** Points of a rail's least-squares line: a station less its deviation from that line. */
function linePoints(
  rail: Rail,
  stations: readonly StationResult[],
  axis: 'vertical' | 'horizontal',
): LinePoint[] {
  return stations.flatMap((station) => {
    if (station.rail !== rail.id) return [];
    const place = axis === 'vertical' ? station.height : station.offset;
    const deviation = station.deviation[axis];
    if (!isKnown(place) || !isKnown(deviation)) return [];
    const difference = axis === 'vertical' ? station.difference?.height : station.difference?.offset;
    return [{ station, um: place.value - deviation.value, u: isKnown(difference) ? difference.u : place.u }];
  });
}
