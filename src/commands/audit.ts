/** `waysheet audit PATH…`: does an issued report still follow from its readings, and do its pages say so? */
import { stat } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { LOG } from '../archive/issue-log.js';
import { startPool } from '../archive/batch/pool.js';
import { trustedKeys } from '../archive/signing.js';
import { isSound, isUndecided, type AuditFinding } from '../audit/audit.js';
import { auditLog, reportFolders, type LogFinding } from '../audit/audit-log.js';
import { visible } from '../diagnostics/messages.js';
import { exitCodes, type ExitCode } from '../exit-codes.js';
import type { Audited, AuditSettings } from './audit-worker.js';
import type { Console } from './console.js';
import { progressOn } from './progress.js';

export interface AuditOptions extends AuditSettings {
  /** SHA-256 of the log's last line as it was noted elsewhere. */
  readonly head: string | null;
  readonly json: boolean;
  readonly console: Console;
}

const WORKER = fileURLToPath(new URL('./audit-worker.js', import.meta.url));

/** Differences printed for one report; --json gives all. */
const LISTED = 40;

/** Seconds that one report may take: a PDF that was made to never end is given up. */
const LIMIT_S = 300;

export async function runAudit(paths: readonly string[], options: AuditOptions): Promise<ExitCode> {
  const { console, json, head, trust } = options;
  const keys = trust === null ? null : await trustedKeys(trust);
  const { reports, archives } = await placesOf(paths);
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
  }
  if (logs.some(({ troubles }) => troubles.length > 0)) return exitCodes.auditDifference;
  if (findings.some((f) => !('error' in f) && !isSound(f) && !isUndecided(f)))
    return exitCodes.auditDifference;
  return findings.some((f) => 'error' in f || isUndecided(f)) ? exitCodes.refused : exitCodes.done;
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

const comparedWords: Record<AuditFinding['pagesCompared'], string> = {
  bytes: 'its pages are, byte for byte, what the same inputs print',
  drawing: 'its pages were compared glyph by glyph',
  text: 'the text of its pages is that of the report',
  figures: 'each figure of its pages stands in the report made now',
  none: 'its pages were not compared',
};

export function findingText(f: AuditFinding): string {
  const name = f.number === null ? f.job : `report ${f.number} of ${f.job}`;
  const notes = [f.note, f.signed].filter((text) => text !== '');
  const more = notes.length === 0 ? '' : `; ${notes.join('; ')}`;
  if (isSound(f)) {
    const files = f.pdfAlone ? '' : '; every file is as issued';
    return visible(
      `${f.path}: ${name} follows from its readings${files}; ${comparedWords[f.pagesCompared]}${more} (by ${f.issuedBy})`,
    );
  }
  if (isUndecided(f))
    return [
      `${visible(f.path)}: ${visible(name)}: every file is as its manifest says, but nothing could be made again:`,
      ...f.absent.map((line) => `  ${visible(line)}`),
    ].join('\n');
  const lines = [
    ...f.files,
    ...f.absent,
    ...f.results.slice(0, LISTED).map((d) => `${d.place}: issued ${d.issued}, recomputed ${d.recomputed}`),
    ...(f.results.length > LISTED ? [`… and ${f.results.length - LISTED} more; --json lists all`] : []),
    ...f.pages
      .slice(0, LISTED)
      .map(({ file, page, what }) => `${file}${page === null ? '' : `, page ${page}`}: ${what}`),
    ...(f.pages.length > LISTED ? [`… and ${f.pages.length - LISTED} more; --json lists all`] : []),
    ...(f.recomputed ? [] : ['the results were not recomputed']),
    ...notes,
  ];
  return [
    `${visible(f.path)}: ${visible(name)} (issued by ${f.issuedBy}) does not stand as issued:`,
    ...lines.map((l) => `  ${visible(l)}`),
  ].join('\n');
}

function logText({ path, lines, head, troubles }: LogFinding): string {
  if (lines === 0 && troubles.length === 0) return '';
  const name = visible(join(path, LOG));
  if (troubles.length === 0)
    return `${name}: ${lines} lines, each as it was written; the last has the SHA-256 ${head}\n`;
  return `${name} does not stand:\n${troubles.map((line) => `  ${visible(line)}\n`).join('')}`;
}

function countText(findings: readonly Audited[]): string {
  const sound = findings.filter((f) => !('error' in f) && isSound(f)).length;
  const errors = findings.filter((f) => 'error' in f).length;
  const undecided = findings.filter((f) => !('error' in f) && isUndecided(f)).length;
  return [
    `${findings.length} reports: ${sound} stand`,
    `${findings.length - sound - errors - undecided} do not`,
    ...(undecided === 0 ? [] : [`${undecided} could not be made again`]),
    ...(errors === 0 ? [] : [`${errors} could not be read`]),
  ]
    .join(', ')
    .concat('.');
}
