/** A diagnostic (one thing that is wrong or suspicious in the input), and the outcome of a stage. */

import type { wording } from './wording.js';

/** Stable names of everything that waysheet reports about its input. */
export type DiagnosticCode = keyof typeof wording;

/** A place in the input. `row` is the line of the file as an editor counts it (header = 1). */
export interface Place {
  readonly file: string;
  readonly row?: number;
  /** The name of the column as it is in the header, or the key path in a JSON file (`rails[0].id`). */
  readonly column?: string;
  /** Character number of a key, from 1, if the line has several keys of the same name. */
  readonly character?: number;
}

/** What each kind of diagnostic carries: the values that its wording needs. */
export type DiagnosticData = {
  [C in keyof typeof wording]: Parameters<(typeof wording)[C]> extends [infer D] ? D : Record<string, never>;
};

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
  'SLOPE_IMPLAUSIBLE',
  'NOISE_FAR_ABOVE_CLAIM',
  'MISFIT_EXPLAINED',
  'SIGN_CHECK_TURNED',
  'STATIONS_UNREAD',
  'SETUP_UNREAD',
  'READING_REPEATED',
  'LIMIT_IMPLAUSIBLE',
  'GEOMETRY_IMPLAUSIBLE',
  'DATE_IMPLAUSIBLE',
  'PHASES_REVERSED',
] as const satisfies readonly DiagnosticCode[];
/** What earlier versions called a finding, and what confirms the same today: jobs that were confirmed stay so. */
export const renamed = {
  PASSES_MIRRORED: 'MISFIT_EXPLAINED',
  STATIONS_SHIFTED: 'MISFIT_EXPLAINED',
} as const satisfies Readonly<Record<string, DiagnosticCode>>;
export type ConfirmableCode = (typeof confirmable)[number] | keyof typeof renamed;

/** Outcome of a stage: a value, or the complete list of what prevented it. Both have the warnings. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly diagnostics: readonly Diagnostic[] }
  | { readonly ok: false; readonly diagnostics: readonly Diagnostic[] };

/** Collects diagnostics while a stage continues, so that all problems are reported at once. */
export class Findings {
  readonly list: Diagnostic[] = [];

  error<C extends DiagnosticCode>(code: C, data: DiagnosticData[C], at?: Place): void {
    this.add('error', code, data, at);
  }

  warn<C extends DiagnosticCode>(code: C, data: DiagnosticData[C], at?: Place): void {
    this.add('warning', code, data, at);
  }

  /** What a person must confirm before it is used. */
  ask<C extends (typeof confirmable)[number]>(code: C, data: DiagnosticData[C], at?: Place): void {
    this.add('confirm', code, data, at);
  }

  /** VALUE_WRONG: what was found, and what was expected. */
  wrong(found: string, expected: string, at?: Place): void {
    this.error('VALUE_WRONG', { found, wanted: expected }, at);
  }

  /** KEY_MISSING. @param expected What the value of the key would be. */
  missing(key: string, expected: string, at?: Place): void {
    this.error('KEY_MISSING', { key, wanted: expected }, at);
  }

  /** KEY_MISPLACED. @param because One of the reasons in wording.ts. */
  misplaced(key: string, because: string, at?: Place): void {
    this.error('KEY_MISPLACED', { key, because }, at);
  }

  protected add<C extends DiagnosticCode>(
    severity: Severity,
    code: C,
    data: DiagnosticData[C],
    at: Place | undefined,
  ): void {
    this.list.push({ code, severity, data, ...(at && { at }) } as Diagnostic);
  }

  get hasErrors(): boolean {
    return this.list.some((d) => d.severity === 'error');
  }

  /** true: too much is wrong for the rest to tell anything new; see cap.ts. */
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
