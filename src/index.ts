/**
 * The library: what the commands do, as functions.
 *
 * @example
 * import { openJob, makeReport } from 'waysheet';
 *
 * const opened = await openJob('samples/TH-2031');
 * if (!opened.ok) throw new Error(formatDiagnostics(opened.diagnostics));
 * const report = await makeReport(opened.value, { out: 'out' });
 * console.log(report.results.verdict, report.folder); // out/TH-2031 with report.pdf
 */
import { audit as auditReport } from './archive/audit/audit.js';
import type { AuditFinding } from './archive/audit/statements.js';
import { lazyPrinter } from './archive/batch/lazy-printer.js';
import { trustIn } from './archive/signing.js';
import { writeReport, type Written } from './archive/write-report.js';
import type { Diagnostic, Outcome } from './base/diagnostics/diagnostic.js';
import { solve as solveLoaded } from './pipeline.js';
import type { Results } from './results/results-schema.js';
import { loadJob, type LoadedJob } from './solution/intake/load-job.js';
import { readGivenTolerances } from './survey/job/given-tolerances.js';

/** A job that can be reported: its folder, what was read, and the warnings. */
export interface OpenedJob {
  readonly folder: string;
  readonly loaded: LoadedJob;
  readonly warnings: readonly Diagnostic[];
}

export interface OpenOptions {
  /** Path of a tolerance set that judges the job in place of its own (a what-if report). */
  readonly tolerances?: string;
}

/**
 * Reads and checks a job folder, as `waysheet check` does.
 *
 * @returns Fails: with every problem and every question that a person must confirm.
 */
export async function openJob(folder: string, { tolerances }: OpenOptions = {}): Promise<Outcome<OpenedJob>> {
  const given = tolerances === undefined ? null : await readGivenTolerances(tolerances);
  if (given !== null && !given.ok) return given;
  const read = await loadJob(folder, given === null ? null : given.value);
  if (!read.ok) return read;
  const { diagnostics } = read;
  return { ok: true, value: { folder, loaded: read.value, warnings: diagnostics }, diagnostics };
}

/** The results of an opened job: what results.json holds. */
export const solve = ({ loaded, warnings }: OpenedJob): Promise<Results> => solveLoaded(loaded, warnings);

export interface ReportOptions {
  /** The output folder; the report is OUT/<job id>. */
  readonly out: string;
  /** Default true. */
  readonly pdf?: boolean;
}

/**
 * Makes all deliverables of an opened job and writes them whole or not at all, as `waysheet report` does.
 *
 * @throws {Error} no browser prints, the disk refuses, or an input changed meanwhile.
 */
export async function makeReport(
  { folder, loaded, warnings }: OpenedJob,
  { out, pdf = true }: ReportOptions,
): Promise<Written> {
  const printer = lazyPrinter();
  try {
    return await writeReport(folder, loaded, warnings, out, pdf ? printer.open() : null);
  } finally {
    await printer.close();
  }
}

export interface AuditOptions {
  /** Folder of public keys and certificates (*.pem) that the auditor trusts; without it signatures are not verified. */
  readonly trust?: string;
  /** true: the pages are printed again and compared. Default true. */
  readonly print?: boolean;
  /** Job folder with the inputs, if the PDF does not contain them. */
  readonly job?: string;
}

/**
 * Audits one report, as `waysheet audit` does: what is proven about it, what differs, and what was not compared.
 *
 * @param path Folder of a report, or its PDF alone.
 * @throws {Error} there is nothing that can be audited.
 */
export async function audit(path: string, options: AuditOptions = {}): Promise<AuditFinding> {
  const printer = lazyPrinter();
  try {
    return await auditReport(path, {
      job: options.job ?? null,
      tolerances: null,
      print: options.print === false ? null : printer.open,
      trust: options.trust === undefined ? null : await trustIn(options.trust),
    });
  } finally {
    await printer.close();
  }
}

export { formatDiagnostics } from './base/diagnostics/format.js';
export { resultsSchema } from './results/results-schema.js';
export { METHOD, VERSION } from './base/version.js';
export type { AuditFinding, Diagnostic, Outcome, Results, Written };
export type { Job } from './survey/job/job.js';
export type { Reading, Readings } from './survey/readings/readings.js';
