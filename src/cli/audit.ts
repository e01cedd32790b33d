/** `waysheet audit PATH…`: what is proven of a report, what differs, and what was not compared. */
import { basename, dirname, join, resolve } from 'node:path';
import { availableParallelism } from 'node:os';
import { startPool } from '../archive/batch/pool.js';
import { LOG } from '../archive/issue-log.js';
import { kindAt } from '../archive/regular-file.js';
import { trustIn } from '../archive/signing.js';
import { writeFileWhole } from '../archive/write-whole.js';
import { drawSample, sampleSize } from '../archive/audit/acceptance-sample.js';
import { differs, isProven, type AuditFinding } from '../archive/audit/statements.js';
import {
  auditArchive,
  auditLog,
  contentsOf,
  outWithLog,
  withLog,
  type LogFinding,
} from '../archive/audit/audit-log.js';
import { AUDIT_TITLE, auditPage } from '../archive/audit/audit-page.js';
import {
  countText,
  findingText,
  logText,
  recordText,
  sampleText,
  unprovenText,
  type Audited,
  type AuditRecord,
} from '../archive/audit/finding-words.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import { createGenerator } from '../base/statistics/random.js';
import { SOFTWARE } from '../base/version.js';
import type { AuditSettings, FromAudit } from './audit-worker.js';
import type { Console } from './console.js';
import { progressOn } from './progress.js';

export interface AuditOptions extends Omit<AuditSettings, 'pictures'> {
  /** SHA-256 of the log's last line as it was noted elsewhere. */
  readonly head: string | null;
  /** The log of issued reports, or its output folder; null: where the reports lie. */
  readonly log: string | null;
  /** Day of the states; null: as the log ends. */
  readonly on: string | null;
  readonly by: string | null;
  /** Today, ISO 8601. */
  readonly day: string;
  /** Where to write the audit's own report, .html or .pdf; null: none is asked for. */
  readonly report: string | null;
  /** Audits a sample of the reports, drawn with this seed; null: all of them. */
  readonly sample: number | null;
  readonly json: boolean;
  readonly console: Console;
}

const WORKER = new URL('./audit-worker.js', import.meta.url);

/**
 * What one report may cost, whatever its files hold: processor time, s, and memory, bytes. Measured from outside: a
 * process that is beyond them is ended. A machine with other work gives it less time per second, so the clock on the
 * wall has a wider limit.
 */
const LIMITS = { cpuS: 55, bytes: 1e9, wallS: 600 };

export async function runAudit(paths: readonly string[], options: AuditOptions): Promise<ExitCode> {
  const { console, json, head, on, by, day } = options;
  const trust = options.trust === null ? null : await trustIn(options.trust);
  const questions = { head, trust, day: on };
  const { reports: all, archives } = placesOf(paths);
  const drawn = options.sample === null ? null : drawnFrom(all, options.sample);
  const reports = drawn?.reports ?? all;
  const logs = new Map<string, LogFinding>(
    archives.map((out) => [resolve(out), auditArchive(out, questions)]),
  );
  const logOf = (report: string): LogFinding | null => {
    const out = options.log === null ? outWithLog(resolve(report)) : outNamed(options.log);
    if (out === null) return null;
    const known = logs.get(resolve(out)) ?? auditLog(out, questions);
    logs.set(resolve(out), known);
    return known;
  };
  const findings = (await auditAll(reports, options)).map((f): Audited =>
    'error' in f ? f : withLog(f, logOf(f.report)),
  );
  const record: AuditRecord = {
    ...{ day, on, by, head, seed: options.sample },
    keys: trust === null ? null : [...trust.keys, ...trust.certificates].map(({ name }) => name),
  };
  const allLogs = [...logs.values()];
  const words = {
    sampled: drawn === null ? '' : sampleText(all.length, reports.length, drawn.seed, findings),
    record: recordText(record),
    unproven: unprovenText(findings, allLogs, record, options.print),
  };
  if (json) console.out(`${JSON.stringify(jsonOf(findings, allLogs, record), null, 2)}\n`);
  else {
    for (const log of allLogs) console.out(`${logText(log)}\n`);
    for (const finding of findings) console.out(`${findingText(finding)}\n`);
    if (findings.length > 1) console.out(`${countText(findings)}\n`);
    if (words.sampled !== '') console.out(`${words.sampled}\n`);
    console.out(`${visible(words.record)}\n${words.unproven}\n`);
  }
  if (options.report !== null) {
    await writeReport(options.report, findings, allLogs, words, options);
    if (!json) console.err(`${visible(options.report)}: the report of this audit\n`);
  }
  return statusOf(findings, allLogs);
}

function statusOf(findings: readonly Audited[], logs: readonly LogFinding[]): ExitCode {
  const read = findings.flatMap((f) => ('error' in f ? [] : [f]));
  if (logs.some(({ troubles }) => troubles.length > 0) || read.some(differs))
    return exitCodes.auditDifference;
  if (read.length < findings.length) return exitCodes.refused;
  const isAll = read.every(isProven) && logs.every(({ strange }) => strange.length === 0);
  return isAll ? exitCodes.done : exitCodes.notCompared;
}

