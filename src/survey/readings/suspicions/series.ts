/** Readings put in the order of their stations: what the suspicions compare with each other. */
import { groupBy } from '../../../base/lists.js';
import type { PhaseName } from '../../job/job-schema.js';
import { positionMm, type Axis } from '../../job/job.js';
import type { Frame } from '../../job/resolve-job.js';
import { fromUm, unitLabel, type LengthUnit } from '../../../base/units/units.js';
import {
  valueOf,
  type OffsetReading,
  type Reading,
  type Readings,
  type SlopeReading,
  type Source,
} from '../readings.js';
import type { ReadingUnit } from './unit-factors.js';

/** One reading of a series; of repeats at a station, the first one. */
export interface Cell {
  readonly station: number;
  /** Along the rail; of a slope, the nearer end of its chord. */
  readonly mm: number;
  /** As read, µm or µm/m; of a slope that was read backwards, turned round. */
  readonly value: number;
  /** Standard uncertainty that the instrument claims, same unit. */
  readonly u: number;
  /** What the target's sitting down adds, standard uncertainty, µm; readings of one placing share it. 0: not stated. */
  readonly seatU: number;
  readonly source: Source;
}

/** Readings of one pass along one rail, in one axis, under the same conditions. */
export interface Series {
  readonly phase: PhaseName;
  readonly rail: string;
  readonly axis: Axis;
  readonly pass: string;
  /** The set-up, or the file and instrument of slopes. */
  readonly from: string;
  /** Series of one condition differ in their pass alone. */
  readonly condition: string;
  /** Slopes from a sight line of each pass's own: a constant between two passes has no meaning. */
  readonly isSight: boolean;
  /** +1 or −1: turns readings of different set-ups to the same side. */
  readonly sign: 1 | -1;
  readonly unit: 'um' | 'um/m';
  /** The unit that the job gives the file's readings. */
  readonly written: ReadingUnit;
  /** In which messages say lengths. */
  readonly shownIn: LengthUnit;
  /** Least step of the file's values: what the display shows, or more. */
  readonly display: number;
  /** By station. */
  readonly cells: readonly Cell[];
}

type Draft = Omit<Series, 'cells' | 'display'> & { readonly cells: Map<number, Cell> };

/** Offsets at stations and slopes along one rail; monuments, spans and chords between rails are no series. */
export function seriesOf(readings: Readings, frame: Frame): Series[] {
  const drafts = new Map<string, Draft>();
  for (const [phase, list] of readings.phases) {
    for (const reading of list) {
      const draft = draftOf(phase, reading, frame, drafts);
      const cell = draft === null ? null : cellOf(reading, frame);
      if (draft !== null && cell !== null && !draft.cells.has(cell.station))
        draft.cells.set(cell.station, cell);
    }
  }
  const displays = displaysOf(readings);
  return [...drafts.values()].map((draft) => {
    const cells = [...draft.cells.values()].sort((a, b) => a.mm - b.mm);
    return { ...draft, display: displays.get(cells[0]?.source.file ?? '') ?? 0, cells };
  });
}

/** By file, the least step of its values. */
export function displaysOf(readings: Readings): Map<string, number> {
  const byFile = groupBy([...readings.phases.values()].flat(), ({ source }) => source.file);
  return new Map([...byFile].map(([file, list]) => [file, leastStep(list.map(valueOf))]));
}

function draftOf(phase: PhaseName, reading: Reading, frame: Frame, drafts: Map<string, Draft>): Draft | null {
  if (reading.kind === 'span') return null;
  const offset = reading.kind === 'offset';
  if (offset && reading.point.kind !== 'station') return null;
  if (!offset && reading.from.rail !== reading.to.rail) return null;
  const rail = offset
    ? (reading.point as Extract<OffsetReading['point'], { kind: 'station' }>).rail
    : reading.from.rail;
  const from = offset ? reading.setup : `${reading.instrument}|${reading.source.file}`;
  const condition = [phase, from, rail, reading.axis, offset ? reading.target : ''].join('|');
  const key = `${condition}|${reading.pass}`;
  const known = drafts.get(key);
  if (known !== undefined) return known;
  const sign = offset ? (frame.setups.get(reading.setup)?.sign[reading.axis] ?? 1) : 1;
  const { axis, pass } = reading;
  const unit = offset ? 'um' : 'um/m';
  const shownIn = frame.readingUnit;
  const entry = frame.files.find(({ file }) => file === reading.source.file);
  const isSight = !offset && reading.sight !== null;
  const draft: Draft = {
    phase,
    rail,
    axis,
    pass,
    from,
    condition,
    isSight,
    sign,
    unit,
    written: (entry?.unit as ReadingUnit | undefined) ?? (offset ? shownIn : 'um/m'),
    shownIn,
    cells: new Map(),
  };
  drafts.set(key, draft);
  return draft;
}

