/** The worker process of `waysheet report`: one job after the other, with one browser for all of them. */
import { serveTasks } from '../archive/batch/serve-tasks.js';
import { visible } from '../diagnostics/messages.js';
import { unpacked, type PackedTolerances } from '../job/packed-tolerances.js';
import { describeNote } from '../report/browser-notes.js';
import type { Printer } from '../report/pdf.js';
import { failedReport, reportOne, type Reported, type ReportSettings } from './report-one.js';

export type PackedSettings = Omit<ReportSettings, 'given'> & { readonly given: PackedTolerances | null };

let settings: ReportSettings;
let printer: Promise<Printer> | null = null;
/** What the browser has to say, once. */
let notes = '';

async function open(): Promise<Printer> {
  const { openPrinter } = await import('../report/pdf.js');
  const opened = await openPrinter();
  notes = opened.notes.map((note) => `${describeNote(note)}\n`).join('');
  return opened;
}

serveTasks<string, Reported>({
  start(told) {
    const { given, ...rest } = told as PackedSettings;
    settings = { ...rest, given: given && unpacked(given) };
  },
  async task(folder, note) {
    try {
      const reported = await reportOne(folder, settings, () => (printer ??= open()), note);
      const said = notes;
      notes = '';
      return { ...reported, err: said + reported.err };
    } catch (error) {
      printer?.catch(() => (printer = null)); // one that did not open is tried again with the next job
      if (process.env['WAYSHEET_DEBUG'] !== undefined)
        process.stderr.write(`${visible((error as Error).stack ?? '')}\n`);
      return failedReport(folder, (error as Error).message);
    }
  },
  end: async () => (await printer?.catch(() => null))?.close(),
});
