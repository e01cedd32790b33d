/** `waysheet audit PATH…`: what is proven of a report, what differs, and what was not compared. */
import { groupBy } from '../base/lists.js';
import { dirname, join, resolve } from 'node:path';
import { availableParallelism } from 'node:os';
import { startPool } from '../archive/batch/pool.js';
import { LOG } from '../archive/issue-log.js';
import { listOutput } from '../archive/output-listing.js';
import { kindAt } from '../archive/regular-file.js';
import { trustIn } from '../archive/signing.js';
import { writeFileAt } from '../archive/write-whole.js';
import { drawSample, sampleSize } from '../archive/audit/acceptance-sample.js';
import { Findings } from '../archive/audit/findings.js';
import { differs, STATEMENTS, type AuditFinding } from '../archive/audit/statements.js';
import { isAbout, outWithLog, unreadFolder, withLog, type LogFinding } from '../archive/audit/audit-log.js';
import { AUDIT_TITLE, auditPage } from '../archive/audit/audit-page.js';
import {
  countText,
  findingText,
  gradeOf,
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
import type { AuditSettings, AuditTask, FromAudit } from './audit-worker.js';
import type { Console } from './console.js';
import { progressOn } from './progress.js';

export interface AuditOptions extends Omit<AuditSettings, 'pictures'> {
  /** The log of issued reports, or its output folder; null: where the reports lie. */
  readonly log: string | null;
  /** false: without a log, the state of a report is not looked up. */
  readonly askLog: boolean;
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

type OneReport = Exclude<FromAudit, LogFinding>;

const WORKER = new URL('./audit-worker.js', import.meta.url);

/**
 * What one report may cost, whatever its files hold: processor time, s, and memory, bytes. Measured from outside: a
 * process that is beyond them is ended. A machine with other work gives it less time per second, so the clock on the
 * wall has a wider limit.
 */
const LIMITS = { cpuS: 55, bytes: 1e9, wallS: 600 };

/** Processor time for a folder, s per report in it, of which only the head and the row of the register are read. */
const FOLDER_S = 0.1;

export async function runAudit(paths: readonly string[], options: AuditOptions): Promise<ExitCode> {
  const { console, json, head, on, by, day } = options;
  const trust = options.trust === null ? null : await trustIn(options.trust);
  const { reports: all, archives } = await placesOf(paths);
  const drawn = options.sample === null ? null : drawnFrom(all, options.sample);
  const reports = drawn?.reports ?? all;
  const outOf = (report: string): string | null => {
    const out = options.log === null ? outWithLog(resolve(report)) : outNamed(options.log);
    return out === null ? null : resolve(out);
  };
  const outs = new Map<string, AuditTask>();
  for (const report of reports) {
    const out = outOf(report);
    if (out !== null) outs.set(out, { path: out, what: 'log' });
  }
  for (const [out, count] of archives) outs.set(resolve(out), { path: out, what: 'folder', reports: count });
  const { found, logs } = await auditAll(reports, [...outs.values()], options);
  const findings = found.map((f): Audited =>
    'error' in f ? f : withLog(f, logs.get(outOf(f.report) ?? '') ?? null, !options.askLog),
  );
  const record: AuditRecord = {
    ...{ day, on, by, head, seed: options.sample },
    keys: trust === null ? null : [...trust.keys, ...trust.certificates].map(({ name }) => name),
  };
  // The answer of each audited report says what is wrong with it.
  const read = findings.flatMap((f) => ('error' in f ? [] : [f.report]));
  const allLogs = [...outs.keys()].map((out) => {
    const log = logs.get(out)!;
    return {
      ...log,
      troubles: log.troubles.filter((one) => !read.some((report) => isAbout(one, log, report))),
    };
  });
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
  const isAll =
    read.every((f) => gradeOf(f) === 'proven') &&
    logs.every(({ notCompared }) => notCompared.every(({ isWaived }) => isWaived === true));
  return isAll ? exitCodes.done : exitCodes.notCompared;
}

/**
 * One entry for each report. What is wrong with a log or an output folder is one more entry for each report that it names,
 * and one for the folder itself; these have no figures.
 */
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
      ...{ whatIf: f.whatIf, stateWords: f.stateWords, differences, notCompared, vouchers, madeBy: f.madeBy },
      waived: f.waived,
      log: f.log === null ? null : ofLog(f.log),
      audit,
    };
  });
  const folders = logs.flatMap((log) => {
    const left = log.notCompared.map(({ what, why }) => ({ what, why }));
    const groups = groupBy(log.troubles, (one) =>
      one.job === null ? '' : [one.report, one.job, one.number].join('\0'),
    );
    return [...new Map([['', groups.get('') ?? []], ...groups])].flatMap(([about, troubles]) => {
      const { report, job, number } = troubles[0] ?? { report: null, job: null, number: null };
      const isFolder = about === '';
      if (isFolder && troubles.length + left.length === 0 && findings.length > 0) return [];
      return {
        ...{ report: report === null ? log.path : join(log.path, report), job, number },
        ...{ figures: 'not-compared', pages: 'not-compared' },
        ...{ vouched: troubles.length > 0 ? 'differs' : 'not-compared', state: null },
        differences: troubles.map(({ what }) => ({ statement: 'vouched', what })),
        ...{ notCompared: isFolder ? left : [], log: ofLog(log), audit },
      };
    });
  });
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
  const html = auditPage(findings, logs, words);
  if (!path.toLowerCase().endsWith('.pdf')) return writeFileAt(path, Buffer.from(html));
  const { printOnce } = await import('../pages/report/pdf.js');
  await writeFileAt(path, await printOnce({ html, title: AUDIT_TITLE, createdOn: day, paper: 'A4' }));
}

