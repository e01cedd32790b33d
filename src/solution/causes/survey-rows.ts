/** The rows of a phase as the crew took them: by set-up, plane, pass and line, in the order of reading. */
import { addTo as push, groupBy as by } from '../../base/lists.js';
import { axes, type Axis, type Job, type Place2D, type Setup } from '../../survey/job/job.js';
import { hoursOf } from '../../survey/readings/clock.js';
import type { OffsetReading, Reading, SlopeReading, SpanReading } from '../../survey/readings/readings.js';
import type { Network } from '../solve/network.js';

export { by, push };

/** A reading with its place among the observations. */
export interface Row<R extends Reading = Reading> {
  readonly i: number;
  readonly reading: R;
}
export type OffsetRow = Row<OffsetReading>;

/** Readings that were taken, typed or numbered together. */
export interface Group {
  /** Stable name: parts by '|'. */
  readonly id: string;
  /** "the vertical readings of pass 2 from S1" */
  readonly words: string;
  readonly rows: readonly Row[];
  readonly setup: Setup | null;
  readonly axis: Axis | null;
  readonly line: string | null;
  readonly pass: string | null;
  readonly file: string | null;
}

export interface SurveyRows {
  readonly job: Job;
  readonly network: Network;
  readonly readings: readonly Reading[];
  /** Offset rows of each set-up that has readings, in the order of reading. */
  readonly offsets: ReadonlyMap<string, readonly OffsetRow[]>;
  /** Set-ups in the order of reading. */
  readonly setups: readonly Setup[];
  /** By plane and pass, smaller groups after larger ones; each once. */
  readonly groups: readonly Group[];
  /** Hours of each observation since the first of its set-up; NaN without a time. */
  readonly hours: Float64Array;
}

/** Where a point is. */
export const placeOf = ({ rails, monuments }: Job, point: OffsetReading['point']): Place2D =>
  point.kind === 'station'
    ? rails.find(({ id }) => id === point.rail)!.stations[point.station - 1]!
    : monuments.find(({ id }) => id === point.monument)!;

/** From the set-up, in plan, m. */
export function distanceOf(job: Job, { reading: { point, setup: id } }: OffsetRow): number {
  const [place, setup] = [placeOf(job, point), job.setups.find((s) => s.id === id)!];
  return Math.hypot(place.alongMm - setup.alongMm, place.acrossMm - setup.acrossMm) / 1000;
}

export const lineOf = ({ point }: OffsetReading): string =>
  point.kind === 'station' ? point.rail : `monument ${point.monument}`;

export const ofLine = (line: string | null): string =>
  line === null ? '' : ` of ${line.startsWith('monument ') ? line : `rail ${line}`}`;

export function surveyRows(job: Job, network: Network): SurveyRows {
  const rows = network.observations.flatMap((o, i): Row[] => (o.kind === 'prior' ? [] : [{ i, reading: o }]));
  const readings = rows.map(({ reading }) => reading);
  const offsets = inOrder(job, rows);
  const setups = [...offsets.keys()].map((id) => job.setups.find((s) => s.id === id)!);
  return {
    job,
    network,
    readings,
    offsets,
    setups,
    groups: unlike([
      ...setups.flatMap((setup) => offsetGroups(setup, offsets.get(setup.id)!)),
      ...slopeGroups(rows),
      ...spanGroups(rows),
    ]),
    hours: hoursOfRows(network, rows),
  };
}

export const sourceOrder = (a: Row, b: Row): number =>
  a.reading.source.file < b.reading.source.file
    ? -1
    : a.reading.source.file > b.reading.source.file
      ? 1
      : a.reading.source.row - b.reading.source.row;

/** By time if each reading of a set-up has one, else in the order of the files. */
function inOrder(job: Job, rows: readonly Row[]): Map<string, readonly OffsetRow[]> {
  const bySetup = new Map<string, OffsetRow[]>();
  for (const row of rows)
    if (row.reading.kind === 'offset') push(bySetup, row.reading.setup, row as OffsetRow);
  const files = new Map(job.readingsFiles.map(({ file }, k) => [file, k]));
  const place = ({ reading }: Row) => files.get(reading.source.file) ?? files.size;
  const start = new Map<string, number>();
  for (const [id, list] of bySetup) {
    list.sort((a, b) => place(a) - place(b) || sourceOrder(a, b));
    const times = list.map(({ reading }) => timeOf(reading));
    if (times.every((t) => t !== null)) {
      const at = new Map(list.map((row, k) => [row, times[k]!]));
      list.sort((a, b) => at.get(a)! - at.get(b)!);
      start.set(id, at.get(list[0]!)!);
    }
  }
  const first = (list: readonly OffsetRow[]) => list[0]!;
  return new Map(
    [...bySetup].sort(([one, a], [other, b]) => {
      const [s, t] = [start.get(one), start.get(other)];
      if (s !== undefined && t !== undefined && s !== t) return s - t;
      return place(first(a)) - place(first(b)) || sourceOrder(first(a), first(b));
    }),
  );
}

