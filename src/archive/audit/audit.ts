/**
 * An audit makes three statements about a report: its figures follow from its readings; its pages follow from these figures;
 * and who vouches for it. Each is proven, or differs, or was not compared, with the reason.
 *
 * The inputs are taken from the PDF (or a job folder), and the whole report is made again from them. Every file is compared
 * byte for byte with the new one. The content of a page is never interpreted.
 */
import { issuedHead, readIssued, type IssuedReport } from '../issued-report.js';
import type { Trust } from '../signing.js';
import type { Printer } from '../../pages/report/pdf.js';
import { jsonOf } from '../../base/input/json-of.js';
import { SOFTWARE } from '../../base/version.js';
import { compareFigures } from './figures.js';
import { Findings } from './findings.js';
import { gatherInputs, withInputs, type InputPlaces } from './issued-inputs.js';
import { makeAgain, type MadeAgain } from './make-again.js';
import { compareFiles, compareStated } from './pages.js';
import { WHO, type AuditFinding, type PagePictures } from './statements.js';
import type { Issue, Results } from '../../results/results-schema.js';
import { lacking } from '../what-lacks.js';
import { checkVouched } from './vouched.js';

export interface AuditRequest extends InputPlaces {
  /** Opens the browser that prints the report again; null: --no-print. */
  readonly print: (() => Promise<Printer>) | null;
  /** null: the third statement is not audited. */
  readonly trust: Trust | null;
  /** Draws the pages of a PDF that was not compared, or throws an error with the reason; absent: no pictures are requested. */
  readonly draw?: (pdf: Uint8Array) => Promise<readonly string[]>;
}

/**
 * @param path Folder of deliverables, or a report's PDF.
 * @throws {Error} there is nothing that can be audited.
 */
export async function audit(path: string, request: AuditRequest): Promise<AuditFinding> {
  const issued = await readIssued(path);
  const found = new Findings(path);
  for (const what of issued.strange) found.differs('pages', what);
  const head = issuedHead(issued, path);
  if (typeof head === 'string') {
    if (issued.manifest === null && issued.strange.length === 0) throw new Error(head);
    const text = issued.files.get('results.json');
    if (text !== undefined && jsonOf(text) === undefined) found.differs('figures', head);
    else found.leaves('figures', 'the figures', head);
    found.leaves('vouched', WHO, 'there are no results that say who should');
    return found.finding(null);
  }
  const { results, document } = head;
  const isSame = JSON.stringify(results.software) === JSON.stringify(SOFTWARE);
  compareStated(issued, document, found);
  await checkVouched(issued, results.issue, request.trust, found);
  const inputs = gatherInputs(results, issued, request);
  for (const what of inputs.others) found.differs('figures', what);
  const why = 'it was taken out of the report itself: who named the job folder did not name a brand';
  for (const what of inputs.inside) found.leaves(null, what, why);
  const whatIf = results.whatIf?.tolerances ?? null;
  const made =
    inputs.absent.length > 0
      ? inputs.absent
      : await withInputs(inputs.found, whatIf, (loaded, folder) =>
          makeAgain(folder, loaded, issued, results, request.print),
        ).catch((error: Error) => [`it could not be made again: ${error.message}`]);
  if (made === null || !('files' in made)) {
    leaveUnmade(made, isSame, found);
    return found.finding(results, issued.files.get('manifest.json'));
  }
  if (isSame && results.issue !== undefined)
    compareOmitted(results.issue, made.files.get('results.json')!, found);
  compareFigures(issued, made.files.get('results.json')!, isSame ? null : results.software, found);
  compareFiles(issued, made, isSame, results, request.print !== null, found);
  const manifest = issued.files.get('manifest.json') ?? made.files.get('manifest.json');
  const finding = found.finding(results, manifest);
  if (finding.pages !== 'not-compared' || request.draw === undefined) return finding;
  const pictures = await picturesOf(issued, made, request.draw).catch((error: Error) => {
    found.leaves(null, 'pictures of the pages', `none could be made: ${error.message}`);
    return [];
  });
  return { ...found.finding(results, manifest), pictures };
}

/** Compares the items without which the report was issued with those that its job does not record. */
function compareOmitted({ without = [] }: Issue, made: Uint8Array, found: Findings): void {
  const lacks = lacking(JSON.parse(Buffer.from(made).toString('utf8')) as Results);
  const words = (list: readonly string[]) => (list.length === 0 ? 'nothing' : list.join(', '));
  if (words(without) !== words(lacks))
    found.differs(
      'figures',
      `issue.without: it says that it was issued without ${words(without)}; its job lacks ${words(lacks)}`,
    );
}

/** @param absent The missing inputs, in words; null: all inputs exist, but they are refused now. */
function leaveUnmade(absent: readonly string[] | null, isSame: boolean, found: Findings): void {
  if (absent !== null) for (const why of absent) found.leaves('figures', 'the figures', why);
  else if (isSame) found.differs('figures', 'its inputs are refused: this version made no report of them');
  else
    found.leaves('figures', 'the figures', 'this version refuses the inputs, which the other version took');
  found.leaves('pages', 'the pages', 'without figures there is nothing that they could be compared with');
}

async function picturesOf(
  { files }: IssuedReport,
  { printed }: MadeAgain,
  draw: NonNullable<AuditRequest['draw']>,
): Promise<readonly PagePictures[]> {
  const pages = (pdf: Uint8Array | undefined) => (pdf === undefined ? [] : draw(pdf));
  const issued = await pages(files.get('report.pdf'));
  const today = await pages(printed.get('report.pdf'));
  return Array.from({ length: Math.max(issued.length, today.length) }, (_, i) => ({
    page: i + 1,
    issued: issued[i] ?? null,
    today: today[i] ?? null,
  }));
}
