/** Rows of kind `offset`: the offsets of one target point from the planes of a set-up. */
import { axes } from '../job/job.js';
import type { Axis } from '../job/job.js';
import { alikeId, knownWords } from '../job/declared.js';
import type { FileEntry } from '../job/resolve-readings-files.js';
import type { Frame } from '../job/resolve-job.js';
import { findRail, lookAlike } from './points.js';
import { checkRange } from './range.js';
import type { PointRef } from './readings.js';
import type { Row } from './row.js';
import { movedBy } from './sign-checks.js';
import { pointLabel } from './point-label.js';
import { exclude, leaveBlank, type Sink } from './sink.js';

/** A reading cell of the row: its axis and its column. */
interface AxisCell {
  readonly axis: Axis;
  readonly column: string;
}

/**
 * Reports: READING_SETUP_UNKNOWN, READING_RAIL_UNKNOWN, READING_STATION_UNKNOWN, READING_POSITION_UNKNOWN,
 * READING_MONUMENT_UNKNOWN, READING_POINT_UNCLEAR, TARGET_UNKNOWN, READING_AXIS_REFUSED, READING_OUT_OF_RANGE;
 * as warnings READING_ROW_EMPTY and READING_NEAR_RANGE; what row.ts reports of cells.
 */
export function readOffsetRow(row: Row, entry: FileEntry, frame: Frame, sink: Sink): void {
  const used = row.isUsed();
  const setupId = row.required(
    'setup',
    'the id of a set-up, in every row: merged cells hold it in the first row only',
  );
  const setup = setupId === null ? null : findSetup(setupId, row, frame);
  const point = readPoint(row, frame);
  const target = readTarget(row, frame);
  if (!used) {
    const stations = point?.kind === 'station' ? [point] : [];
    const of = { stations, ...(setup !== null && { setup: setup.id }), pass: row.text('pass') || '1' };
    return exclude(row, entry, sink, { what: describe(row, target, entry.unit), ...of });
  }
  const cells = filledCells(row);
  if (row.text('check') !== '')
    return readSignCheck(row, entry, frame, sink, { cells, setup, point, target });
  const placing = row.text('placing') === '' ? null : row.label('placing', '');
  const [source, pass, time, note] = [row.source, row.pass(), row.time(), row.text('note')];
  if (!holdsReading(row)) {
    const of = point === null ? {} : { point: pointLabel(point), pass };
    leaveBlank(row, entry, sink, {
      what: describe(row, target, entry.unit),
      ...of,
      ...(setupId !== null && { setup: setupId }),
    });
  } else if (setupId !== null) sink.setupsSeen.add(setup?.id ?? setupId);
  const instrument = setup === null ? null : (frame.instruments.get(setup.instrument) ?? null);
  for (const { axis, column } of cells) {
    const um = row.um(column, entry.unit);
    if (um === null) continue;
    checkRange(um, instrument, entry.unit, row, column);
    if (point === null || !isReadable(axis, column, point, row, frame)) continue;
    if (setup === null) continue;
    sink.readings.push({
      kind: 'offset',
      source,
      pass,
      time,
      note,
      setup: setup.id,
      point,
      target,
      ...(placing !== null && { placing }),
      axis,
      um,
    });
  }
}

/** Reports: SIGN_CHECK_UNREADABLE. */
function readSignCheck(
  row: Row,
  entry: FileEntry,
  frame: Frame,
  sink: Sink,
  {
    cells,
    setup,
    point,
    target,
  }: {
    readonly cells: readonly AxisCell[];
    readonly setup: ReturnType<typeof findSetup>;
    readonly point: PointRef | null;
    readonly target: string;
  },
): void {
  const moved = movedBy(row.text('check'));
  if (moved === null) {
    row.findings.error('SIGN_CHECK_UNREADABLE', { found: row.text('check') }, row.place('check'));
    return;
  }
  const what = `${describe(row, target, entry.unit)}, the target moved ${moved.text}`;
  if (!holdsReading(row))
    return leaveBlank(row, entry, sink, { what, ...(setup !== null && { setup: setup.id }) });
  exclude(row, entry, sink, { what, note: row.text('note') || 'sign check' });
  for (const { axis, column } of cells) {
    const um = row.um(column, entry.unit);
    if (um === null || point === null || setup === null || axis !== moved.axis) continue;
    if (!isReadable(axis, column, point, row, frame)) continue;
    const { row: line } = row.source;
    sink.checks.push({
      place: row.place(column),
      row: line,
      setup: setup.id,
      point,
      target,
      axis,
      um,
      moved,
    });
  }
}

