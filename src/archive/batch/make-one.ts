/** One job of a batch, in a worker: its report is left as it is if nothing changed, else made. Never throws. */
import { join, relative, resolve, sep } from 'node:path';
import { inStage } from '../../base/cost/stages.js';
import type { Printer } from '../../pages/report/pdf.js';
import { BrowserTrouble } from '../../pages/report/browser/trouble.js';
import type { Verdict } from '../../results/results-schema.js';
import type { Report } from '../changes/causes.js';
import type { Manifest } from '../../pages/deliverables/manifest.js';
import { standingReports } from '../report-places.js';
import { FolderNotFit } from '../what-if-folder.js';
import { aboutReport, registerRow } from '../register/register-row.js';
import { refusedBecause, refusedFor, type Entry, type ReportedEntry } from './entry.js';
import type { Task } from './plan.js';
import { claimOf, unchangedResults, type HowMade } from './unchanged.js';

export interface MakeSettings extends HowMade {
  /** The folder that was searched for jobs. */
  readonly root: string;
  readonly out: string;
  /** Make reports also of jobs that did not change. */
  readonly anew: boolean;
  /** Seconds that a job may take. */
  readonly limit: number;
}

/** @param printer Opens the printer, or returns the open one. */
export async function makeOne(
  task: Task,
  settings: MakeSettings,
  printer: () => Promise<Printer>,
): Promise<Entry> {
  try {
    return await make(task, settings, printer);
  } catch (error) {
    return troubleOf(task, error as Error);
  }
}

async function make(task: Task, settings: MakeSettings, printer: () => Promise<Printer>): Promise<Entry> {
  const { root, out, pdf, anew, given, brand, language } = settings;
  const folder = resolve(root, task.folder);
  const standing = task.job === null ? [] : await standingReports(out, task.job);
  const before = standing[0]?.manifest.verdict ?? null;
  // The folder was claimed for the run. Even if it was changed since then, a report of the other sort is never replaced.
  for (const { place, manifest } of standing)
    if ((manifest.whatIf === undefined) !== (given === null))
      throw new FolderNotFit(
        `${join(out, place)} is ${given === null ? 'a what-if report' : 'no what-if report'}`,
      );
  for (const { place, manifest } of anew || task.isStale === true ? [] : standing) {
    const claim = claimOf(folder, join(out, place), manifest, settings);
    const results = claim && (await unchangedResults(claim));
    if (results !== null) return reported(task, { results, manifest }, place, false, before);
  }
  const [{ loadJob, withBrand }, { writeReport }] = await Promise.all([
    import('../../solution/intake/load-job.js'),
    import('../write-report.js'),
  ]);
  const loaded = await inStage('read', () => loadJob(folder, given, settings.limit));
  if (!loaded.ok) return refusedBecause(task.folder, task.job, loaded.diagnostics);
  if (loaded.value.job.id !== task.job)
    throw new Error(`${folder} changed while it was being reported: run again`);
  const opened = pdf ? printer() : null;
  opened?.catch(() => undefined);
  const { results, files, parent } = await writeReport(
    folder,
    { ...withBrand(loaded.value, brand), ...(language !== undefined && { language }) },
    loaded.diagnostics,
    out,
    opened,
  );
  const place = relative(out, join(parent, results.job)).split(sep).join('/');
  const manifest = JSON.parse(Buffer.from(files.get('manifest.json')!).toString()) as Manifest;
  return reported(task, { results, manifest }, place, true, before);
}

async function reported(
  task: Task,
  report: Report,
  place: string,
  made: boolean,
  before: Verdict | null,
): Promise<ReportedEntry> {
  const { folder, old } = task;
  const row = registerRow(report.results, aboutReport(folder, report.manifest, place));
  if (old === undefined) return { status: 'reported', folder, row, made, before, change: null };
  const { changeSince } = await import('../changes/compare-job.js');
  const change = await changeSince(old, report);
  return { status: 'reported', folder, row, made, before, change };
}

/** Failures of the disk and of the browser's installation, which every other job would have too. */
const HOPELESS = new Set(['ENOSPC', 'EDQUOT', 'EROFS', 'EACCES', 'EPERM', 'EIO', 'EMFILE', 'ENOTDIR']);
const HOPELESS_BROWSER = new Set([
  'BROWSER_NONE',
  'BROWSER_SETTING_WRONG',
  'BROWSER_NO_PRIVATE_FOLDER',
  'BROWSER_PACKAGE_CHANGED',
]);

function troubleOf({ folder, job }: Task, error: Error): Entry {
  if (error instanceof BrowserTrouble && !HOPELESS_BROWSER.has(error.code))
    return refusedFor(folder, job, error.code, error.message);
  const code = ((error.cause ?? error) as NodeJS.ErrnoException).code;
  const hopeless = error instanceof BrowserTrouble || (code !== undefined && HOPELESS.has(code));
  return { status: 'failed', folder, job, message: error.message, hopeless };
}
