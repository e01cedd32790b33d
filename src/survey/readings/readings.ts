/** The raw readings of one phase in fixed units, each with its cell. */
import type { Axis } from '../job/job.js';
import type { PhaseName } from '../job/job-schema.js';

/** The cell a reading came from; `row` is the line in the file (header = 1). */
export interface Source {
  readonly file: string;
  readonly row: number;
}

export type PointRef =
  | { readonly kind: 'station'; readonly rail: string; readonly station: number }
  | { readonly kind: 'monument'; readonly monument: string };

interface Common {
  readonly source: Source;
  readonly pass: string;
  /** ISO local time as written, or null. */
  readonly time: string | null;
  readonly note: string;
}

/** Offset of a target point from one of a set-up's planes, µm, as read (sign not yet applied). */
export interface OffsetReading extends Common {
  readonly kind: 'offset';
  readonly setup: string;
  readonly point: PointRef;
  readonly target: string;
  /** Placing of the target; null: a separate placing. */
  readonly placing?: string | null;
  readonly axis: Axis;
  readonly um: number;
}

/** Slope of the chord between two stations, µm/m; `sight` names the unknown its file, rail, axis and pass share. */
export interface SlopeReading extends Common {
  readonly kind: 'slope';
  readonly from: { readonly rail: string; readonly station: number };
  readonly to: { readonly rail: string; readonly station: number };
  readonly axis: Axis;
  readonly umPerM: number;
  readonly instrument: string;
  readonly sight: string | null;
}

/** Horizontal distance across between matching stations of two rails, as its departure from nominal, µm. */
export interface SpanReading extends Common {
  readonly kind: 'span';
  readonly rail: string;
  readonly other: string;
  readonly station: number;
  readonly otherStation: number;
  readonly departureUm: number;
  readonly nominalMm: number;
  readonly instrument: string;
}

export type Reading = OffsetReading | SlopeReading | SpanReading;

/** A row that a person left out (`use` = no), kept for the report. */
export interface ExcludedRow {
  readonly source: Source;
  readonly phase: PhaseName;
  readonly what: string;
  readonly note: string;
  /** The stations that it is of; none for a monument, a sign check, or a row that names no known station. */
  readonly stations?: readonly { readonly rail: string; readonly station: number }[];
  /** Set-up and pass, where the row names them. */
  readonly setup?: string;
  readonly pass?: string;
}

/** A planned row that holds no reading yet. */
export interface BlankRow {
  readonly source: Source;
  readonly phase: PhaseName;
  /** The row in words. */
  readonly what: string;
  /** Of an offset row: from where, of which point, in which pass, as written. */
  readonly setup?: string;
  readonly point?: string;
  readonly pass?: string;
}

/** A set-up and axis whose sign was checked by moving a target. */
export interface CheckedSign {
  readonly phase: PhaseName;
  readonly setup: string;
  readonly axis: Axis;
}

export interface Readings {
  readonly phases: ReadonlyMap<PhaseName, readonly Reading[]>;
  readonly excluded: readonly ExcludedRow[];
  /** Absent: none. */
  readonly blank?: readonly BlankRow[];
  readonly signChecks?: readonly CheckedSign[];
}

/** As read: µm of an offset or span, µm/m of a slope. A span is read as its whole length, but known as its departure. */
export const valueOf = (r: Reading): number =>
  r.kind === 'offset' ? r.um : r.kind === 'slope' ? r.umPerM : r.departureUm;
