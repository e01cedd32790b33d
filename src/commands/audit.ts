/** `waysheet audit PATH…`: does an issued report still follow from its readings? */
import { audit, isSound, type AuditFinding } from '../archive/audit.js';
import { visible } from '../diagnostics/messages.js';
import { exitCodes, type ExitCode } from '../exit-codes.js';
import type { Console } from './console.js';

export interface AuditOptions {
  /** The job folder whose files are asked about; without it, those that the PDF carries. */
  readonly job: string | null;
  /** The same for the tolerance set of a what-if report. */
  readonly tolerances: string | null;
  readonly json: boolean;
  readonly console: Console;
}

/** Differences printed for one report; --json gives all. */
const LISTED = 40;

export async function runAudit(
  paths: readonly string[],
  { job, tolerances, json, console }: AuditOptions,
): Promise<ExitCode> {
  const findings: (AuditFinding | { path: string; error: string })[] = [];
  for (const path of paths) {
    const finding = await audit(path, { job, tolerances }).catch((error: Error) => ({
      path,
      error: error.message,
    }));
    findings.push(finding);
    if (!json)
      console.out(
        'error' in finding ? `${visible(path)}: ${visible(finding.error)}\n` : `${report(finding)}\n`,
      );
  }
  if (json) {
    const list = findings.map((f) => ('error' in f ? { ...f, ok: false } : { ...f, ok: isSound(f) }));
    console.out(`${JSON.stringify(list, null, 2)}\n`);
  }
  if (findings.some((f) => !('error' in f) && !isSound(f))) return exitCodes.auditDifference;
  return findings.some((f) => 'error' in f) ? exitCodes.refused : exitCodes.done;
}

function report(f: AuditFinding): string {
  if (isSound(f))
    return `${visible(f.path)}: ${f.job} follows from its readings; ${f.pdfAlone ? 'what the pages say is not compared: audit the folder it was issued in for that' : 'every file is as issued'} (by ${f.issuedBy})`;
  const lines = [
    ...f.files,
    ...f.results.slice(0, LISTED).map((d) => `${d.place}: issued ${d.issued}, recomputed ${d.recomputed}`),
    ...(f.results.length > LISTED ? [`… and ${f.results.length - LISTED} more; --json lists all`] : []),
    ...(f.recomputed ? [] : ['the results were not recomputed']),
  ];
  return [
    `${visible(f.path)}: ${f.job} (issued by ${f.issuedBy}) does not stand as issued:`,
    ...lines.map((l) => `  ${visible(l)}`),
  ].join('\n');
}
