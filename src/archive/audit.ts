/**
 * Does an issued report still follow from its readings? Every file is compared with its recorded hash, the inputs
 * are taken from the PDF (or a job folder), solved again, and the results compared number by number.
 */
import { solve } from '../pipeline.js';
import { resultsSchema } from '../results/results-schema.js';
import { compareResults, type Difference } from './compare-results.js';
import { gatherInputs, withInputs, type InputPlaces } from './issued-inputs.js';
import { changedFiles, readIssued } from './issued-report.js';

export interface AuditFinding {
  readonly path: string;
  readonly job: string;
  /** Files that are not what was issued, in words. */
  readonly files: readonly string[];
  /** Results that do not follow from the inputs. */
  readonly results: readonly Difference[];
  /** Issued by another version: numbers may then differ for a reason that the message of a release's tag gives. */
  readonly issuedBy: string;
  readonly recomputed: boolean;
  /** Of a PDF alone nothing says whether the bytes of its pages are those that were issued. */
  readonly pdfAlone: boolean;
}

export const isSound = (f: AuditFinding): boolean =>
  f.files.length === 0 && f.results.length === 0 && f.recomputed;

/**
 * @param path Folder of deliverables, or a report's PDF.
 * @param where The inputs are, when the PDF does not carry them.
 * @throws {Error} nothing that can be audited is there.
 */
export async function audit(path: string, where: InputPlaces): Promise<AuditFinding> {
  const issued = await readIssued(path);
  const text = issued.files.get('results.json');
  if (text === undefined) throw new Error(`${path} holds no results.json`);
  const document: unknown = JSON.parse(new TextDecoder().decode(text));
  const parsed = resultsSchema.safeParse(document);
  if (!parsed.success) throw new Error(`${path}: results.json is not a document that this version reads`);
  const results = parsed.data;
  const files = issued.manifest === null ? [] : changedFiles(issued.manifest, issued.files);
  const about = {
    path,
    job: results.job,
    issuedBy: `${results.software.version}, method ${results.software.method}`,
    pdfAlone: issued.manifest === null,
  };
  const inputs = await gatherInputs(results, issued, where);
  if (inputs.missing.length > 0)
    return { ...about, files: [...files, ...inputs.missing], results: [], recomputed: false };
  const again = await withInputs(inputs.found, results.whatIf?.tolerances ?? null, (loaded) =>
    solve(loaded.value, loaded.diagnostics),
  );
  if (again === null)
    return {
      ...about,
      files: [...files, 'the inputs, which were accepted when the report was issued, are refused now'],
      results: [],
      recomputed: false,
    };
  return {
    ...about,
    files,
    results: compareResults(document, JSON.parse(JSON.stringify(again)), (place) =>
      place.startsWith('software'),
    ),
    recomputed: true,
  };
}
