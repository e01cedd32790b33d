import { openPress, type PressOptions } from './browser/print-html.js';
import type { BrowserNote } from './browser/trouble.js';
import { finishPdf } from './pdf-file/finish.js';
import type { PrintJob } from './print-job.js';

export interface Printer {
  /** For the manifest: 'packed Chromium 143.0.7499.0', or path and version. */
  readonly browser: string;
  /** What should be said about the browser: skipped ones, no sandbox. */
  readonly notes: readonly BrowserNote[];
  /** The finished PDF; the same job gives the same bytes, whatever was printed before. */
  print(job: PrintJob): Promise<Uint8Array>;
  /** Ends the browser; prints that wait or run fail with BROWSER_CLOSED. */
  close(): Promise<void>;
}

/** A second or two as a rule; a machine with much other work may take a minute. */
const PRINTING_MS = 300_000;

export type PrinterOptions = PressOptions;

/**
 * A printer for any number of reports, several at a time with `pages` > 1. Close it at the end.
 *
 * @throws {BrowserTrouble} see BrowserTroubleCode. {RangeError} createdOn is not a date, or two attachments share a name.
 */
export async function openPrinter(options: PrinterOptions = {}): Promise<Printer> {
  const press = await openPress(options);
  return {
    browser: press.description,
    notes: press.notes,
    async print(job) {
      const { html, fontless = html, paper, timeoutMs = PRINTING_MS, onNote = () => undefined } = job;
      assertSound(job);
      return finishPdf(await press.print({ html, fontless, paper, timeoutMs, onNote }), job);
    },
    close: () => press.close(),
  };
}

/** Before anything is printed. */
function assertSound({ createdOn, attachments = [] }: PrintJob): void {
  if (Number.isNaN(Date.parse(createdOn)))
    throw new RangeError(`createdOn is '${createdOn}', not an ISO date`);
  const names = attachments.map(({ name }) => name);
  const repeated = names.find((name, i) => names.indexOf(name) !== i);
  if (repeated !== undefined) throw new RangeError(`two attachments are called '${repeated}'`);
}
