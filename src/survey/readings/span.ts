/** Rows of kind `span`: the horizontal distance across between two rails. */
import { positionMm, type Rail, type Station } from '../job/job.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import type { Frame } from '../job/resolve-job.js';
import { SAME_PLACE_MM } from '../job/resolve-rails.js';
import { fromMm, fromUm, type LengthUnit } from '../../base/units/units.js';
import { findPosition, findRail } from './points.js';
import { checkRange } from './range.js';
import type { Row } from './row.js';
import { exclude, leaveBlank, type Sink } from './sink.js';

/** A span further from nominal than this share of it was read in another unit, or between other rails. */
const PLAUSIBLE = 0.05;

/**
 * Reports: READING_RAIL_UNKNOWN, READING_STATION_UNKNOWN, READING_POSITION_UNKNOWN (also where the other rail
 * has no station opposite); READING_SAME_POINT for rails without a distance across; READING_AXIS_REFUSED for
 * cross rails; READING_SPAN_IMPLAUSIBLE; READING_OUT_OF_RANGE; as warnings READING_ROW_EMPTY and
 * READING_NEAR_RANGE; what row.ts reports of cells.
 */
export function readSpanRow(row: Row, entry: FileEntry, frame: Frame, sink: Sink): void {
  const used = row.isUsed();
  const rail = readRail(row, frame, 'rail');
  const other = readRail(row, frame, 'other');
  const station = rail === null ? null : row.station(rail, 'station', 'position');
  if (!used) return exclude(row, entry, sink, { what: describe(row, entry.unit) });
  if (row.text('span') === '') return leaveBlank(row, entry, sink, { what: describe(row, entry.unit) });
  const um = row.um('span', entry.unit);
  const common = { source: row.source, pass: row.pass(), time: row.time(), note: row.text('note') };
  const instrument = frame.instruments.get(entry.instrument ?? '') ?? null;
  if (um !== null) checkRange(um, instrument, entry.unit, row, 'span');
  if (rail === null || other === null || station === null) return;
  const opposite = findOpposite(rail, station, other, row, frame);
  if (opposite === null || um === null || instrument === null) return;
  const nominalMm = Math.abs(opposite.acrossMm - station.acrossMm);
  const departureUm = um - nominalMm * 1000;
  if (Math.abs(departureUm) > PLAUSIBLE * nominalMm * 1000)
    return reportImplausible(um, nominalMm, entry, row);
  sink.readings.push({
    kind: 'span',
    ...common,
    rail: rail.id,
    other: other.id,
    station: station.number,
    otherStation: opposite.number,
    departureUm,
    nominalMm,
    instrument: instrument.id,
  });
}

/** A rail that runs along; a cross rail has no distance across. */
function readRail(row: Row, frame: Frame, column: 'rail' | 'other'): Rail | null {
  const id = row.required(column, 'the id of a rail');
  const rail = id === null ? null : findRail(id, frame, () => row.place(column), row.findings);
  if (rail === null || rail.direction === 'along') return rail;
  const data = { axis: 'span', point: `cross rail ${rail.id}`, wanted: 'two rails that run along' };
  row.findings.error('READING_AXIS_REFUSED', data, row.place(column));
  return null;
}

/** The other rail's station at the same place along. */
function findOpposite(rail: Rail, station: Station, other: Rail, row: Row, frame: Frame): Station | null {
  if (Math.abs(other.stations[0]!.acrossMm - rail.stations[0]!.acrossMm) < SAME_PLACE_MM) {
    const data = { point: `rail ${rail.id} and rail ${other.id}` };
    row.findings.error('READING_SAME_POINT', data, row.place('other'));
    return null;
  }
  const mm = positionMm(rail, station);
  const unit = frame.lengthUnit;
  const found = `${Number(fromMm(mm, unit).toPrecision(9))} ${unit}`;
  return findPosition(other, mm, found, unit, () => row.place('other'), row.findings);
}

function reportImplausible(um: number, nominalMm: number, entry: FileEntry, row: Row): void {
  const unit = entry.unit as LengthUnit;
  const inUnit = (value: number) => `${Number(value.toPrecision(9))} ${unit}`;
  const data = { found: inUnit(fromUm(um, unit)), nominal: inUnit(fromMm(nominalMm, unit)) };
  row.findings.error('READING_SPAN_IMPLAUSIBLE', data, row.place('span'));
}

const describe = (row: Row, unit: string): string => {
  const station =
    row.text('station') === '' ? `position ${row.text('position')}` : `station ${row.text('station')}`;
  return `rail ${row.text('rail')} to rail ${row.text('other')}, ${station}, span ${row.asWritten('span', unit)}`;
};
