/**
 * Does an issued report still follow from its readings, and do its pages say what they should?
 *
 * The inputs are taken from the PDF (or a job folder), and the whole report is made again from them: results are
 * compared number by number, files byte for byte, the PDF byte for byte and, where that differs, page by page.
 */
import { compareResults, type Difference } from '../archive/compare-results.js';
import { changedFiles, issuedHead, readIssued, type IssuedReport } from '../archive/issued-report.js';
import type { Manifest } from '../archive/manifest.js';
import { makeDeliverables, type Made } from '../pipeline.js';
import { BrowserTrouble } from '../report/browser/trouble.js';
import type { Printer } from '../report/pdf.js';
import type { TrustedKey } from '../archive/signing.js';
import { checkSigned } from './check-signed.js';
import { addedAfter, definedOtherwise } from '../results/added-keys.js';
import { SOFTWARE } from '../version.js';
import { gatherInputs, withInputs, type InputPlaces } from './issued-inputs.js';
import { attachmentsOtherwise, filesMadeOtherwise, manifestOtherwise } from './made-again.js';
import { comparePages, type PageDifference, type Strictness } from './pages/compare-pages.js';
import { readPages, type PdfPages } from './pages/read-pages.js';
import { baseOf } from './revisions.js';

/** How far the pages of a PDF were compared. */
export type PagesCompared =
  /** The same inputs print the same bytes. */
  | 'bytes'
  /** Printed again by the same browser: every glyph and line, its place and colour. */
  | 'drawing'
  /** By another browser: text, and whether something lies over it. */
  | 'text'
  /** There is no PDF, or no browser printed it again. */
  | 'none';

export interface AuditFinding {
  readonly path: string;
  readonly job: string;
  /** Files that are not what was issued, in words. */
  readonly files: readonly string[];
  /** Results that do not follow from the inputs. */
  readonly results: readonly Difference[];
  /** What the pages say otherwise than the same inputs do. */
  readonly pages: readonly (PageDifference & { readonly file: string })[];
  readonly pagesCompared: PagesCompared;
  /** Why the pages were compared less closely than byte for byte, and what stands on top of them; '' for nothing. */
  readonly note: string;
  /** Number of the issued report; null: a draft. */
  readonly number: string | null;
  /** Who signed it; '' where that was not asked. */
  readonly signed: string;
  /** Issued by another version: numbers may then differ for a reason that the message of a release's tag gives. */
  readonly issuedBy: string;
  readonly recomputed: boolean;
  /** What was not compared although all could be made again, and why. */
  readonly notCompared: readonly { readonly what: string; readonly why: string }[];
  /** In words, what is not to be had, so that nothing could be made again; all else was compared. */
  readonly absent: readonly string[];
  /** A PDF without the folder it was issued in: nothing is known of the files beside it. */
  readonly pdfAlone: boolean;
}

/** Nothing differs, as far as it could be compared, but it could not be made again. */
export const isUndecided = (f: AuditFinding): boolean =>
  f.absent.length > 0 && f.files.length === 0 && f.results.length === 0 && f.pages.length === 0;

/** Made again, and nothing differs as far as it was compared. */
export const isSound = (f: AuditFinding): boolean =>
  f.files.length === 0 && f.results.length === 0 && f.pages.length === 0 && f.recomputed;

/**
 * @param path Folder of deliverables, or a report's PDF.
 * @param where The inputs are, when the PDF does not carry them.
 * @param print Opens the browser that prints the report again; null: its pages are not compared.
 * @param trusted Keys that signatures are held against; null: who signed is not asked.
 * @throws {Error} nothing that can be audited is there.
 */
export async function audit(
  path: string,
  where: InputPlaces,
  print: (() => Promise<Printer>) | null = null,
  trusted: readonly TrustedKey[] | null = null,
): Promise<AuditFinding> {
  const issued = await readIssued(path);
  const head = issuedHead(issued, path);
  if (typeof head === 'string') throw new Error(head);
  const { results } = head;
  const { manifest } = issued;
  const signed = checkSigned(issued, trusted);
  const files = [
    ...issued.troubles,
    ...(signed.isTrouble ? [signed.words] : []),
    ...(manifest === null ? [] : changedFiles(manifest, issued.files)),
    ...attachmentsOtherwise(issued, results.inputs),
  ];
  const about = {
    path,
    job: results.job,
    issuedBy: `${results.software.version}, method ${results.software.method}`,
    pdfAlone: manifest === null,
    number: results.issue?.number ?? null,
    signed: signed.words,
  };
  const notMade = (absent: readonly string[], others: readonly string[]): AuditFinding => {
    return {
      ...about,
      pages: [],
      pagesCompared: 'none',
      note: '',
      results: [],
      notCompared: [],
      recomputed: false,
      absent,
      files: [...files, ...others],
    };
  };
  const inputs = await gatherInputs(results, issued, where);
  if (inputs.absent.length > 0 || inputs.others.length > 0) return notMade(inputs.absent, inputs.others);
  const isSameVersion = JSON.stringify(results.software) === JSON.stringify(SOFTWARE);
  const hasPdf = issued.pdf !== null;
  const printer = hasPdf && print !== null ? print() : null;
  printer?.catch(() => undefined);
  let trouble = '';
  const issuing = results.issue === undefined ? null : { facts: results.issue, sign: null };
  const again = await withInputs(
    inputs.found,
    results.whatIf?.tolerances ?? null,
    async ({ value, diagnostics }, folder) => {
      const make = (by: Promise<Printer> | null) => makeDeliverables(folder, value, diagnostics, by, issuing);
      try {
        return { made: await make(printer), browser: (await printer)?.browser ?? null };
      } catch (error) {
        if (!(error instanceof BrowserTrouble)) throw error;
        trouble = error.message;
        return { made: await make(null), browser: null };
      }
    },
  );
  if (again === null)
    return notMade([], ['the inputs, which were accepted when the report was issued, are refused now']);
  // Only the same version writes the same words; another may still find the same numbers.
  if (isSameVersion && manifest !== null)
    files.push(
      ...filesMadeOtherwise(issued.files, again.made.files),
      ...manifestOtherwise(manifest, again.made.files),
    );
  const pages = isSameVersion
    ? await comparedPdfs(issued, again, manifest, trouble)
    : { pages: [], pagesCompared: 'none' as const, note: '' };
  const figures = comparedFigures(issued, again.made, isSameVersion ? null : results.software.version);
  return {
    ...about,
    ...pages,
    absent: [],
    files: [...new Set(files)],
    results: figures.results,
    notCompared: [...figures.notCompared, ...(isSameVersion ? [] : [pagesOfAnother(about.issuedBy)])],
    recomputed: true,
  };
}

