/** A diagnostic (one thing that is wrong or suspicious in the input), and the outcome of a stage. */

/** Stable names of everything that waysheet reports about its input; the wording is in messages.ts. */
export type DiagnosticCode = keyof DiagnosticData;

/** A place in the input. `row` is the line of the file as an editor counts it (header = 1). */
export interface Place {
  readonly file: string;
  readonly row?: number;
  /** The name of the column as it is in the header, or the key path in a JSON file (`rails[0].id`). */
  readonly column?: string;
  /** Character number of a key, from 1, if the line has several keys of the same name. */
  readonly character?: number;
}

/** What each kind of diagnostic carries: values, never prose. */
type SignCheckData = {
  point: string;
  axis: string;
  setup: string;
  moved: string;
  change: string;
  wanted: string;
};

export interface DiagnosticData {
  /* files and JSON */
  FILE_MISSING: { path: string };
  FILE_UNREADABLE: { path: string; reason: string };
  FILE_OUTSIDE_JOB: { path: string };
  FILE_TOO_LARGE: { bytes: number; limit: number };
  JSON_INVALID: { reason: string };
  /** `known`: every key that is allowed there. */
  KEY_UNKNOWN: { key: string; nearest: string; known: string };
  KEY_MISSING: { key: string; wanted: string };
  VALUE_WRONG: { found: string; wanted: string };
  ID_DUPLICATE: { kind: string; id: string };
  ID_UNKNOWN: { kind: string; id: string; known: string };
  DATUM_COUNT: { count: number };
  FORMAT_UNKNOWN: { found: string; wanted: string };
  UNIT_UNKNOWN: { found: string; wanted: string };
  KEY_DUPLICATE: { key: string };
  /** A known key that has no meaning at its place; `because` is one of the reasons in messages.ts. */
  KEY_MISPLACED: { key: string; because: string };
  FILE_REPEATED: { path: string; phase: string };
  /** A column of a file from which job.json takes readings in two ways. */
  MAPPED_TWICE: { header: string };
  /* CSV shape */
  CSV_EMPTY: Record<string, never>;
  CSV_NO_ROWS: Record<string, never>;
  CSV_COLUMN_MISSING: { column: string; found: string };
  CSV_COLUMN_UNKNOWN: { column: string; nearest: string; wanted: string };
  CSV_COLUMN_DUPLICATE: { column: string };
  CSV_ROW_LENGTH: { cells: number; columns: number };
  CSV_QUOTE_OPEN: Record<string, never>;
  CSV_QUOTE_STRAY: { found: string };
  CSV_ENCODING: { found: string };
  CSV_NUL: { offset: number };
  CSV_DELIMITER_UNCLEAR: { found: string };
  CSV_COLUMNS_CLASH: { one: string; other: string };
  /** A column of ours that job.json takes from elsewhere: a header, or a fixed value. */
  CSV_COLUMN_OVERRULED: { column: string; name: string; instead: string };
  CSV_MAPPED_MISSING: { name: string; header: string; nearest: string; found: string };
  CSV_MAPPED_UNCLEAR: { header: string; count: number };
  CSV_CELL_UNNAMED: { found: string; number: number };
  CSV_LINE_TOO_LONG: { characters: number; limit: number };
  CSV_TOO_MANY_ROWS: { limit: number };
  CSV_TOO_MANY_PROBLEMS: { limit: number };
  /** Sums and signatures among the readings; `key`: their labels as JSON. */
  CSV_ROWS_BELOW: { count: number; first: string; key: string };
  CSV_ROWS_IGNORED: { count: number; labels: string };
  CSV_UNIT_CLASH: { column: string; header: string; entry: string };
  /* cells */
  /** `meant`: the same with the file's own decimal mark; '' where that makes no number either. */
  CELL_NOT_A_NUMBER: { found: string; meant: string };
  CELL_NUMBER_AMBIGUOUS: { found: string; one: string; other: string };
  CELL_WRONG: { found: string; wanted: string };
  CELL_MISSING: { wanted: string };
  CELL_TIME: { found: string };
  /* rows against the job */
  /** `meant`: the rail and station that the id looks like; '' for none. */
  READING_RAIL_UNKNOWN: { found: string; known: string; meant: string };
  /** It differs from an id of the job only in upper or lower case and spaces. */
  ID_TAKEN_AS: { kind: string; found: string; taken: string };
  READING_SETUP_UNKNOWN: { found: string; known: string };
  READING_MONUMENT_UNKNOWN: { found: string; known: string };
  READING_STATION_UNKNOWN: { rail: string; found: string; count: number; nearest: string };
  READING_POSITION_UNKNOWN: { rail: string; found: string; nearest: string };
  READING_POINT_UNCLEAR: { found: string };
  READING_AXIS_REFUSED: { axis: string; point: string; wanted: string };
  READING_ROW_EMPTY: Record<string, never>;
  /** No row of the file has a reading. */
  READINGS_BLANK: { rows: number };
  READING_OUT_OF_RANGE: { reading: string; limit: string; instrument: string };
  READING_SAME_POINT: { point: string };
  READING_ACROSS_REFUSED: { axis: string };
  READING_NEAR_RANGE: { reading: string; limit: string; instrument: string; percent: number };
  READING_SPAN_IMPLAUSIBLE: { found: string; nominal: string };
  SETUP_READS_NOTHING: { setup: string; phase: string };
  TARGET_UNKNOWN: { found: string; known: string };
  NO_READINGS_USED: { phase: string };
  /* suspicious, but usable */
  CALIBRATION_OVERDUE: { instrument: string; due: string; on: string };
  SETUP_UNUSED: { setup: string };
  GRADIENT_LARGE: { gradient: string };
  COLUMN_IGNORED: { column: string };
  /** `by`: what the one reads more throughout, in words; '' where they read the same. */
  PASSES_IDENTICAL: { rail: string; axis: string; one: string; other: string; count: number; by: string };
  PASSES_MIRRORED: { rail: string; axis: string; one: string; other: string; evidence: string };
  ROWS_COPIED: { one: string; other: string; from: number; to: number; count: number };
  ROWS_REPEATED: { count: number; first: number };
  /** `others`: passes that read there and do not show it. */
  READINGS_STEP: {
    rail: string;
    axis: string;
    pass: string;
    from: number;
    to: number;
    step: string;
    usual: string;
    others: number;
  };
  READING_STANDS_OUT: {
    rail: string;
    axis: string;
    pass: string;
    station: number;
    off: string;
    usual: string;
    others: number;
  };
  /** `other` is `ratio` times `one`; `factor` is that of two units. */
  UNIT_SUSPECT: {
    one: string;
    other: string;
    ratio: number;
    factor: number;
    units: string;
    evidence: string;
  };
  UNIT_IMPLAUSIBLE: {
    way: 'small' | 'large' | 'rough';
    count: number;
    size: string;
    against: string;
    factor: number;
    units: string;
  };
  /** `count` readings of `other` within the stay at `one`. */
  SETUPS_INTERLEAVED: {
    instrument: string;
    one: string;
    other: string;
    from: string;
    to: string;
    count: number;
  };
  CLOSURE_EXCEEDED: {
    setup: string;
    point: string;
    axis: string;
    closure: string;
    /** '' where the set-up asks for none. */
    drift: string;
    allowed: string;
  };
  /** Two files of two phases, byte for byte. */
  SIGN_CHECK_TURNED: SignCheckData & { plus: string };
  SIGN_CHECK_SCALE: SignCheckData;
  SIGN_CHECK_ALONE: { point: string; axis: string; setup: string };
  SIGN_CHECK_UNREADABLE: { found: string };
  FILES_IDENTICAL: { one: string; other: string; phase: string; otherPhase: string };
  /** One phase's profile of a rail is the other's turned over. */
  PHASES_MIRRORED: { rail: string; axis: string; one: string; other: string; evidence: string };
  /** The readings of a rail in one phase are a unit's factor smaller or larger than in the other. */
  PHASE_UNIT_SUSPECT: { one: string; other: string; ratio: number; units: string; evidence: string };
  /** A station that one pass reads twice, with values that differ by more than noise does. */
  READING_REPEATED: {
    rail: string;
    station: number;
    axis: string;
    pass: string;
    one: string;
    other: string;
    rows: string;
    usual: string;
  };
  /** Every reading of a pass is the same. */
  READINGS_CONSTANT: { rail: string; axis: string; pass: string; value: string; count: number };
  /** A pass agrees with the others only when its stations are counted on by `by`. */
  STATIONS_SHIFTED: { rail: string; axis: string; pass: string; by: number; evidence: string };
  SLOPE_IMPLAUSIBLE: { count: number; size: string; against: string };
  /** Beyond anything that a mistaken claim explains. `near`: what would help most, and does not explain it. */
  NOISE_FAR_ABOVE_CLAIM: { phase: string; sigma0: string; redundancy: number; near: string };
  /**
   * Single changes that each explain the misfit of a phase, the likeliest first. `causes` and `mend` hold a line for each: what happened,
   * and what to do about it ('' where nothing can be offered). `apart`: the reading that would tell them apart; ''.
   */
  MISFIT_EXPLAINED: {
    phase: string;
    sigma0: string;
    redundancy: number;
    way: 'misfit' | 'small' | 'too-good';
    count: number;
    causes: string;
    mend: string;
    apart: string;
  };
  /** No single change explains the misfit. */
  MISFIT_UNEXPLAINED: {
    phase: string;
    sigma0: string;
    redundancy: number;
    way: 'misfit' | 'too-good';
    near: string;
  };
  /** Two tables one after another, or titles that are rows. */
  CSV_SECOND_HEADER: { found: string; header: number };
  CSV_ROWS_ABOVE_HEADER: { count: number; found: string; header: number };
  /** A decimal comma in a comma-separated file has cut numbers in two. */
  CSV_DECIMALS_SPLIT: { found: string; column: string; count: number };
  /** A column that holds something in most rows and nothing in others: cells that were merged. */
  CSV_CELLS_BLANK: { column: string; blank: number; rows: number; first: string };
  /** Two ids that differ in case or blanks only. */
  IDS_ALIKE: { kind: string; one: string; other: string };
  ROW_DOUBLED: { first: number };
  /* what the solution will not have */
  CHARACTERISTIC_UNDETERMINED: { phase: string; what: string; why: string };
  TOLERANCE_WITHOUT_VALUE: { what: string; rail: string; why: string };
  STATIONS_MISSING: {
    rail: string;
    axis: string;
    pass: string;
    setup: string;
    stations: string;
    doubled: string;
  };
  /**
   * `missing`: which stations, in words; `which`: the first of them as A:7; `holds`, `whole`: the places that were read and
   * that are declared, in words; `gap`: the longest stretch without a reading.
   */
  STATIONS_UNREAD: {
    rail: string;
    phase: string;
    read: number;
    declared: number;
    missing: string;
    which: string;
    holds: string;
    whole: string;
    gap: string;
    /** '' where the first and the last declared station were read. */
    end: string;
    leftOut: string;
  };
  /** `what`: the characteristic whose U it widens most, by `times`; '' for none. */
  MONUMENT_UNREAD: {
    monument: string;
    count: number;
    setup: string;
    phase: string;
    what: string;
    times: string;
  };
  /** A limit below u, or far above what was read; `against`: u, or the value; `usual`: what the trade asks for at `length`. */
  LIMIT_IMPLAUSIBLE: {
    what: string;
    rail: string;
    way: 'small' | 'large';
    limit: string;
    against: string;
    length: string;
    usual: string;
  };
  /**
   * `spacing`: rail `one`, `other` long, has stations `size` apart, where `against` is usual; `setup`: `one` is `size` away
   * from rails that reach over `against`; `rails`: the stations of `one` are `size` apart, those of `other` `against`.
   */
  GEOMETRY_IMPLAUSIBLE: {
    way: 'spacing' | 'setup' | 'rails';
    one: string;
    other: string;
    size: string;
    against: string;
  };
  DATE_IMPLAUSIBLE: { what: string; day: string; first: number; last: number };
  /** The later phase `one` was read before `other`, which comes before it. */
  PHASES_REVERSED: { one: string; oneDay: string; other: string; otherDay: string };
  TARGET_ONCE: { target: string; likely: string };
  READINGS_UNCHECKED: { phase: string; count: number; of: number };
  FILE_UNNAMED: { path: string };
  /** `size`: time and memory in words. */
  JOB_LARGE: { size: string; seconds: number };
  JOB_TOO_LARGE: { size: string; seconds: number; limit: number };
  LEFT_OUT_WITHOUT_NOTE: { count: number };
  CONFIRMATION_IDLE: { what: string; file: string };
  DATES_REVERSED: { one: string; other: string };
  TEMPERATURE_WRONG: { found: string; wanted: string };
  TIME_OUTSIDE_SURVEY: { time: string; on: string; count: number };
  TOLERANCE_NOT_APPLICABLE: { what: string; rail: string; reason: string };
  /** For a set that is not the job's own. */
  TOLERANCE_PASSED_OVER: { what: string; rail: string; reason: string };
  NOISE_ABOVE_CLAIM: { phase: string; sigma0: string; redundancy: number };
  PRIOR_SUSPECT: { phase: string; prior: string; standardised: string };
  /* what is dropped into an inbox; `entry` is a name inside a zip */
  /** `found`: what lies there, in words. */
  DROP_NOT_TAKEN: { found: string };
  DROP_NO_JOB: { drop: string };
  DROP_TOO_LARGE: { limit: number };
  ZIP_CUT_OFF: Record<string, never>;
  ZIP_DAMAGED: { reason: string };
  ZIP_TOO_MANY: { count: number; limit: number };
  ZIP_TOO_LARGE: { bytes: number; limit: number };
  ZIP_BOMB: { bytes: number; packed: number; limit: number };
  ZIP_LEADS_OUT: { entry: string };
  ZIP_LINK: { entry: string };
  ZIP_REPEATED: { entry: string };
  ZIP_ENCRYPTED: { entry: string };
  ZIP_METHOD: { entry: string; method: number };
  /** For another reason than what the job's files hold. */
  JOB_NOT_REPORTED: { reason: string };
  /** `count` more findings of the same code in the same file, which are not listed one by one. */
  MORE_LIKE_THIS: { like: string; count: number };
}

