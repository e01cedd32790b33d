/** stations.csv: every station of every phase with its standard uncertainties, unrounded, in results.json's units. */
import { stringify } from 'csv-stringify/sync';
import type { Quantity, Results, StationResult } from '../../results/results-schema.js';
import { guarded } from './csv-cell.js';
import { plainNumber } from '../../results/words/format-quantity.js';
import { lastPhase, phasesOf } from './figures.js';

const quantities: readonly [name: string, pick: (station: StationResult) => Quantity | undefined][] = [
  ['height', (s) => s.height],
  ['offset', (s) => s.offset],
  ['ahead', (s) => s.ahead],
  ['deviation_vertical', (s) => s.deviation.vertical],
  ['deviation_horizontal', (s) => s.deviation.horizontal],
  ['deviation_along', (s) => s.deviation.along],
  ['difference_height', (s) => s.difference?.height],
  ['difference_offset', (s) => s.difference?.offset],
];

/** To where a station is wanted, from the last phase: + up, left, ahead. */
const MOVES = ['vertical', 'horizontal', 'along'] as const;
const moveKey = (rail: string, station: number, axis: string): string =>
  JSON.stringify([rail, station, axis]);

/**
 * Comma, decimal point, LF, UTF-8; `_u_` columns are standard uncertainties (k = 1). A blank figure was not read, or is
 * not determined, in which case `not_determined` says why.
 */
export function stationsCsv(results: Results): string {
  const header = [
    'phase',
    'rail',
    'station',
    'along_mm',
    'across_mm',
    ...quantities.flatMap(([name]) => [`${name}_um`, `${name}_u_um`]),
    'not_determined',
    ...MOVES.map((axis) => `move_${axis}_um`),
  ];
  const last = lastPhase(results).name;
  const moves = new Map(
    (results.corrections.points ?? []).map((p) => [moveKey(p.rail, p.station, p.axis), p.move]),
  );
  const rows = phasesOf(results).flatMap(({ name, phase }) =>
    phase.stations.map((station) => [
      ...stationRow(name, station),
      ...MOVES.map((axis) => {
        const move = name === last ? moves.get(moveKey(station.rail, station.station, axis)) : undefined;
        return move === undefined ? '' : plainNumber(move);
      }),
    ]),
  );
  return stringify([header, ...rows]);
}

/** Every cell a text: numbers written by us in full, never as 1e-7, and never touched by the guard below. */
function stationRow(phase: string, station: StationResult): string[] {
  const figures = quantities.flatMap(([, pick]) => {
    const quantity = pick(station);
    return quantity === undefined || quantity.value === null
      ? ['', '']
      : [plainNumber(quantity.value), plainNumber(quantity.u)];
  });
  const why = quantities.flatMap(([name, pick]) => {
    const quantity = pick(station);
    return quantity !== undefined && quantity.value === null ? [`${name}: ${quantity.why}`] : [];
  });
  return [
    guarded(phase),
    guarded(station.rail),
    plainNumber(station.station),
    plainNumber(station.along),
    plainNumber(station.across),
    ...figures,
    guarded(why.join('; ')),
  ];
}
