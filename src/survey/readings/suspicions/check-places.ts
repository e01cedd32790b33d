/** Which places were read, and with which targets: what a slip of the pen leaves missing, double, or alone. */
import { groupBy } from '../../../base/lists.js';
import { nearest } from '../../../base/diagnostics/nearest.js';
import type { DiagnosticData, Findings } from '../../../base/diagnostics/diagnostic.js';
import { foldId } from '../../job/declared.js';
import type { Axis } from '../../job/job.js';
import type { Frame } from '../../job/resolve-job.js';
import { valueOf, type Reading, type Readings, type Source } from '../readings.js';
import { stationWords } from '../what-was-read.js';
import { shownLength } from './series.js';

/** Two readings of one place that differ by so many times what noise does are told, and by so many are asked about. */
const TOLD = 5;
const ASKED = 12;
const FEWEST_ROWS = 10;

/**
 * Warns: TARGET_ONCE; STATIONS_MISSING where the neighbour was read twice, as when a number was mistyped; READING_REPEATED,
 * which is asked where the two are far apart. Asks: IDS_ALIKE.
 */
export function checkPlaces(readings: Readings, frame: Frame, findings: Findings): void {
  for (const found of missingStations(readings, frame))
    if (found.data.doubled !== '') findings.warn('STATIONS_MISSING', found.data, found.at);
  checkRepeats(readings, frame, findings);
  checkTargets(readings, frame, findings);
}

interface Missing {
  readonly data: DiagnosticData['STATIONS_MISSING'];
  readonly at: Source;
}

/** Each pass that lacks stations which another pass from the same place reads, or whose neighbour it reads twice; all axes in one. */
export function missingStations(readings: Readings, frame: Frame): Missing[] {
  const found = new Map<string, Missing>();
  for (const passes of passesOf(readings).values()) {
    for (const own of passes) {
      const missing = missingOf(own, passes, readings, frame);
      if (missing === null) continue;
      const { rail, pass, setup, stations, doubled } = missing.data;
      const key = JSON.stringify([own.phase, setup, rail, pass, stations, doubled]);
      const known = found.get(key);
      const axis = known === undefined ? own.axis : `${known.data.axis} and ${own.axis}`;
      found.set(key, { ...missing, data: { ...missing.data, axis } });
    }
  }
  return [...found.values()];
}

/** One pass along a rail from one set-up, in one axis, whatever targets it was read with. */
interface Pass {
  readonly phase: string;
  readonly setup: string;
  readonly rail: string;
  readonly axis: Axis;
  readonly pass: string;
  /** How many looks at each station. */
  readonly looks: Map<number, number>;
  readonly twice: Set<number>;
  readonly first: Source;
}

/** By phase, set-up, rail and axis. */
function passesOf(readings: Readings): Map<string, Pass[]> {
  const passes = new Map<string, Pass>();
  const seen = new Set<string>();
  for (const [phase, list] of readings.phases) {
    for (const r of list) {
      if (r.kind !== 'offset' || r.point.kind !== 'station') continue;
      const { setup, axis, pass, target } = r;
      const { rail, station } = r.point;
      const key = [phase, setup, rail, axis, pass].join('|');
      let own = passes.get(key);
      if (own === undefined) {
        own = { phase, setup, rail, axis, pass, looks: new Map(), twice: new Set(), first: r.source };
        passes.set(key, own);
      }
      own.looks.set(station, (own.looks.get(station) ?? 0) + 1);
      const look = `${key}|${target}|${station}`;
      if (seen.has(look)) own.twice.add(station);
      seen.add(look);
    }
  }
  return groupBy(passes.values(), ({ phase, setup, rail, axis }) => [phase, setup, rail, axis].join('|'));
}

