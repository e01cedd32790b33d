/**
 * Does an issued report still follow from its readings? Every file is compared with its recorded hash, the inputs
 * are taken from the PDF (or a job folder), solved again, and the results compared number by number.
 */
import { makeDeliverables, solve, type Made } from '../pipeline.js';
import { addedAfter } from '../results/added-keys.js';
import { SOFTWARE } from '../version.js';
import { compareResults, type Difference } from './compare-results.js';
import { gatherInputs, withInputs, type InputPlaces } from './issued-inputs.js';
import { changedFiles, issuedResults, readIssued, type IssuedReport } from './issued-report.js';
import { sha256, type Manifest } from './manifest.js';

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

/** In words, each file that is not, byte for byte, what the same inputs make now; and what the manifest says otherwise. */
function madeOtherwise(manifest: Manifest, issued: IssuedReport, made: Made): string[] {
  const found: string[] = [];
  const read = (files: ReadonlyMap<string, Uint8Array>, path: string) => {
    const bytes = files.get(path);
    return bytes === undefined ? null : Buffer.from(bytes);
  };
  for (const path of made.files.keys()) {
    if (path === 'manifest.json') continue;
    const [stood, now] = [read(issued.files, path), read(made.files, path)!];
    if (stood === null) found.push(`${path} is missing, which these inputs make`);
    else if (!stood.equals(now)) found.push(`${path} is not what these inputs make now, byte for byte`);
  }
  for (const path of issued.files.keys())
    if (!made.files.has(path) && !path.endsWith('.pdf'))
      found.push(`${path} is nothing that these inputs make`);
  const own = JSON.parse(new TextDecoder().decode(made.files.get('manifest.json'))) as Manifest;
  for (const key of ['job', 'verdict', 'software', 'digests', 'whatIf'] as const)
    if (JSON.stringify(manifest[key]) !== JSON.stringify(own[key]))
      found.push(`manifest.json says otherwise of ${key} than these inputs do`);
  const plain = ({ inputs }: Manifest) =>
    JSON.stringify(inputs.map(({ path, sha256: hash }) => [path, hash]));
  if (plain(manifest) !== plain(own)) found.push('manifest.json lists other inputs than those of the report');
  const pdf = issued.files.get('report.pdf');
  const text = issued.files.get('results.json');
  if (pdf !== undefined && text !== undefined && !issued.carried.has(sha256(text)))
    found.push('report.pdf carries another results.json than lies beside it');
  return found;
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
  const read = issuedResults(issued, path);
  if (typeof read === 'string') throw new Error(read);
  const { document, results } = read;
  const files = issued.manifest === null ? [] : changedFiles(issued.manifest, issued.files);
  const about = {
    path,
    job: results.job,
    issuedBy: `${results.software.version}, method ${results.software.method}`,
    pdfAlone: issued.manifest === null,
  };
  const isNew = addedAfter(results.software.version);
  const inputs = await gatherInputs(results, issued, where);
  if (inputs.missing.length > 0)
    return { ...about, files: [...files, ...inputs.missing], results: [], recomputed: false };
  // Only the same version writes the same words; another may still find the same numbers.
  const isSameVersion = JSON.stringify(results.software) === JSON.stringify(SOFTWARE);
  const again = await withInputs(
    inputs.found,
    results.whatIf?.tolerances ?? null,
    async ({ value, diagnostics }, folder) => {
      if (!isSameVersion || issued.manifest === null) return await solve(value, diagnostics);
      const made = await makeDeliverables(folder, value, diagnostics, null);
      files.push(...madeOtherwise(issued.manifest, issued, made));
      return made.results;
    },
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
    results: compareResults(
      document,
      JSON.parse(JSON.stringify(again)),
      (place) => place.startsWith('software') || isNew(place),
    ),
    recomputed: true,
  };
}