function findSetup(id: string, row: Row, frame: Frame) {
  const setup = lookAlike('set-up', id, frame.setups, () => row.place('setup'), row.findings);
  if (setup !== undefined) return setup.found;
  if (frame.setups.complete) {
    const data = { found: id, known: knownWords(id, frame.setups.keys()) };
    row.findings.error('READING_SETUP_UNKNOWN', data, row.place('setup'));
  }
  return null;
}

function readTarget(row: Row, frame: Frame): string {
  const target = row.label('target', 'T');
  if (frame.targets === null || frame.targets.has(target)) return target;
  const taken = alikeId(target, frame.targets.keys());
  if (taken !== null) {
    row.findings.warn('ID_TAKEN_AS', { kind: 'target', found: target, taken }, row.place('target'));
    return taken;
  }
  if (frame.targets.complete) {
    const data = { found: target, known: knownWords(target, frame.targets.keys()) };
    row.findings.error('TARGET_UNKNOWN', data, row.place('target'));
  }
  return target;
}

/** An excluded row in words, with the text of its readings, which need not be numbers. */
function describe(row: Row, target: string, unit: string): string {
  const [monument, station] = [row.text('monument'), row.text('station')];
  const place = station !== '' ? `:${station}` : ` at position ${row.text('position')}`;
  const point = monument !== '' ? monument : `${row.text('rail')}${place}`;
  const wide = axes
    .filter((axis) => row.text(axis) !== '')
    .map((axis) => `${axis} ${row.asWritten(axis, unit)}`);
  const long = row.text('reading') === '' ? [] : [`${row.text('axis')} ${row.asWritten('reading', unit)}`];
  const read = [...wide, ...long].join(', ');
  const pass = row.text('pass') === '' ? '' : `, pass ${row.text('pass')}`;
  return `${point} from ${row.text('setup')}, target ${target}${pass}${read === '' ? '' : `: ${read}`}`;
}

/** The point that the row names: a station of a rail, or a monument, never both. */
function readPoint(row: Row, frame: Frame): PointRef | null {
  const [rail, monument] = [row.text('rail'), row.text('monument')];
  const station = row.text('station') !== '' || row.text('position') !== '';
  if (monument !== '' && (rail !== '' || station)) {
    const found =
      rail === '' ? `a station and monument ${monument}` : `rail ${rail} and monument ${monument}`;
    row.findings.error('READING_POINT_UNCLEAR', { found }, row.place('monument'));
    return null;
  }
  if (monument !== '') return readMonument(monument, row, frame);
  if (rail === '') {
    const lacking = row.has('rail') ? '' : ': the file has no column rail';
    const found = `${station ? 'a station without its rail' : 'neither a rail nor a monument'}${lacking}`;
    row.findings.error('READING_POINT_UNCLEAR', { found }, row.place('rail'));
    return null;
  }
  const known = findRail(rail, frame, () => row.place('rail'), row.findings);
  const at = known === null ? null : row.station(known, 'station', 'position');
  return at === null || known === null ? null : { kind: 'station', rail: known.id, station: at.number };
}

function readMonument(id: string, row: Row, frame: Frame): PointRef | null {
  const known = lookAlike('monument', id, frame.monuments, () => row.place('monument'), row.findings);
  if (known !== undefined) return { kind: 'monument', monument: known.found?.id ?? id };
  if (frame.monuments.complete) {
    const data = { found: id, known: knownWords(id, frame.monuments.keys()) };
    row.findings.error('READING_MONUMENT_UNKNOWN', data, row.place('monument'));
  }
  return null;
}

const holdsReading = (row: Row): boolean => [...axes, 'reading'].some((column) => row.text(column) !== '');

/** The reading cells that are not empty: of three columns, or of `axis` and `reading`. */
function filledCells(row: Row): AxisCell[] {
  const wide = axes.filter((axis) => row.text(axis) !== '').map((axis) => ({ axis, column: axis }));
  if (row.text('reading') === '') return wide;
  const axis = row.word('axis', axes);
  return axis === null ? wide : [...wide, { axis, column: 'reading' }];
}

/**
 * A monument and a cross rail have no running plane of their own that a `horizontal` reading could refer to.
 * Reports: READING_AXIS_REFUSED.
 */
function isReadable(axis: Axis, column: string, point: PointRef, row: Row, frame: Frame): boolean {
  if (axis !== 'horizontal') return true;
  const crossRail = point.kind === 'station' && frame.rails.get(point.rail)?.direction === 'across';
  if (point.kind === 'station' && !crossRail) return true;
  const data = {
    axis,
    point: point.kind === 'monument' ? `monument ${point.monument}` : `cross rail ${point.rail}`,
    wanted: 'along or vertical',
  };
  row.findings.error('READING_AXIS_REFUSED', data, row.place(column));
  return false;
}