/**
 * - `error`: cannot be used.
 * - `confirm`: can be used, but if it is a mistake, the verdict is worthless. Refused like an error until a person confirms
 *   in job.json that it is right (`confirmed`).
 * - `warning`: people should know it; the readings are used as they are.
 */
export type Severity = 'error' | 'confirm' | 'warning';

/** Who confirmed a finding, and why. */
export interface ConfirmedBy {
  readonly by: string;
  readonly because: string;
}

export interface Diagnostic<C extends DiagnosticCode = DiagnosticCode> {
  readonly code: C;
  readonly severity: Severity;
  readonly at?: Place;
  readonly data: DiagnosticData[C];
  /** Of one that had to be confirmed, and was: its severity is then `warning`. */
  readonly confirmed?: ConfirmedBy;
}

/** What a person may confirm; everything else that is wrong must be fixed. */
export const confirmable = [
  'UNIT_IMPLAUSIBLE',
  'UNIT_SUSPECT',
  'PASSES_IDENTICAL',
  'PASSES_MIRRORED',
  'PHASES_MIRRORED',
  'PHASE_UNIT_SUSPECT',
  'FILES_IDENTICAL',
  'ROWS_COPIED',
  'ROWS_REPEATED',
  'CSV_CELLS_BLANK',
  'CSV_DECIMALS_SPLIT',
  'IDS_ALIKE',
  'READINGS_STEP',
  'READINGS_CONSTANT',
  'STATIONS_SHIFTED',
  'SLOPE_IMPLAUSIBLE',
  'NOISE_FAR_ABOVE_CLAIM',
  'MISFIT_EXPLAINED',
  'SIGN_CHECK_TURNED',
  'STATIONS_UNREAD',
  'READING_REPEATED',
  'LIMIT_IMPLAUSIBLE',
  'GEOMETRY_IMPLAUSIBLE',
  'DATE_IMPLAUSIBLE',
  'PHASES_REVERSED',
] as const satisfies readonly DiagnosticCode[];
export type ConfirmableCode = (typeof confirmable)[number];

