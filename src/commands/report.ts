/** `waysheet report JOB…`: one folder of deliverables a job. */
import { claimFolder, FolderNotFit } from '../archive/what-if-folder.js';
import { recover, writeWhole } from '../archive/write-whole.js';
import {
  formatDiagnostics,
  formatWarnings,
  diagnosticsToJson,
  type JsonDiagnostic,
} from '../diagnostics/format.js';
import { visible } from '../diagnostics/messages.js';
import { exitCodes, type ExitCode } from '../exit-codes.js';
import type { GivenTolerances } from '../job/given-tolerances.js';
import { makeDeliverables } from '../pipeline.js';
import { loadJob } from '../intake/load-job.js';
import type { Printer } from '../report/pdf.js';
import type { Verdict } from '../results/results-schema.js';
import type { Console } from './console.js';
import { askGiven } from './given.js';
import { progressOn } from './progress.js';
import { confirmedWords } from '../report/sentence.js';
import { verdictWords } from './verdict-words.js';

export interface ReportOptions {
  readonly out: string;
  readonly pdf: boolean;
  /** A tolerance set that judges the jobs in place of their own. */
  readonly tolerances: string | null;
  readonly json: boolean;
  readonly console: Console;
}

interface Outcome {
  readonly folder: string;
  readonly ok: boolean;
  readonly job: string | null;
  readonly verdict: Verdict | null;
  readonly out: string | null;
  readonly diagnostics: readonly JsonDiagnostic[];
}

/** A refused job does not keep the others from being reported; the status is then 3. */
export async function runReport(folders: readonly string[], options: ReportOptions): Promise<ExitCode> {
  const { console } = options;
  const given = await askGiven(options.tolerances ?? undefined, console);
  if (given === 'faulty') return exitCodes.refused;
  try {
    await claimFolder(options.out, given);
  } catch (error) {
    if (!(error instanceof FolderNotFit)) throw error;
    console.err(`waysheet: ${visible(error.message)}\n`);
    return exitCodes.usage;
  }
  const progress = progressOn(console);
  const printer = options.pdf ? lazyPrinter(console) : null;
  const outcomes: Outcome[] = [];
  try {
    for (const [k, folder] of folders.entries()) {
      progress.say(`${k + 1} of ${folders.length}: ${visible(folder)}`);
      const outcome = await reportOne(folder, given, options, printer?.open ?? null, progress.clear);
      outcomes.push(outcome);
    }
  } finally {
    progress.clear();
    await printer?.close();
  }
  if (options.json) console.out(`${JSON.stringify(outcomes, null, 2)}\n`);
  return outcomes.every((o) => o.ok) ? exitCodes.done : exitCodes.refused;
}

async function reportOne(
  folder: string,
  given: GivenTolerances | null,
  options: ReportOptions,
  openPrinter: (() => Promise<Printer>) | null,
  clear: () => void,
): Promise<Outcome> {
  const { console, json } = options;
  const loaded = await loadJob(folder, given);
  const diagnostics = diagnosticsToJson(loaded.diagnostics);
  if (!loaded.ok) {
    clear();
    if (!json)
      console.err(
        `${visible(folder)}: refused, nothing was written\n${formatDiagnostics(loaded.diagnostics, { root: folder })}\nwaysheet check ${visible(folder)} shows the lines, and suggests how columns that are not known could be mapped.\n\n`,
      );
    return { folder, ok: false, job: null, verdict: null, out: null, diagnostics };
  }
  const { job } = loaded.value;
  // The browser starts while the job is being solved.
  const printer = openPrinter?.() ?? null;
  printer?.catch(() => undefined);
  const { results, files } = await makeDeliverables(folder, loaded.value, loaded.diagnostics, printer);
  await recover(options.out, job.id);
  const out = await writeWhole(options.out, job.id, files);
  clear();
  if (!json) {
    // Those of the solution among them, which the check of the files alone cannot know.
    if (results.warnings.length > 0) console.err(`${formatWarnings(results.warnings, folder)}\n`);
    console.out(
      `${job.id}: ${verdictWords[results.verdict]}${confirmedWords({ confirmed: results.confirmations?.length ?? 0 })}. ${options.pdf ? `${out}/report.pdf` : `${out}/report.html`}\n`,
    );
  }
  // Those of the files, which are known with all their data, come first.
  const ofSolution = results.warnings
    .slice(diagnostics.length)
    .map((warning): JsonDiagnostic => ({ ...warning, severity: 'warning', data: {} }));
  const all = [...diagnostics, ...ofSolution];
  return { folder, ok: true, job: job.id, verdict: results.verdict, out, diagnostics: all };
}

/** One browser for all jobs, started with the first that gets as far as needing it. */
function lazyPrinter(console: Console): { open: () => Promise<Printer>; close: () => Promise<void> } {
  let printer: Promise<Printer> | null = null;
  return {
    open: () =>
      (printer ??= import('../report/pdf.js').then(async ({ openPrinter }) => {
        const opened = await openPrinter();
        const { describeNote } = await import('../report/browser-notes.js');
        for (const note of opened.notes) console.err(`${describeNote(note)}\n`);
        return opened;
      })),
    close: async () => {
      const opened = await printer?.catch(() => null);
      await opened?.close();
    },
  };
}