const pagesOfAnother = (issuedBy: string) => ({
  what: 'the pages',
  why: `they were made by ${issuedBy}; only that version can print them again`,
});

/** @param version Which made the report, where it is another one than this. */
function comparedFigures(
  issued: IssuedReport,
  made: Made,
  version: string | null,
): Pick<AuditFinding, 'results' | 'notCompared'> {
  const [stood, now] = [issued.files, made.files].map((list) => Buffer.from(list.get('results.json')!)) as [
    Buffer,
    Buffer,
  ];
  // The same bytes are a document that was just made, and nothing in it has to be looked at one by one.
  if (stood.equals(now)) return { results: [], notCompared: [] };
  const [before, again] = [stood, now].map((text) => JSON.parse(text.toString('utf8')) as unknown);
  if (version === null) return { results: compareResults(before, again), notCompared: [] };
  const isNew = addedAfter(version);
  const otherwise = definedOtherwise(version);
  const all = compareResults(before, again, (place) => place.startsWith('software') || isNew(place));
  const named = new Set(all.flatMap(({ place }) => otherwise(place) ?? []));
  return {
    results: all.filter(({ place }) => otherwise(place) === undefined),
    notCompared: [...named].map(({ what, why }) => ({ what, why })),
  };
}

type Pages = Pick<AuditFinding, 'pages' | 'pagesCompared' | 'note'>;

async function comparedPdfs(
  { files, pdf }: IssuedReport,
  { made, browser }: { readonly made: Made; readonly browser: string | null },
  manifest: Manifest | null,
  trouble: string,
): Promise<Pages> {
  if (pdf === null) return { pages: [], pagesCompared: 'none', note: '' };
  if (browser === null) return { pages: [], pagesCompared: 'none', note: trouble };
  const wholes: [string, Uint8Array][] = [['report.pdf', pdf]];
  const sheet = files.get('corrections.pdf');
  if (sheet !== undefined) wholes.push(['corrections.pdf', sheet]);
  const pages: AuditFinding['pages'][number][] = [];
  const notes: string[] = [];
  let compared: PagesCompared = 'bytes';
  for (const [file, stands] of wholes) {
    const now = made.files.get(file);
    if (now === undefined) {
      pages.push({ file, page: null, what: 'these inputs make no such file' });
      continue;
    }
    if (Buffer.from(stands).equals(now)) continue;
    // What was written on top of the issued bytes, as a signature is, must show nothing else than they do.
    const base = baseOf(stands);
    const read = await Promise.all(
      [base, ...(base.length < stands.length ? [stands] : [])].map(readPages),
    ).catch((error: Error) => error.message);
    if (typeof read === 'string') {
      pages.push({ file, page: null, what: `it cannot be read: ${read}` });
      continue;
    }
    const [shown, onTop] = read as [PdfPages, PdfPages?];
    if (onTop !== undefined) {
      pages.push(...comparePages(onTop, shown, 'signed').map((difference) => ({ file, ...difference })));
      notes.push(
        `${file} holds the issued bytes, and ${stands.length - base.length} bytes on top of them, as an electronic signature adds them`,
      );
    }
    if (Buffer.from(base).equals(now)) continue;
    const wanted = await readPages(now);
    const own = producerOf(shown.information) === producerOf(wanted.information);
    const isSameBrowser = manifest === null ? own : manifest.browser === browser || own;
    const how: Strictness = isSameBrowser ? 'same-print' : 'other-print';
    const found = comparePages(shown, wanted, how).map((difference) => ({ file, ...difference }));
    pages.push(...found);
    if (how === 'same-print') {
      compared = 'drawing';
      if (found.length === 0)
        pages.push({
          file,
          page: null,
          what: 'its bytes are not those that these inputs print, although its pages show the same text and lines',
        });
    } else {
      compared = 'text';
      notes.push(
        `${file} was printed by another browser than ${browser}: its text was compared, not its fonts`,
      );
    }
  }
  if (compared === 'bytes' && manifest !== null && manifest.browser !== browser)
    notes.push(
      `manifest.json says that ${manifest.browser ?? 'no browser'} printed it; ${browser} prints the same bytes`,
    );
  return { pages, pagesCompared: compared, note: notes.join('; ') };
}

const producerOf = (information: Readonly<Record<string, string>>): string => information['Producer'] ?? '';