/** Stations that another pass from the same place reads and this one does not; or that are missing where the neighbour is there twice. */
function missingOf(own: Pass, passes: readonly Pass[], { excluded }: Readings, frame: Frame): Missing | null {
  const { phase, setup, rail, axis, pass, looks, twice, first } = own;
  if (looks.size < 2) return null;
  const count = frame.rails.get(rail)?.stations.length ?? 0;
  const isLeftOut = (station: number) =>
    excluded.some(
      (row) =>
        row.phase === phase &&
        (row.setup ?? setup) === setup &&
        (row.pass ?? pass) === pass &&
        (row.stations ?? []).some((s) => s.rail === rail && s.station === station),
    );
  const expected = new Set<number>();
  for (const other of passes) {
    // A look or two is a check of the place, and no pass.
    if (other !== own && other.looks.size > 2)
      for (const station of other.looks.keys()) expected.add(station);
  }
  if (looks.size > 3)
    for (const t of twice)
      for (const beside of [t - 1, t + 1]) if (beside >= 1 && beside <= count) expected.add(beside);
  const missing = [...expected]
    .filter((station) => !looks.has(station) && !isLeftOut(station))
    .sort((a, b) => a - b);
  if (missing.length === 0) return null;
  const doubled = [...twice].filter((t) => missing.some((m) => Math.abs(t - m) <= 2)).sort((a, b) => a - b);
  const data = {
    rail,
    axis,
    pass,
    setup,
    stations: stationWords(missing),
    doubled: doubled.length === 0 ? '' : stationWords(doubled),
  };
  return { data, at: first };
}

/** What one pass reads twice at one place, with values further apart than noise makes them. */
function checkRepeats(readings: Readings, frame: Frame, findings: Findings): void {
  for (const list of readings.phases.values()) {
    const firsts = new Map<string, Reading>();
    for (const r of list) {
      const look = repeatedLook(r);
      if (look === null) continue;
      const one = firsts.get(look.key);
      if (one === undefined) firsts.set(look.key, r);
      else reportRepeat(one, r, look, frame, findings);
    }
  }
}

interface RepeatedLook {
  readonly key: string;
  readonly rail: string;
  readonly station: number;
}

/** null: of something that may read otherwise the next time: a monument, a span, a sight line in the other direction. */
function repeatedLook(r: Reading): RepeatedLook | null {
  if (r.kind === 'offset') {
    if (r.point.kind !== 'station') return null;
    const { rail, station } = r.point;
    return { key: ['offset', r.setup, rail, station, r.axis, r.pass, r.target].join('|'), rail, station };
  }
  if (r.kind !== 'slope' || r.from.rail !== r.to.rail) return null;
  const [low, high] = [Math.min(r.from.station, r.to.station), Math.max(r.from.station, r.to.station)];
  const way = r.sight !== null && r.from.station > r.to.station ? 'back' : '';
  const of = [r.instrument, r.from.rail, low, high, r.axis, r.pass, r.sight ?? '', way];
  return { key: `slope|${of.join('|')}`, rail: r.from.rail, station: low };
}

function reportRepeat(
  one: Reading,
  other: Reading,
  { rail, station }: RepeatedLook,
  frame: Frame,
  findings: Findings,
): void {
  if (other.kind === 'span' || one.kind === 'span') return;
  const u = uncertaintyOf(other, frame);
  if (u === null) return;
  const usual = Math.SQRT2 * u;
  const apart = Math.abs(turnedValue(other) - turnedValue(one));
  if (apart <= TOLD * usual) return;
  const shown = (v: number) =>
    other.kind === 'offset' ? shownLength(v, frame.readingUnit) : `${Number(v.toPrecision(3))} µm/m`;
  const data = {
    rail,
    station,
    axis: other.axis,
    pass: other.pass,
    one: shown(valueOf(one)),
    other: shown(valueOf(other)),
    rows: `${one.source.row} and ${other.source.row}`,
    usual: shown(usual),
  };
  if (apart > ASKED * usual) findings.ask('READING_REPEATED', data, other.source);
  else findings.warn('READING_REPEATED', data, other.source);
}

const turnedValue = (r: Reading): number =>
  r.kind === 'slope' && r.sight === null && r.from.station > r.to.station ? -r.umPerM : valueOf(r);

/** Of one reading, seating among it; null where a plane may drift in between, which the closures judge. */
function uncertaintyOf(r: Exclude<Reading, { kind: 'span' }>, frame: Frame): number | null {
  if (r.kind === 'slope') return frame.instruments.get(r.instrument)?.readingU ?? null;
  const setup = frame.setups.get(r.setup);
  const instrument = frame.instruments.get(setup?.instrument ?? '');
  const place =
    r.point.kind === 'station' ? frame.rails.get(r.point.rail)?.stations[r.point.station - 1] : undefined;
  if (!setup || !instrument || place === undefined || setup.drift) return null;
  const metres = Math.hypot(place.alongMm - setup.alongMm, place.acrossMm - setup.acrossMm) / 1000;
  return Math.hypot(
    instrument.readingU,
    instrument.perMetreU * metres,
    frame.targets?.get(r.target)?.seatU ?? 0,
  );
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
  // Declared ones are known to be meant, and of a few rows each target may be in one.
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
