/** From the cells that name a point to the point, checked against the job. */
import type { Findings, Place } from '../../base/diagnostics/diagnostic.js';
import { alikeId, knownWords, type Declared } from '../job/declared.js';
import { nearest } from '../../base/diagnostics/nearest.js';
import { positionMm, type Rail, type Station } from '../job/job.js';
import type { Frame } from '../job/resolve-job.js';
import { SAME_PLACE_MM } from '../job/resolve-rails.js';
import { fromMm, type LengthUnit } from '../../base/units/units.js';

/**
 * The rail with that id. null: unknown, which is reported (READING_RAIL_UNKNOWN), or declared but faulty, which was
 * reported before.
 */
export function findRail(id: string, frame: Frame, place: () => Place, findings: Findings): Rail | null {
  const rail = lookAlike('rail', id, frame.rails, place, findings);
  if (rail !== undefined) return rail.found;
  if (!frame.rails.complete) return null;
  const known = knownWords(id, frame.rails.keys());
  findings.error('READING_RAIL_UNKNOWN', { found: id, known, meant: railAndStation(id, frame) }, place());
  return null;
}

/** `A1`, as a field sheet prints station 1 of rail A. */
function railAndStation(id: string, { rails }: Frame): string {
  const match = /^(.*?)[\s:.-]*(\d{1,4})$/u.exec(id);
  const rail = match === null ? null : (alikeId(match[1]!, rails.keys()) ?? null);
  return rail === null ? '' : `rail ${rail}, station ${Number(match![2])}`;
}

/**
 * The declaration with the id of a row, or with the only id that differs from it in capitals and blanks.
 *
 * Warns: ID_TAKEN_AS.
 *
 * @returns undefined: the id is unknown.
 */
export function lookAlike<T>(
  kind: string,
  id: string,
  declared: Declared<T>,
  place: () => Place,
  findings: Findings,
): { readonly found: T | null } | undefined {
  const exact = declared.get(id);
  if (exact !== undefined) return { found: exact };
  const taken = alikeId(id, declared.keys());
  if (taken === null) return undefined;
  findings.warn('ID_TAKEN_AS', { kind, found: id, taken }, place());
  return { found: declared.get(taken) ?? null };
}

/** Longer rails are not searched for the most similar number. */
const MAX_COMPARED = 200;

/** By its number, from 1. Reports: READING_STATION_UNKNOWN with the nearest number. */
export function findStation(
  rail: Rail,
  number: number,
  found: string,
  place: () => Place,
  findings: Findings,
): Station | null {
  const station = Number.isInteger(number) ? rail.stations[number - 1] : undefined;
  if (station !== undefined) return station;
  const count = rail.stations.length;
  // An additional or wrong digit is likelier than a number far outside.
  const numbers = count > MAX_COMPARED ? [] : rail.stations.map((s) => s.number);
  numbers.sort((a, b) => Math.abs(a - number) - Math.abs(b - number));
  const likely =
    nearest(found, numbers.map(String)) || String(Math.min(Math.max(Math.round(number), 1), count));
  findings.error('READING_STATION_UNKNOWN', { rail: rail.id, found, count, nearest: likely }, place());
  return null;
}

/** The station nearest to a position along the rail's own direction, mm. */
function nearestStation(rail: Rail, mm: number): Station {
  const { stations } = rail;
  let low = 0;
  let high = stations.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (positionMm(rail, stations[middle]!) <= mm) low = middle;
    else high = middle;
  }
  const [before, after] = [stations[low]!, stations[high]!];
  return mm - positionMm(rail, before) <= positionMm(rail, after) - mm ? before : after;
}

/**
 * By its position, within 0.5 mm.
 * Reports: READING_POSITION_UNKNOWN with the nearest station and its distance.
 */
export function findPosition(
  rail: Rail,
  mm: number,
  found: string,
  unit: LengthUnit,
  place: () => Place,
  findings: Findings,
): Station | null {
  const station = nearestStation(rail, mm);
  const off = Math.abs(positionMm(rail, station) - mm);
  // One micrometre more, so that 0.5 mm in inches is not refused because of rounding.
  if (off <= SAME_PLACE_MM + 0.001) return station;
  const inUnit = (value: number) => `${Number(fromMm(value, unit).toPrecision(6))} ${unit}`;
  const nearest = `station ${station.number} at ${inUnit(positionMm(rail, station))}, ${inUnit(off)} away`;
  findings.error('READING_POSITION_UNKNOWN', { rail: rail.id, found, nearest }, place());
  return null;
}
