/** Which places were read, and with which targets: what a slip of the pen leaves missing, double, or alone. */
import { nearest } from '../../../base/diagnostics/nearest.js';
import type { Findings } from '../../../base/diagnostics/diagnostic.js';
import { foldId } from '../../job/declared.js';
import type { Frame } from '../../job/settle-job.js';
import type { Reading, Readings, Source } from '../readings.js';
import { placeOf, seriesOf } from './series.js';
import type { Series } from './series.js';
import { leastOf, mostOf } from '../../../base/statistics/extent.js';

/** More missing stations than these, or fewer read than this part of the rail, are a plan and no slip. */
const MOST_MISSING = 2;
const READ_PART = 0.6;
const FEWEST_ROWS = 10;

/** Every pass that lacks a station or two, whether or not a slip shows. Warns: STATIONS_MISSING. */
export function missingStations(readings: Readings, frame: Frame, findings: Findings): void {
  const doubles = doubledStations(readings);
  for (const one of seriesOf(readings, frame)) {
    if (one.unit === 'um') reportMissing(one, doubles, frame, findings, false);
  }
}

/** Warns: STATIONS_MISSING where the neighbour stands there twice, TARGET_ONCE. Asks: IDS_ALIKE. */
export function checkPlaces(
  series: readonly Series[],
  readings: Readings,
  frame: Frame,
  findings: Findings,
): void {
  const doubles = doubledStations(readings);
  for (const one of series) if (one.unit === 'um') reportMissing(one, doubles, frame, findings, true);
  checkTargets(readings, frame, findings);
}

function reportMissing(
  series: Series,
  doubles: ReadonlyMap<string, readonly number[]>,
  frame: Frame,
  findings: Findings,
  onlyWhereDoubled: boolean,
): void {
  const { cells, rail, axis, pass, from } = series;
  const count = frame.rails.get(rail)?.stations.length ?? 0;
  if (cells.length < 4 || cells.length < READ_PART * count) return;
  const read = new Set(cells.map((cell) => cell.station));
  const [first, last] = [leastOf(read), mostOf(read)];
  const twice = doubles.get(doubleKey(series.phase, from, rail, axis, pass)) ?? [];
  const missing: number[] = [];
  // Beyond the ends a pass may well stop short, unless the neighbour stands there twice.
  for (let s = Math.max(1, first - 1); s <= Math.min(count, last + 1); s++) {
    if (read.has(s)) continue;
    const isBeyond = s < first || s > last;
    if (!isBeyond || twice.some((t) => Math.abs(t - s) === 1)) missing.push(s);
  }
  if (missing.length === 0 || missing.length > MOST_MISSING) return;
  const words = (list: readonly number[]) => `station${list.length === 1 ? '' : 's'} ${list.join(' and ')}`;
  const near = twice.filter((t) => missing.some((m) => Math.abs(t - m) <= 2));
  if (onlyWhereDoubled && near.length === 0) return;
  findings.warn(
    'STATIONS_MISSING',
    {
      rail,
      axis,
      pass,
      setup: from.split('|')[0]!,
      stations: words(missing),
      doubled: near.length === 0 ? '' : words(near),
    },
    placeOf(series),
  );
}

const doubleKey = (...parts: readonly string[]): string => parts.join('|');

/** Stations that one pass reads twice, in the same axis with the same target. */
function doubledStations(readings: Readings): Map<string, number[]> {
  const seen = new Set<string>();
  const doubles = new Map<string, number[]>();
  for (const [phase, list] of readings.phases) {
    for (const r of list) {
      if (r.kind !== 'offset' || r.point.kind !== 'station') continue;
      const key = doubleKey(phase, r.setup, r.point.rail, r.axis, r.pass);
      const own = `${key}|${r.target}|${r.point.station}`;
      if (seen.has(own)) doubles.set(key, [...(doubles.get(key) ?? []), r.point.station]);
      seen.add(own);
    }
  }
  return doubles;
}

interface Rows {
  readonly first: Source;
  readonly rows: Set<string>;
}

function checkTargets(readings: Readings, frame: Frame, findings: Findings): void {
  const targets = new Map<string, Rows>();
  for (const list of readings.phases.values()) {
    for (const r of list) {
      if (r.kind !== 'offset') continue;
      const known = targets.get(r.target) ?? { first: r.source, rows: new Set<string>() };
      known.rows.add(`${r.source.file}|${r.source.row}`);
      targets.set(r.target, known);
    }
  }
  const ids = [...targets.keys()];
  const folded = new Map<string, string>();
  for (const id of ids) {
    const other = folded.get(foldId(id));
    if (other === undefined) folded.set(foldId(id), id);
    else {
      const [kept, odd] =
        targets.get(other)!.rows.size >= targets.get(id)!.rows.size ? [other, id] : [id, other];
      findings.ask(
        'IDS_ALIKE',
        { kind: 'target', one: kept, other: odd },
        { ...targets.get(odd)!.first, column: 'target' },
      );
    }
  }
  // Declared ones are known to be meant, and of a few rows each target may stand in one.
  const rows = new Set([...targets.values()].flatMap((t) => [...t.rows])).size;
  if (ids.length < 2 || frame.targets !== null || rows < FEWEST_ROWS) return;
  for (const [id, { rows, first }] of targets) {
    if (rows.size > 1) continue;
    const others = ids.filter((other) => other !== id && targets.get(other)!.rows.size > 1);
    if (others.length === 0 || readsMonument(readings, id)) continue;
    const likely = nearest(id, others) || (others.length === 1 ? others[0]! : '');
    findings.warn('TARGET_ONCE', { target: id, likely }, { ...first, column: 'target' });
  }
}

/** A target of a monument may well be read once. */
const readsMonument = (readings: Readings, target: string): boolean =>
  [...readings.phases.values()].some((list) =>
    list.some((r: Reading) => r.kind === 'offset' && r.target === target && r.point.kind === 'monument'),
  );
