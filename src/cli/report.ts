/**
 * `waysheet report JOB…`: one folder of deliverables a job. The jobs are done one after the other in a process of their
 * own, so that one that never ends is cut off and does not keep the others from being done.
 */
import type { Languages } from '../survey/job/languages.js';
import { dirname, resolve } from 'node:path';
import { startPool } from '../archive/batch/pool.js';
import { claimFolder, FolderNotFit } from '../archive/what-if-folder.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import { packed } from '../survey/job/packed-tolerances.js';
import { calledAs } from './called-as.js';
import type { Console } from './console.js';
import { askBrand, askGiven } from './given.js';
import { progressOn } from './progress.js';
import { failedReport, type Reported } from './reported.js';
import type { PackedSettings } from './report-worker.js';

export interface ReportOptions {
  readonly out: string;
  readonly pdf: boolean;
  /** A tolerance set that judges the jobs in place of their own. */
  readonly tolerances: string | null;
  /** Folder of a brand; absent: `brand` next to the first job, where there is one. */
  readonly brand: string | undefined;
  /** Seconds that one job may take. */
  readonly limit: number;
  readonly language?: Languages | undefined;
  readonly json: boolean;
  readonly console: Console;
}

const WORKER = new URL('./report-worker.js', import.meta.url);

/** A job that is refused or fails does not keep the others from being reported. Status 1 goes before 3. */
export async function runReport(folders: readonly string[], options: ReportOptions): Promise<ExitCode> {
  const { console, out, pdf, limit, json } = options;
  const given = await askGiven(options.tolerances ?? undefined, console);
  if (given === 'faulty') return exitCodes.refused;
  const brand = await askBrand(options.brand, dirname(resolve(folders[0] ?? '.')), console);
  if (brand === 'faulty') return exitCodes.refused;
  try {
    await claimFolder(out, given);
  } catch (error) {
    if (!(error instanceof FolderNotFit)) throw error;
    console.err(`waysheet: ${visible(error.message)}\n`);
    return exitCodes.usage;
  }
  const progress = progressOn(console);
  const ended: Reported[] = [];
  const isAt = (): void => {
    const folder = folders[ended.length];
    if (folder !== undefined) progress.say(`${ended.length + 1} of ${folders.length}: ${visible(folder)}`);
  };
  const take = (reported: Reported): void => {
    ended.push(reported);
    progress.clear();
    if (!json || reported.outcome.failed !== null) console.err(reported.err);
    if (!json) console.out(reported.out);
    isAt();
  };
  isAt();
  try {
    await startPool<string, Reported>({
      module: WORKER,
      settings: {
        out,
        pdf,
        limit,
        given: given && packed(given),
        ...(options.language !== undefined && { language: options.language }),
        brand,
        calledAs: calledAs(),
      } satisfies PackedSettings,
      workers: 1,
      timeLimitMs: limit * 1000,
      hangsOnce: true,
      tasks: folders,
      onDone: (_, reported) => take(reported),
      onNote: (folder, text) => {
        progress.clear();
        console.err(`${visible(folder)}: ${visible(text)}\n`);
        isAt();
      },
      onGivenUp: (folder, why) =>
        take(failedReport(folder, `given up, nothing was written: ${why}. --limit SECONDS allows more.`)),
    }).finished;
  } finally {
    progress.clear();
  }
  if (json) {
    // A job that was tried again comes last; the list is in the order that was asked for.
    const of = (folder: string) => ended.find(({ outcome }) => outcome.folder === folder)!.outcome;
    console.out(`${JSON.stringify(folders.map(of), null, 2)}\n`);
  }
  const statuses = ended.map(({ status }) => status);
  return [exitCodes.failed, exitCodes.refused].find((s) => statuses.includes(s)) ?? exitCodes.done;
}
