/** `waysheet audit PATH…`: does an issued report still follow from its readings, and do its pages say so? */
import { stat } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { LOG } from '../archive/issue-log.js';
import { startPool } from '../archive/batch/pool.js';
import { writeFileWhole } from '../archive/write-whole.js';
import { trustedKeys } from '../archive/signing.js';
import { isSound, isUndecided } from '../audit/audit.js';
import { countText, findingText, sampleText, type Audited } from '../audit/finding-words.js';
import { auditLog, reportFolders, type LogFinding } from '../audit/audit-log.js';
import { drawSample, sampleSize } from '../audit/acceptance-sample.js';
import { AUDIT_TITLE, auditPage } from '../audit/audit-page.js';
import { createGenerator } from '../statistics/random.js';
import { visible } from '../diagnostics/messages.js';
import { exitCodes, type ExitCode } from '../exit-codes.js';
import type { AuditSettings } from './audit-worker.js';
import type { Console } from './console.js';
import { progressOn } from './progress.js';

export interface AuditOptions extends AuditSettings {
  /** SHA-256 of the log's last line as it was noted elsewhere. */
  readonly head: string | null;
  /** Where to write the audit's own report, .html or .pdf; null: none is asked for. */
  readonly report: string | null;
  /** Audits a sample of the reports, drawn with this seed; null: all of them. */
  readonly sample: number | null;
  readonly json: boolean;
  readonly console: Console;
}

const WORKER = fileURLToPath(new URL('./audit-worker.js', import.meta.url));

/** Seconds that one report may take: a PDF that was made to never end is given up. */
const LIMIT_S = 300;

export async function runAudit(paths: readonly string[], options: AuditOptions): Promise<ExitCode> {
  const { console, json, head, trust } = options;
  const keys = trust === null ? null : await trustedKeys(trust);
  const { reports: all, archives } = await placesOf(paths);
  const drawn = options.sample === null ? null : drawnFrom(all, options.sample);
  const reports = drawn?.reports ?? all;
  const logs: LogFinding[] = [];
  for (const out of archives) logs.push(await auditLog(out, head, keys));
  const findings = await auditAll(reports, options);
  if (json) {
    const list = findings.map((f) => ('error' in f ? { ...f, ok: false } : { ...f, ok: isSound(f) }));
    const ofLogs = logs.map((log) => ({ ...log, log: true, ok: log.troubles.length === 0 }));
    console.out(`${JSON.stringify([...ofLogs, ...list], null, 2)}\n`);
  } else {
    for (const log of logs) console.out(logText(log));
    for (const finding of findings)
      console.out(
        'error' in finding
          ? `${visible(finding.path)}: ${visible(finding.error)}\n`
          : `${findingText(finding)}\n`,
      );
    if (findings.length > 1) console.out(`${countText(findings)}\n`);
    if (drawn !== null) console.out(`${sampleText(all.length, reports.length, drawn.seed, findings)}\n`);
  }
  if (options.report !== null) {
    const sampled = drawn === null ? '' : sampleText(all.length, reports.length, drawn.seed, findings);
    await writeReport(options.report, auditPage(findings, logs, sampled));
    if (!json) console.err(`${visible(options.report)}: the report of this audit\n`);
  }
  if (logs.some(({ troubles }) => troubles.length > 0)) return exitCodes.auditDifference;
  if (findings.some((f) => !('error' in f) && !isSound(f) && !isUndecided(f)))
    return exitCodes.auditDifference;
  if (findings.some((f) => 'error' in f || isUndecided(f))) return exitCodes.refused;
  return findings.some((f) => !('error' in f) && f.notCompared.length > 0)
    ? exitCodes.notCompared
    : exitCodes.done;
}

function drawnFrom(all: readonly string[], seed: number) {
  const generator = createGenerator(seed);
  return { seed, reports: drawSample(all, sampleSize(all.length), () => generator.nextUniform()) };
}

async function writeReport(path: string, html: string): Promise<void> {
  const place = (bytes: Uint8Array) => writeFileWhole(dirname(path), basename(path), bytes);
  if (!path.toLowerCase().endsWith('.pdf')) return place(Buffer.from(html));
  const { openPrinter } = await import('../report/pdf.js');
  const printer = await openPrinter();
  try {
    // An audit has no date of its own: the same archive gives the same bytes.
    await place(await printer.print({ html, title: AUDIT_TITLE, createdOn: '2000-01-01', paper: 'A4' }));
  } finally {
    await printer.close();
  }
}

/** A folder without a manifest that holds reports, or a log of them, is an archive: each of its reports is audited. */
async function placesOf(paths: readonly string[]): Promise<{ reports: string[]; archives: string[] }> {
  const reports: string[] = [];
  const archives: string[] = [];
  const isThere = (path: string) =>
    stat(path).then(
      () => true,
      () => false,
    );
  for (const path of paths) {
    const inside = (await isThere(join(path, 'manifest.json'))) ? [] : await reportFolders(path);
    if (inside.length === 0 && !(await isThere(join(path, LOG)))) reports.push(path);
    else {
      archives.push(path);
      reports.push(...inside.map((folder) => join(path, folder)));
    }
  }
  return { reports, archives };
}

/** @returns In the order of the paths. */
async function auditAll(
  paths: readonly string[],
  { console, job, tolerances, print, trust }: AuditOptions,
): Promise<Audited[]> {
  const found = new Map<string, Audited>();
  const progress = progressOn(console);
  const take = (path: string, audited: Audited) => {
    found.set(path, audited);
    if (paths.length > 1) progress.say(`${found.size} of ${paths.length} audited`);
  };
  try {
    await startPool<string, Audited>({
      module: WORKER,
      settings: { job, tolerances, print, trust } satisfies AuditSettings,
      workers: Math.max(1, Math.min(availableParallelism(), paths.length)),
      // While one waits for the disk or the browser, its worker goes on with another.
      atOnce: 2,
      timeLimitMs: LIMIT_S * 1000,
      hangsOnce: true,
      tasks: [...new Set(paths)],
      onDone: take,
      onGivenUp: (path, why) => take(path, { path, error: `given up: ${why}` }),
    }).finished;
  } finally {
    progress.clear();
  }
  return paths.map((path) => found.get(path)!);
}

function logText({ path, lines, head, troubles }: LogFinding): string {
  if (lines === 0 && troubles.length === 0) return '';
  const name = visible(join(path, LOG));
  if (troubles.length === 0)
    return `${name}: ${lines} lines, each as it was written; the last has the SHA-256 ${head}\n`;
  return `${name} does not stand:\n${troubles.map((line) => `  ${visible(line)}\n`).join('')}`;
}