/** A report each; an output folder with something to say of itself is one more entry, without figures. */
function jsonOf(findings: readonly Audited[], logs: readonly LogFinding[], record: AuditRecord): unknown[] {
  const { name, ...software } = SOFTWARE;
  const audit = { ...record, software: { name, ...software } };
  const ofLog = ({ path, log, proven }: LogFinding) => ({
    path: join(path, LOG),
    lines: log.entries.length,
    head: log.head,
    proven,
  });
  const reports = findings.map((f) => {
    if ('error' in f) return { ...f, audit };
    const { report, job, issue, figures, pages, vouched, state, differences, notCompared, vouchers } = f;
    return {
      ...{ report, job, number: issue?.number ?? null, figures, pages, vouched, state },
      ...{ stateWords: f.stateWords, differences, notCompared, vouchers, madeBy: f.madeBy },
      waived: f.waived,
      log: f.log === null ? null : ofLog(f.log),
      audit,
    };
  });
  const folders = logs
    .filter(({ troubles, strange }) => troubles.length + strange.length > 0 || findings.length === 0)
    .map((log) => ({
      ...{ report: log.path, job: null, number: null, figures: 'not-compared', pages: 'not-compared' },
      vouched: log.troubles.length > 0 ? 'differs' : 'not-compared',
      differences: log.troubles.map((what) => ({ statement: 'vouched', what })),
      notCompared: log.strange.map((what) => ({ what, why: 'it is no report' })),
      ...{ log: ofLog(log), audit },
    }));
  return [...reports, ...folders];
}

function drawnFrom(all: readonly string[], seed: number) {
  const generator = createGenerator(seed);
  return { seed, reports: drawSample(all, sampleSize(all.length), () => generator.nextUniform()) };
}

async function writeReport(
  path: string,
  findings: readonly Audited[],
  logs: readonly LogFinding[],
  words: Parameters<typeof auditPage>[2],
  { day }: AuditOptions,
): Promise<void> {
  const place = (bytes: Uint8Array) => writeFileWhole(dirname(path), basename(path), bytes);
  const { openPrinter } = await import('../pages/report/pdf.js');
  const html = auditPage(findings, logs, words);
  if (!path.toLowerCase().endsWith('.pdf')) return place(Buffer.from(html));
  const printer = await openPrinter();
  try {
    await place(await printer.print({ html, title: AUDIT_TITLE, createdOn: day, paper: 'A4' }));
  } finally {
    await printer.close();
  }
}

/** @returns The output folder of a log that was named by itself or by its folder. */
function outNamed(path: string): string {
  return kindAt(path) === 'folder' ? path : dirname(path);
}

/** A folder without a manifest that holds reports, or a log of them, is an archive: each of its reports is audited. */
function placesOf(paths: readonly string[]): { reports: string[]; archives: string[] } {
  const reports: string[] = [];
  const archives: string[] = [];
  const isThere = (path: string) => kindAt(path) !== null;
  for (const path of paths) {
    const inside = isThere(join(path, 'manifest.json')) ? [] : contentsOf(path).reports;
    if (inside.length === 0 && !isThere(join(path, LOG))) reports.push(path);
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
  { console, job, tolerances, print, trust, report }: AuditOptions,
): Promise<FromAudit[]> {
  const found = new Map<string, FromAudit>();
  const progress = progressOn(console);
  const take = (path: string, audited: FromAudit) => {
    found.set(path, audited);
    if (paths.length > 1) progress.say(`${found.size} of ${paths.length} audited`);
  };
  try {
    await startPool<string, FromAudit>({
      module: WORKER,
      settings: { job, tolerances, print, trust, pictures: report !== null } satisfies AuditSettings,
      workers: Math.max(1, Math.min(availableParallelism(), paths.length)),
      timeLimitMs: LIMITS.wallS * 1000,
      limits: { cpuS: LIMITS.cpuS, bytes: LIMITS.bytes },
      hangsOnce: true,
      tasks: [...new Set(paths)],
      onDone: take,
      onGivenUp: (path, why) => take(path, givenUp(path, why)),
    }).finished;
  } finally {
    progress.clear();
  }
  return paths.map((path) => found.get(path)!);
}

/** Whatever its files hold, it was not finished within its limits: nothing is proven, and nothing is known to differ. */
function givenUp(report: string, why: string): AuditFinding {
  const statements = { figures: 'not-compared', pages: 'not-compared', vouched: 'not-compared' } as const;
  return {
    ...{ report, job: null, issue: null, madeBy: 'an unknown version', version: '', manifestHash: null },
    ...statements,
    ...{ isSigned: false, vouchers: [], differences: [], waived: [], pictures: [] },
    notCompared: [{ what: 'the report', why: `it was given up: ${why}` }],
  };
}