const cellOf = (reading: Reading, frame: Frame): Cell | null =>
  reading.kind === 'offset'
    ? offsetCell(reading, frame)
    : reading.kind === 'slope'
      ? slopeCell(reading, frame)
      : null;

function offsetCell({ point, setup, target, um, source }: OffsetReading, frame: Frame): Cell | null {
  if (point.kind !== 'station') return null;
  const rail = frame.rails.get(point.rail);
  const station = rail?.stations[point.station - 1];
  const stand = frame.setups.get(setup);
  const instrument = frame.instruments.get(stand?.instrument ?? '');
  if (!rail || !stand || !instrument || station === undefined) return null;
  const metres = Math.hypot(station.alongMm - stand.alongMm, station.acrossMm - stand.acrossMm) / 1000;
  return {
    station: point.station,
    mm: positionMm(rail, station),
    value: um,
    u: Math.hypot(instrument.readingU, instrument.perMetreU * metres),
    seatU: frame.targets?.get(target)?.seatU ?? 0,
    source,
  };
}

/** A chord counts by its first station; chords that skip stations are not compared with those that do not. */
function slopeCell({ from, to, umPerM, instrument, source }: SlopeReading, frame: Frame): Cell | null {
  const rail = frame.rails.get(from.rail);
  const used = frame.instruments.get(instrument);
  if (!rail || !used || Math.abs(from.station - to.station) !== 1) return null;
  const station = Math.min(from.station, to.station);
  const place = rail.stations[station - 1];
  if (place === undefined) return null;
  const value = from.station < to.station ? umPerM : -umPerM;
  return { station, mm: positionMm(rail, place), value, u: used.readingU, seatU: 0, source };
}

/** The stations that both series have. */
export interface Pair {
  readonly stations: readonly number[];
  readonly mm: Float64Array;
  readonly one: Float64Array;
  readonly other: Float64Array;
  /** Root mean square of what the instruments claim for a reading. */
  readonly u: number;
}

/** Two series where both were read. */
export function pairOf(one: Series, other: Series): Pair {
  const both: (readonly [Cell, Cell])[] = [];
  // Both are in the order of their stations.
  let at = 0;
  for (const cell of one.cells) {
    while (at < other.cells.length && other.cells[at]!.station < cell.station) at++;
    const match = other.cells[at];
    if (match?.station === cell.station) both.push([cell, match]);
  }
  return {
    stations: both.map(([cell]) => cell.station),
    mm: Float64Array.from(both, ([cell]) => cell.mm),
    one: Float64Array.from(both, ([cell]) => cell.value),
    other: Float64Array.from(both, ([, match]) => match.value),
    u: rms(both.map(([cell, match]) => Math.hypot(cell.u, match.u) / Math.SQRT2)),
  };
}

/** Place of a warning about a whole series: its first reading in the file. */
export const placeOf = ({ cells }: Series): Source =>
  cells.reduce((first, { source }) => (source.row < first.row ? source : first), cells[0]!.source);

/** Root mean square; 0 of none. */
export function rms(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]! ** 2;
  return values.length === 0 ? 0 : Math.sqrt(sum / values.length);
}

/** The root mean square of normal values; a few that are far out do not change it. 0 of none. */
export const usualSize = (values: readonly number[]): number => 1.4826 * median(values.map(Math.abs));

/** 0 of none. */
export function median(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  if (sorted.length === 0) return 0;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/** The least difference between two values that differ: about the display's step. 0 where none do. */
export function leastStep(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  let least = Infinity;
  for (let i = 1; i < sorted.length; i++) {
    const step = sorted[i]! - sorted[i - 1]!;
    if (step > 1e-9 && step < least) least = step;
  }
  return least === Infinity ? 0 : least;
}

/** For messages, in the unit that the job reads in: three digits are enough for a suspicion. */
export const shownLength = (um: number, unit: LengthUnit): string =>
  `${Number(fromUm(um, unit).toPrecision(3))} ${unitLabel(unit)}`;
