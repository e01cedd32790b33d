/** What a PDF is printed from. */
import type { BrowserNote } from './browser/trouble.js';

/** How an attached file relates to the report. @see ISO 32000-2, 14.13, "Associated files". */
export type Relationship =
  /** The report was made from it: the raw readings. */
  | 'Source'
  /** The figures that tables and charts are made from. */
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
  /** Limit for this job alone, ms. Default: 300 s, for machines with much other work. */
  readonly timeoutMs?: number;
  /** What should be said about this print although it succeeded. */
  readonly onNote?: (note: BrowserNote) => void;
}

/** What the PDF says about itself, and the files that it carries. */
export type DocumentOfJob = Omit<PrintJob, 'html' | 'fontless' | 'paper'>;
