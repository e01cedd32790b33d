/** Limits the number of findings: a file with the same mistake in every row reports it a limited number of times. */
import {
  Findings,
  type Diagnostic,
  type DiagnosticCode,
  type DiagnosticData,
  type Place,
  type Severity,
} from './diagnostic.js';

/** How many findings of a code are listed one by one; fewer for warnings that often come in large numbers. */
const MAX_LISTED = 100;
const MAX_LISTED_OF: Partial<Record<DiagnosticCode, number>> = {
  READING_NEAR_RANGE: 10,
  READING_ROW_EMPTY: 10,
};

/** After this many errors the rest of a file is not read: it is probably not a readings file. */
export const MAX_ERRORS = 10_000;

/** The file of the fixed values; the same name as in job-paths.ts. */
const JOB_FILE = 'job.json';

/** A row of a wide sheet has a few hundred columns at most. Beyond this number, repeated findings are no longer recognised. */
const MAX_REMEMBERED = 1000;

interface Tally {
  readonly severity: Severity;
  count: number;
  /** Place of the last one that is listed. */
  at: Place | undefined;
}

/**
 * The findings of one file: the first ones of each code, and how many more there were. The same finding for the same
 * place is listed once: a row of a wide sheet is read several times, and a fixed value of job.json once per row.
 */
export class CappedFindings extends Findings {
  private readonly tallies = new Map<DiagnosticCode, Tally>();
  private errors = 0;
  /** Findings of the row that was reported last, and of job.json. */
  private row: Place | undefined;
  private readonly ofRow = new Set<string>();
  private readonly ofJob = new Set<string>();

  take({ severity, code, data, at }: Diagnostic): void {
    this.add(severity, code, data, at);
  }

  protected override add<C extends DiagnosticCode>(
    severity: Severity,
    code: C,
    data: DiagnosticData[C],
    at: Place | undefined,
  ): void {
    if (this.isSaid(code, data, at)) return;
    if (severity === 'error') this.errors++;
    if (this.isListed(code, severity, at)) super.add(severity, code, data, at);
  }

  override get isFull(): boolean {
    return this.errors >= MAX_ERRORS;
  }

  /** The list, with MORE_LIKE_THIS for each code that has more findings, without the codes in `dropped`. */
  finished(dropped: readonly DiagnosticCode[] = []): Findings {
    const whole = new Findings();
    for (const d of this.list) if (!dropped.includes(d.code)) whole.list.push(d);
    for (const [code, { severity, count, at }] of this.tallies) {
      const more = count - (MAX_LISTED_OF[code] ?? MAX_LISTED);
      if (more <= 0 || dropped.includes(code)) continue;
      const data = { like: code, count: more };
      if (severity === 'error') whole.error('MORE_LIKE_THIS', data, at);
      else whole.warn('MORE_LIKE_THIS', data, at);
    }
    return whole;
  }

  private isSaid<C extends DiagnosticCode>(code: C, data: DiagnosticData[C], at: Place | undefined): boolean {
    const isJob = at?.file === JOB_FILE;
    if (at === undefined || (at.row === undefined && !isJob)) return false;
    if (!isJob && (this.row?.row !== at.row || this.row?.file !== at.file)) {
      this.row = at;
      this.ofRow.clear();
    }
    const said = isJob ? this.ofJob : this.ofRow;
    const key = `${code}\u0000${at.row ?? ''}\u0000${at.column ?? ''}\u0000${JSON.stringify(data)}`;
    if (said.has(key)) return true;
    if (said.size < MAX_REMEMBERED) said.add(key);
    return false;
  }

  private isListed(code: DiagnosticCode, severity: Severity, at: Place | undefined): boolean {
    const tally = this.tallies.get(code) ?? { severity, count: 0, at };
    tally.count++;
    this.tallies.set(code, tally);
    if (tally.count > (MAX_LISTED_OF[code] ?? MAX_LISTED)) return false;
    tally.at = at;
    return true;
  }
}

/** Limits a complete list to the first findings of each code. */
export function capPerCode(list: readonly Diagnostic[]): Findings {
  const capped = new CappedFindings();
  for (const diagnostic of list) capped.take(diagnostic);
  return capped.finished();
}
