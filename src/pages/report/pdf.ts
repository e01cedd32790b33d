import { openPress, type PressOptions } from './browser/print-html.js';
import type { BrowserNote } from './browser/trouble.js';
import { finishPdf } from './pdf-file/finish.js';

/** How an attached file relates to the report. @see ISO 32000-2, 14.13, "Associated files". */
export type Relationship =
  /** The report was made from it: the raw readings. */
  | 'Source'
  /** The figures behind the tables and charts. */
  | 'Data'
  /** The same content in another form: results.json. */
  | 'Alternative'
  | 'Supplement';

export interface Attachment {
  /** Without folders; unique within the report. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** For example text/csv. */
  readonly mime: string;
  readonly description: string;
  readonly relationship: Relationship;
}

export interface PrintJob {
  readonly html: string;
  /** The same page without its fonts, printed instead where the browser has them installed: quicker. */
  readonly fontless?: string;
  readonly title: string;
  readonly author?: string;
  readonly subject?: string;
  /** The program and its version, as the file's creator. Default 'waysheet'. */
  readonly creator?: string;
  /** The date that the job gives the report, ISO 8601 (a date means midnight UTC); never the clock's. */
  readonly createdOn: string;
  /** Used when the html's own `@page { size }` says nothing. */
  readonly paper: 'A4' | 'Letter';
  readonly attachments?: readonly Attachment[];
  /** Limit for this job alone, ms. Default 60 s. */
  readonly timeoutMs?: number;
  /** What should be said about this print although it succeeded. */
  readonly onNote?: (note: BrowserNote) => void;
}

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
      const { html, fontless = html, paper, timeoutMs = 60_000, onNote = () => undefined } = job;
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