/** Outcome of a stage: a value, or the complete list of what prevented it. Both have the warnings. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly diagnostics: readonly Diagnostic[] }
  | { readonly ok: false; readonly diagnostics: readonly Diagnostic[] };

/** Collects diagnostics while a stage continues, so that all problems are reported at once. */
export class Findings {
  readonly list: Diagnostic[] = [];

  error<C extends DiagnosticCode>(code: C, data: DiagnosticData[C], at?: Place): void {
    this.list.push({ code, severity: 'error', data, ...(at && { at }) } as Diagnostic);
  }

  warn<C extends DiagnosticCode>(code: C, data: DiagnosticData[C], at?: Place): void {
    this.list.push({ code, severity: 'warning', data, ...(at && { at }) } as Diagnostic);
  }

  /** What a person must confirm before it is used. */
  ask<C extends ConfirmableCode>(code: C, data: DiagnosticData[C], at?: Place): void {
    this.list.push({ code, severity: 'confirm', data, ...(at && { at }) } as Diagnostic);
  }

  get hasErrors(): boolean {
    return this.list.some((d) => d.severity === 'error');
  }

  /** true: so much is wrong that reading the rest would give nothing new; see cap.ts. */
  get isFull(): boolean {
    return false;
  }

  /** The value if there are no errors; else all diagnostics. */
  outcome<T>(value: () => T): Outcome<T> {
    return this.hasErrors
      ? { ok: false, diagnostics: this.list }
      : { ok: true, value: value(), diagnostics: this.list };
  }
}

/** Order by code unit: the same on every machine, whatever its language. */
const byCodeUnit = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const rank = (d: Diagnostic): number =>
  d.at === undefined ? 0 : d.at.file === 'job.json' || d.at.file.endsWith('/job.json') ? 1 : 2;

/** Sorts by file, then row, in the order in which people fix them; the job file first. Stable within a row. */
export function sortDiagnostics(list: readonly Diagnostic[]): Diagnostic[] {
  return [...list].sort(
    (a, b) =>
      rank(a) - rank(b) ||
      byCodeUnit(a.at?.file ?? '', b.at?.file ?? '') ||
      (a.at?.row ?? 0) - (b.at?.row ?? 0),
  );
}
