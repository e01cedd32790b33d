/** Keeps findings readable and bounded: a file with one mistake in every row says so once, not a million times. */
import { Findings } from './diagnostic.js';
import type { Diagnostic, DiagnosticCode, DiagnosticData, Place } from './diagnostic.js';

/** How many of a code are listed one by one; warnings that come in swarms have fewer. */
const MOST_LISTED = 100;
const MOST_LISTED_OF: Partial<Record<DiagnosticCode, number>> = {
  READING_NEAR_RANGE: 10,
  READING_ROW_EMPTY: 10,
};

/** After so many errors a file is not read on: it is another file than it was taken for. */
export const MOST_ERRORS = 10_000;

interface Tally {
  readonly severity: Diagnostic['severity'];
  count: number;
  /** Place of the last one that is listed. */
  at: Place | undefined;
}

/** The findings of one file: the first ones of each code, and how many more there were. */
export class CappedFindings extends Findings {
  private readonly tallies = new Map<DiagnosticCode, Tally>();
  private errors = 0;

  override error<C extends DiagnosticCode>(code: C, data: DiagnosticData[C], at?: Place): void {
    this.errors++;
    if (this.isListed(code, 'error', at)) super.error(code, data, at);
  }

  override warn<C extends DiagnosticCode>(code: C, data: DiagnosticData[C], at?: Place): void {
    if (this.isListed(code, 'warning', at)) super.warn(code, data, at);
  }

  override get isFull(): boolean {
    return this.errors >= MOST_ERRORS;
  }

  /** The list with MORE_LIKE_THIS for each code that was cut short, without the codes in `dropped`. */
  finished(dropped: readonly DiagnosticCode[] = []): Findings {
    const whole = new Findings();
    for (const d of this.list) if (!dropped.includes(d.code)) whole.list.push(d);
    for (const [code, { severity, count, at }] of this.tallies) {
      const more = count - (MOST_LISTED_OF[code] ?? MOST_LISTED);
      if (more <= 0 || dropped.includes(code)) continue;
      const data = { like: code, count: more };
      if (severity === 'error') whole.error('MORE_LIKE_THIS', data, at);
      else whole.warn('MORE_LIKE_THIS', data, at);
    }
    return whole;
  }

  private isListed(code: DiagnosticCode, severity: Diagnostic['severity'], at: Place | undefined): boolean {
    const tally = this.tallies.get(code) ?? { severity, count: 0, at };
    tally.count++;
    this.tallies.set(code, tally);
    if (tally.count > (MOST_LISTED_OF[code] ?? MOST_LISTED)) return false;
    tally.at = at;
    return true;
  }
}

/** A list that has been collected without bounds, cut to the first ones of each code. */
export function capPerCode(list: readonly Diagnostic[]): Findings {
  const capped = new CappedFindings();
  for (const { code, severity, data, at } of list) {
    if (severity === 'error') capped.error(code, data, at);
    else capped.warn(code, data, at);
  }
  return capped.finished();
}
