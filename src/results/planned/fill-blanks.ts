/** Fills planned rows: each row without a reading gets one in each of its planes. */
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import type { Frame } from '../../survey/job/resolve-job.js';
import type { FileEntry } from '../../survey/job/resolve-readings-files.js';
import { fromMm, isLengthUnit } from '../../base/units/units.js';
import { distanceAcrossMm } from '../../survey/job/job.js';

type Row = Record<string, string>;

const READINGS = { offset: ['vertical', 'horizontal', 'along', 'reading'], slope: ['slope'], span: ['span'] };

/** If a set-up reads at most this many stations of a rail, and another set-up more, the first reads it only to carry the height over. */
const CARRIED = 2;

/** @returns The file with zeros (nominal spans) in its blank rows; unchanged if it is not one of our own sheets. */
export function fillBlanks(text: string, entry: FileEntry, frame: Frame): string {
  if (entry.mapping !== null) return text;
  let rows: Row[];
  try {
    rows = parse(text, { columns: true, skip_empty_lines: true, bom: true });
  } catch {
    return text; // the reader reports what is wrong
  }
  const columns = READINGS[entry.kind];
  const header = Object.keys(rows[0] ?? {});
  if (!header.some((name) => columns.includes(name))) return text;
  const isBlank = (row: Row) => columns.every((column) => (row[column] ?? '').trim() === '');
  if (!rows.some(isBlank)) return text;
  // In the long form each row names its plane.
  const isLong = header.includes('axis') && header.includes('reading');
  const stations = stationsRead(rows);
  for (const row of rows) {
    if (!isBlank(row)) continue;
    if (entry.kind === 'slope') row['slope'] = '0';
    else if (entry.kind === 'span') row['span'] = nominalSpan(row, entry, frame);
    else if (isLong) row['reading'] = '0';
    else for (const axis of axesOf(row, frame, stations)) row[axis] = '0';
  }
  return stringify([header, ...rows.map((row) => header.map((column) => row[column] ?? ''))]);
}

/** Stations, by rail and by the set-up that reads it. */
function stationsRead(rows: readonly Row[]): Map<string, Map<string, Set<string>>> {
  const seen = new Map<string, Map<string, Set<string>>>();
  for (const { setup = '', rail = '', station, position } of rows) {
    const bySetup = seen.get(rail) ?? new Map<string, Set<string>>();
    seen.set(rail, bySetup);
    bySetup.set(setup, (bySetup.get(setup) ?? new Set()).add(`${station ?? ''}|${position ?? ''}`));
  }
  return seen;
}

function axesOf(row: Row, frame: Frame, stations: ReturnType<typeof stationsRead>): readonly string[] {
  const rail = frame.rails.get(row['rail'] ?? '');
  if (!rail) return ['along'];
  if (rail.direction === 'across') return ['vertical', 'along'];
  const bySetup = stations.get(rail.id)!;
  const here = bySetup.get(row['setup'] ?? '')!.size;
  const most = Math.max(...[...bySetup.values()].map(({ size }) => size));
  return here <= CARRIED && most > here ? ['vertical'] : ['vertical', 'horizontal'];
}

function nominalSpan(row: Row, { unit }: FileEntry, frame: Frame): string {
  const [rail, other] = [frame.rails.get(row['rail'] ?? ''), frame.rails.get(row['other'] ?? '')];
  return rail && other && isLengthUnit(unit) ? String(fromMm(distanceAcrossMm(rail, other), unit)) : '';
}