const timeOf = ({ time }: Reading): number | null => (time === null ? null : hoursOf(time));

function hoursOfRows({ observations }: Network, rows: readonly Row[]): Float64Array {
  const hours = new Float64Array(observations.length).fill(NaN);
  let first = Infinity;
  for (const { i, reading } of rows) {
    const time = timeOf(reading);
    if (time === null) continue;
    hours[i] = time;
    first = Math.min(first, time);
  }
  return hours.map((h) => h - first);
}

function offsetGroups(setup: Setup, rows: readonly OffsetRow[]): Group[] {
  return axes.flatMap((axis) => {
    const own = rows.filter(({ reading }) => reading.axis === axis);
    if (own.length === 0) return [];
    const make = (list: readonly OffsetRow[], pass: string | null, line: string | null): Group => ({
      id: [setup.id, axis, pass ?? '', line ?? ''].join('|'),
      words: `the ${axis} readings${pass === null ? '' : ` of pass ${pass}`}${ofLine(line)} from ${setup.id}`,
      rows: list,
      setup,
      axis,
      line,
      pass,
      file: null,
    });
    const lines = by(own, ({ reading }) => lineOf(reading));
    return [
      make(own, null, null),
      ...[...by(own, ({ reading }) => reading.pass)].map(([pass, list]) => make(list, pass, null)),
      ...[...lines].map(([line, list]) => make(list, null, line)),
      ...[...lines].flatMap(([line, list]) =>
        [...by(list, ({ reading }) => reading.pass)].map(([pass, part]) => make(part, pass, line)),
      ),
    ];
  });
}

function slopeGroups(rows: readonly Row[]): Group[] {
  const own = rows.filter((row): row is Row<SlopeReading> => row.reading.kind === 'slope');
  const make = (
    list: readonly Row[],
    file: string,
    axis: Axis,
    line: string | null,
    pass: string | null,
  ) => ({
    id: [file, axis, pass ?? '', line ?? ''].join('|'),
    words: `the ${axis} slopes${pass === null ? '' : ` of pass ${pass}`}${line === null ? '' : ` of rail ${line}`} in ${file}`,
    rows: list,
    setup: null,
    axis,
    line,
    pass,
    file,
  });
  const lineOfStep = ({ from, to }: SlopeReading) =>
    from.rail === to.rail ? from.rail : `${from.rail} to ${to.rail}`;
  return [...by(own, ({ reading }) => JSON.stringify([reading.source.file, reading.axis]))].flatMap(
    ([, list]) => {
      const { source, axis } = list[0]!.reading;
      const lines = by(list, ({ reading }) => lineOfStep(reading));
      return [
        make(list, source.file, axis, null, null),
        ...[...by(list, ({ reading }) => reading.pass)].map(([pass, part]) =>
          make(part, source.file, axis, null, pass),
        ),
        ...[...lines].map(([line, part]) => make(part, source.file, axis, line, null)),
        ...[...lines].flatMap(([line, part]) =>
          [...by(part, ({ reading }) => reading.pass)].map(([pass, few]) =>
            make(few, source.file, axis, line, pass),
          ),
        ),
      ];
    },
  );
}

function spanGroups(rows: readonly Row[]): Group[] {
  const own = rows.filter((row): row is Row<SpanReading> => row.reading.kind === 'span');
  const make = (list: readonly Row[], file: string, pass: string | null): Group => ({
    id: [file, 'span', pass ?? ''].join('|'),
    words: `the spans${pass === null ? '' : ` of pass ${pass}`} in ${file}`,
    rows: list,
    setup: null,
    axis: null,
    line: null,
    pass,
    file,
  });
  return [...by(own, ({ reading }) => reading.source.file)].flatMap(([file, list]) => [
    make(list, file, null),
    ...[...by(list, ({ reading }) => reading.pass)].map(([pass, part]) => make(part, file, pass)),
  ]);
}

/** If groups have the same rows, the first is kept, which is the wider one. */
function unlike(groups: readonly Group[]): Group[] {
  const seen = new Set<string>();
  return groups.filter(({ rows }) => {
    const key = rows
      .map(({ i }) => i)
      .sort((a, b) => a - b)
      .join(' ');
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** "readings/as-left.csv, rows 2 to 22" */
export function rowWords(readings: readonly Reading[]): string {
  return [...by(readings, ({ source }) => source.file)]
    .map(([file, list]) => {
      const rows = list.map(({ source }) => source.row);
      const first = rows.reduce((a, b) => Math.min(a, b));
      const last = rows.reduce((a, b) => Math.max(a, b));
      return `${file}, ${first === last ? `row ${first}` : `rows ${first} to ${last}`}`;
    })
    .join('; ');
}
