/** A report that is made again from its inputs with the PDFs of the report itself, and the PDFs that the browser here prints. */
import type { IssuedReport } from '../issued-report.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import type { LoadedJob } from '../../solution/intake/load-job.js';
import { firstLanguage, languagesOf } from '../../survey/job/languages.js';
import { makeDeliverables, type Made } from '../../pipeline.js';
import { BrowserTrouble } from '../../pages/report/browser/trouble.js';
import type { Printer } from '../../pages/report/pdf.js';
import type { Attachment } from '../../pages/report/print-job.js';
import type { Results } from '../../results/results-schema.js';

export interface MadeAgain {
  /** All files; PDFs are those of the report itself, so that the manifest lists their hashes. */
  readonly files: Made['files'];
  /** PDFs that the browser here prints, by name; empty: not requested, or it failed. */
  readonly printed: ReadonlyMap<string, Uint8Array>;
  /** The expected attachments of report.pdf. */
  readonly attachments: readonly Attachment[];
  /** The browser that printed here; null: none. */
  readonly browser: string | null;
  /** The reason why it did not print; '' if it printed, or was not asked to print. */
  readonly trouble: string;
}

/** @param open Opens the browser; null: nothing is printed. */
export async function makeAgain(
  folder: string,
  { value, diagnostics }: { readonly value: LoadedJob; readonly diagnostics: readonly Diagnostic[] },
  { files, manifest, pdf }: IssuedReport,
  { issue }: Pick<Results, 'issue'>,
  open: (() => Promise<Printer>) | null,
): Promise<MadeAgain> {
  const printed = new Map<string, Uint8Array>();
  let attachments: readonly Attachment[] = [];
  let trouble = '';
  const isPrinted = manifest === null || manifest.browser !== null;
  const real = isPrinted && open !== null ? open().catch((error: Error) => error) : null;
  const print: Printer['print'] = async (job) => {
    const name = job.attachments === undefined ? 'corrections.pdf' : 'report.pdf';
    attachments = job.attachments ?? attachments;
    const printer = await real;
    if (printer instanceof Error) trouble = printer.message;
    else if (printer !== null)
      try {
        printed.set(name, await printer.print(job));
      } catch (error) {
        if (!(error instanceof BrowserTrouble)) throw error;
        trouble = error.message;
      }
    return files.get(name) ?? printed.get(name) ?? new Uint8Array();
  };
  const opened = await real;
  const browser = opened === null || opened instanceof Error ? null : opened.browser;
  const printer: Printer = {
    browser: manifest?.browser ?? browser ?? 'none',
    notes: [],
    print,
    close: () => Promise.resolve(),
  };
  const issuing = issue === undefined ? null : { facts: issue, sign: null };
  // The language of a PDF is in the PDF. If it is the job's own, no other was requested.
  const ofPdf =
    pdf?.language === firstLanguage(languagesOf(value) ?? 'en') ? undefined : (pdf?.language ?? undefined);
  const asked = manifest === null ? ofPdf : manifest.language;
  const made = await makeDeliverables(
    folder,
    asked === undefined ? value : { ...value, language: asked },
    diagnostics,
    isPrinted ? Promise.resolve(printer) : null,
    issuing,
  );
  return { files: made.files, printed, attachments, browser, trouble };
}
