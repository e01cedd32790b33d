/** The outcome of one job of a batch. Plain data, because entries are sent between processes. */
import { pick } from '../../base/pick.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { diagnosticsToJson } from '../../base/diagnostics/format.js';
import type { Verdict } from '../../results/results-schema.js';
import type { JobChange } from '../changes/changes-schema.js';
import type { RefusedRow, ReportedRow } from '../register/register.js';

/** Number of problems that are kept of a refused job; `check` lists all. */
const PROBLEMS_KEPT = 5;

export interface ReportedEntry {
  readonly status: 'reported';
  readonly folder: string;
  readonly row: ReportedRow;
  /** false: an earlier report is still valid, and every file of it is as it was made. */
  readonly made: boolean;
  /** The verdict of an earlier report in the output folder; null without one. */
  readonly before: Verdict | null;
  /** What changed since the report that the run is compared with; null: nothing is compared. */
  readonly change: JobChange | null;
}

/** The input is faulty, or the job ended two workers. */
export type RefusedEntry = RefusedRow;

/** Something else failed: the disk, the browser, the program. */
export interface FailedEntry {
  readonly status: 'failed';
  readonly folder: string;
  readonly job: string | null;
  readonly message: string;
  /** Every other job would fail too: the batch stops. */
  readonly hopeless: boolean;
}

export type Entry = ReportedEntry | RefusedEntry | FailedEntry;

/** @param diagnostics Sorted; warnings do not count, what is to be confirmed does. */
export function refusedBecause(
  folder: string,
  job: string | null,
  diagnostics: readonly Diagnostic[],
): RefusedEntry {
  const errors = diagnostics.filter(({ severity }) => severity !== 'warning');
  const problems = diagnosticsToJson(errors.slice(0, PROBLEMS_KEPT)).map((one) =>
    pick(one, 'code', 'file', 'row', 'column', 'message'),
  );
  return { status: 'refused', folder, job, problems, problemCount: errors.length };
}

export const refusedFor = (
  folder: string,
  job: string | null,
  code: string,
  message: string,
): RefusedEntry => ({
  status: 'refused',
  folder,
  job,
  problems: [{ code, file: null, row: null, column: null, message }],
  problemCount: 1,
});

/** The job ended two workers. */
export const ENDS_WORKER = 'JOB_ENDS_WORKER';

/** @param why How the two workers ended. */
export const givenUp = ({ folder, job }: Pick<RefusedEntry, 'folder' | 'job'>, why: string): RefusedEntry =>
  refusedFor(folder, job, ENDS_WORKER, `The job could not be reported: ${why}.`);
