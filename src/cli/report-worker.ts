/** The worker process of `waysheet report`: one job after the other, with one browser for all of them. */
import { lazyPrinter } from '../archive/batch/lazy-printer.js';
import type { Served } from '../archive/batch/serve-tasks.js';
import { visible } from '../base/diagnostics/messages.js';
import { unpacked, type PackedTolerances } from '../survey/job/packed-tolerances.js';
import { describeNote } from '../pages/report/browser-notes.js';
import { reportOne, type ReportSettings } from './report-one.js';
import { failedReport, type Reported } from './reported.js';

export type PackedSettings = Omit<ReportSettings, 'given'> & { readonly given: PackedTolerances | null };

export function worker(): Served<string, Reported> {
  let settings: ReportSettings;
  /** What the browser has to say, once. */
  let notes = '';
  const printer = lazyPrinter((opened) => {
    notes = opened.notes.map((note) => `${describeNote(note)}\n`).join('');
  });

  return {
    start(told) {
      const { given, ...rest } = told as PackedSettings;
      settings = { ...rest, given: given && unpacked(given) };
    },
    async task(folder, note) {
      try {
        const reported = await reportOne(folder, settings, printer.open, note);
        const said = notes;
        notes = '';
        return { ...reported, err: said + reported.err };
      } catch (error) {
        if (process.env['WAYSHEET_DEBUG'] !== undefined)
          process.stderr.write(`${visible((error as Error).stack ?? '')}\n`);
        return failedReport(folder, (error as Error).message);
      }
    },
    end: () => printer.close(),
  };
}
