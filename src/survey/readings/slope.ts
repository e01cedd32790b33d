/** Rows of kind `slope`: the slope of the chord between two stations, from a level or an autocollimator. */
import { axes, type Axis, type Rail, type Station } from '../job/job.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import type { Frame } from '../job/resolve-job.js';
import { SAME_PLACE_MM } from '../job/resolve-rails.js';
import { findRail } from './points.js';
import { checkRange } from './range.js';
import type { Row } from './row.js';
import { exclude, leaveBlank, type Sink } from './sink.js';

interface End {
  readonly rail: Rail;
  readonly station: Station;
}

/**
 * Reports: READING_RAIL_UNKNOWN, READING_STATION_UNKNOWN, READING_POSITION_UNKNOWN; READING_SAME_POINT for a
 * chord without length; READING_ACROSS_REFUSED for a chord between two rails that is not vertical;
 * READING_AXIS_REFUSED; READING_OUT_OF_RANGE; as warnings READING_ROW_EMPTY and READING_NEAR_RANGE; what
 * row.ts reports of cells.
 */
export function readSlopeRow(row: Row, entry: FileEntry, frame: Frame, sink: Sink): void {
  const used = row.isUsed();
  const from = readEnd(row, frame, 'from');
  const to = readEnd(row, frame, 'to');
  if (!used) {
    const stations = [from, to].flatMap((end) =>
      end === null ? [] : [{ rail: end.rail.id, station: end.station.number }],
    );
    return exclude(row, entry, sink, {
      what: describe(row, entry.unit),
      stations,
      pass: row.text('pass') || '1',
    });
  }
  if (row.text('slope') === '') return leaveBlank(row, entry, sink, { what: describe(row, entry.unit) });
  const axis = row.word('axis', axes);
  const umPerM = row.umPerM('slope', entry.unit);
  const common = { source: row.source, pass: row.pass(), time: row.time(), note: row.text('note') };
  const instrument = frame.instruments.get(entry.instrument ?? '') ?? null;
  if (umPerM !== null) checkRange(umPerM, instrument, entry.unit, row, 'slope');
  if (from === null || to === null || axis === null) return;
  if (!isChord(from, to, axis, row) || !isReadable(from, to, axis, entry, row)) return;
  if (umPerM === null || instrument === null) return;
  const against = entry.against ?? (axis === 'vertical' ? 'gravity' : 'sight');
  sink.readings.push({
    kind: 'slope',
    ...common,
    from: { rail: from.rail.id, station: from.station.number },
    to: { rail: to.rail.id, station: to.station.number },
    axis,
    umPerM,
    instrument: instrument.id,
    sight: against === 'gravity' ? null : sightOf(entry.file, from.rail.id, to.rail.id, axis, common.pass),
  });
}

/**
 * The sight line that slopes share: one a file, rail, axis and pass. Of a chord between rails,
 * the pair in either order. no id contains `|`.
 */
function sightOf(file: string, from: string, to: string, axis: Axis, pass: string): string {
  const rails = from === to ? from : [from, to].sort().join('>');
  return [file, rails, axis, pass].join('|');
}

function readEnd(row: Row, frame: Frame, end: 'from' | 'to'): End | null {
  const id = row.required(`${end}_rail`, 'the id of a rail');
  if (id === null) return null;
  const rail = findRail(id, frame, () => row.place(`${end}_rail`), row.findings);
  const station = rail === null ? null : row.station(rail, `${end}_station`, `${end}_position`);
  return rail === null || station === null ? null : { rail, station };
}

const describe = (row: Row, unit: string): string => {
  const end = (name: string) => {
    const station = row.text(`${name}_station`);
    return `${row.text(`${name}_rail`)}:${station === '' ? row.text(`${name}_position`) : station}`;
  };
  return `from ${end('from')} to ${end('to')}, ${row.text('axis')} slope ${row.asWritten('slope', unit)}`;
};

/** Whether the two ends make a chord that a slope can be read along. */
function isChord(from: End, to: End, axis: Axis, row: Row): boolean {
  const distance = Math.hypot(
    to.station.alongMm - from.station.alongMm,
    to.station.acrossMm - from.station.acrossMm,
  );
  if (distance < SAME_PLACE_MM) {
    const point = `${from.rail.id}:${from.station.number} and ${to.rail.id}:${to.station.number}`;
    row.findings.error('READING_SAME_POINT', { point }, row.place('to_station'));
    return false;
  }
  if (from.rail.id !== to.rail.id && axis !== 'vertical') {
    row.findings.error('READING_ACROSS_REFUSED', { axis }, row.place('axis'));
    return false;
  }
  return true;
}

/**
 * In plan a rail along bends `horizontal` and a cross rail `along`; gravity tells nothing about either.
 * Reports: READING_AXIS_REFUSED.
 */
function isReadable({ rail }: End, to: End, axis: Axis, entry: FileEntry, row: Row): boolean {
  if (axis === 'vertical') return true;
  const inPlan: Axis = rail.direction === 'along' ? 'horizontal' : 'along';
  const refuse = (point: string, wanted: string): boolean => {
    row.findings.error('READING_AXIS_REFUSED', { axis, point, wanted }, row.place('axis'));
    return false;
  };
  if (axis !== inPlan) return refuse(`rail ${to.rail.id}`, `vertical or ${inPlan}`);
  return entry.against === 'gravity' ? refuse('a file read against gravity', 'vertical') : true;
}
