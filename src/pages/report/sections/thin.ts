/** The stations that a table shows if there are too many to print all. */
import { greatestBy, groupBy, leastBy } from '../../../base/lists.js';
import { type NamedPhase, isKnown } from '../figures.js';
import type { StationResult } from '../../../results/results-schema.js';

/** Up to this number of stations of all rails, all are printed. */
export const MOST_STATIONS_PRINTED = 100;
/** Number of printed stations per rail of a larger survey, at equal steps, plus the extremes. */
const EVEN_STEPS_ALL_RAILS = 60;

export interface Thinned {
  /** null: all are shown. */
  readonly everyNth: number | null;
  readonly isShown: (rail: string, station: number) => boolean;
}

/** All stations of a short survey; every nth station of a long one, with the ends and the stations with extreme deviations. */
export function thinStations(phases: readonly NamedPhase[]): Thinned {
  const byRail = stationNumbers(phases);
  const total = [...byRail.values()].reduce((sum, list) => sum + list.length, 0);
  if (total <= MOST_STATIONS_PRINTED) return { everyNth: null, isShown: () => true };
  const perRail = Math.max(2, Math.floor(EVEN_STEPS_ALL_RAILS / byRail.size));
  const longest = Math.max(...[...byRail.values()].map((list) => list.length));
  const everyNth = roundStep(longest / perRail);
  const shown = new Set<string>();
  for (const [rail, stations] of byRail)
    stations.forEach((station, i) => {
      if (i % everyNth === 0 || i === stations.length - 1) shown.add(key(rail, station));
    });
  for (const { phase } of phases)
    for (const at of extremes(phase.stations)) shown.add(key(at.rail, at.station));
  return { everyNth, isShown: (rail, station) => shown.has(key(rail, station)) };
}

const key = (rail: string, station: number) => `${station} ${rail}`;

/** The smallest of 1, 2, 5, 10, 20, … that is not below the number. */
function roundStep(step: number): number {
  for (let decade = 1; ; decade *= 10)
    for (const digit of [1, 2, 5]) if (digit * decade >= step) return digit * decade;
}

function stationNumbers(phases: readonly NamedPhase[]): Map<string, number[]> {
  const byRail = groupBy(
    phases.flatMap(({ phase }) => phase.stations),
    ({ rail }) => rail,
  );
  const numbersOf = (list: readonly StationResult[]) => [...new Set(list.map(({ station }) => station))];
  return new Map([...byRail].map(([rail, list]) => [rail, numbersOf(list).sort((a, b) => a - b)]));
}

const planes = ['vertical', 'horizontal', 'along'] as const;

function extremes(stations: readonly StationResult[]): StationResult[] {
  return planes.flatMap((plane) => {
    const known = stations.filter((station) => isKnown(station.deviation[plane]));
    const valueOf = (station: StationResult) => deviation(station, plane);
    return [...groupBy(known, ({ rail }) => rail).values()].flatMap((own) => [
      greatestBy(own, valueOf)!,
      leastBy(own, valueOf)!,
    ]);
  });
}

const deviation = (station: StationResult, plane: (typeof planes)[number]): number =>
  station.deviation[plane]?.value ?? 0;
