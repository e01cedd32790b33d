/** What is said of one job that was reported, or not. Loads nothing of what makes a report. */
import type { JsonDiagnostic } from '../base/diagnostics/format.js';
import { visible } from '../base/diagnostics/messages.js';
import type { Verdict } from '../results/results-schema.js';
import { exitCodes, type ExitCode } from './exit-codes.js';

/** Of one job, for other programs. */
export interface ReportOutcome {
  readonly folder: string;
  readonly ok: boolean;
  readonly job: string | null;
  readonly verdict: Verdict | null;
  readonly out: string | null;
  /** Where the earlier report went, which was of other inputs; null: there was none. */
  readonly kept: string | null;
  readonly diagnostics: readonly JsonDiagnostic[];
  /** Why it failed for another reason than its input; null: it did not. */
  readonly failed: string | null;
}

export interface Reported {
  readonly status: ExitCode;
  readonly outcome: ReportOutcome;
  /** For people: on standard error, and on standard output. */
  readonly err: string;
  readonly out: string;
}

export const failedReport = (folder: string, message: string): Reported => ({
  status: exitCodes.failed,
  outcome: {
    folder,
    ok: false,
    job: null,
    verdict: null,
    out: null,
    kept: null,
    diagnostics: [],
    failed: message,
  },
  err: `waysheet: ${visible(folder)}: ${visible(message)}\n`,
  out: '',
});