/** @returns The output folder of a log that was named by itself or by its folder. */
function outNamed(path: string): string {
  return kindAt(path) === 'folder' ? path : dirname(path);
}

interface Places {
  readonly reports: readonly string[];
  /** Output folders, with the number of reports in each. */
  readonly archives: readonly (readonly [string, number])[];
}

/** A folder without a manifest that holds reports, or a log of them, is an archive: each of its reports is audited. */
async function placesOf(paths: readonly string[]): Promise<Places> {
  const reports: string[] = [];
  const archives: [string, number][] = [];
  const isThere = (path: string) => kindAt(path) !== null;
  for (const path of paths) {
    const isReport = kindAt(path) !== 'folder' || isThere(join(path, 'manifest.json'));
    const inside = isReport ? null : await listOutput(path);
    if (inside === null || (inside.reports.length === 0 && !isThere(join(path, LOG)))) reports.push(path);
    else {
      archives.push([path, inside.reports.length]);
      reports.push(...inside.reports.map((folder) => join(path, folder)));
    }
  }
  return { reports, archives };
}

async function auditAll(
  paths: readonly string[],
  outs: readonly AuditTask[],
  { console, report, job, tolerances, print, register, trust, head, on }: AuditOptions,
) {
  const found = new Map<string, OneReport>();
  const logs = new Map<string, LogFinding>();
  const progress = progressOn(console);
  const take = ({ path, what }: AuditTask, audited: FromAudit) => {
    if ('states' in audited) logs.set(resolve(path), audited);
    else if (what !== 'report')
      logs.set(resolve(path), unreadFolder(path, 'error' in audited ? audited.error : ''));
    else found.set(path, audited);
    if (paths.length > 1) progress.say(`${found.size} of ${paths.length} audited`);
  };
  const tasks = [...outs, ...[...new Set(paths)].map((path): AuditTask => ({ path, what: 'report' }))];
  try {
    await startPool<AuditTask, FromAudit>({
      module: WORKER,
      settings: { job, tolerances, print, register, trust, head, on, pictures: report !== null },
      workers: Math.max(1, Math.min(availableParallelism(), tasks.length)),
      timeLimitMs: LIMITS.wallS * 1000,
      limits: ({ reports: count = 0 }) => ({ ...LIMITS, cpuS: LIMITS.cpuS + FOLDER_S * count }),
      hangsOnce: true,
      tasks,
      onDone: take,
      onGivenUp: (task, why) => {
        const words = `it was given up: ${why}`;
        take(task, task.what === 'report' ? givenUp(task.path, words) : unreadFolder(task.path, words));
      },
    }).finished;
  } finally {
    progress.clear();
  }
  // In the order of the paths.
  return { found: paths.map((path) => found.get(path)!), logs };
}

/** The audit did not finish within its limits: nothing is proven, and nothing is known to differ. */
function givenUp(report: string, why: string): AuditFinding {
  const found = new Findings(report);
  for (const name of STATEMENTS) found.leaves(name, 'the report', why);
  return found.finding(null);
}
