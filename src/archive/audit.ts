/**
 * Does an issued report still follow from its readings? Every file is compared with its recorded hash, the inputs
 * are taken from the PDF (or a job folder), solved again, and the results compared number by number.
 */
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { parseGivenTolerances } from '../job/given-tolerances.js';
import { solve } from '../pipeline.js';
import { loadJob } from '../intake/load-job.js';
import { resultsSchema, type Results } from '../results/results-schema.js';
import { compareResults, type Difference } from './compare-results.js';
import { changedFiles, readIssued, type IssuedReport } from './issued-report.js';
import { sha256 } from './manifest.js';

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

export interface InputPlaces {
  /** The job folder, whose files go before those that the PDF carries; null: only the PDF. */
  readonly job: string | null;
  /** The tolerance set of a what-if report. */
  readonly tolerances: string | null;
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
  const again = await solveAgain(inputs.found, results.whatIf?.tolerances ?? null);
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

async function gatherInputs(
  results: Results,
  issued: IssuedReport,
  where: InputPlaces,
): Promise<{ found: Map<string, Uint8Array>; missing: string[] }> {
  const found = new Map<string, Uint8Array>();
  const missing: string[] = [];
  for (const { path, sha256: hash } of results.inputs) {
    const isGiven = path === results.whatIf?.tolerances;
    const folder = isGiven ? null : where.job;
    const place = isGiven ? where.tolerances : folder === null ? null : join(folder, path);
    const given = place === null ? undefined : await readFile(place).catch(() => undefined);
    // Who names a job folder asks about the files that lie there, whatever the PDF carries.
    const bytes = given ?? issued.carried.get(hash);
    if (bytes === undefined)
      missing.push(`input ${path} is not to be had: the PDF does not carry it${adviceOn(place, isGiven)}`);
    else if (sha256(bytes) !== hash)
      missing.push(`input ${path} is not the file that was reported: its SHA-256 differs`);
    else found.set(path, bytes);
  }
  return { found, missing };
}

const adviceOn = (place: string | null, isGiven: boolean): string =>
  place === null
    ? `; name the ${isGiven ? 'tolerance set with --tolerances' : 'job folder with --job'}`
    : ` and ${isGiven ? `${place} cannot be read` : 'the job folder lacks it'}`;

/** The inputs laid out as they were, deep enough for a tolerance set that was shared from above the job folder. */
async function solveAgain(
  inputs: ReadonlyMap<string, Uint8Array>,
  whatIf: string | null,
): Promise<Results | null> {
  const set = whatIf === null ? null : inputs.get(whatIf);
  const given = set === null || whatIf === null ? null : set && parseGivenTolerances(set, whatIf);
  if (given === undefined || given?.ok === false) return null;
  const scratch = await mkdtemp(join(tmpdir(), 'waysheet-audit-'));
  try {
    const folder = join(scratch, ...new Array<string>(12).fill('a'));
    for (const [path, bytes] of inputs) {
      const target = join(folder, path);
      if (!target.startsWith(scratch)) throw new Error(`input path ${path} leads out of the archive`);
      await mkdir(dirname(target), { recursive: true });
      await writeFile(target, bytes);
    }
    const loaded = await loadJob(folder, given?.value ?? null);
    return loaded.ok ? await solve(loaded.value, loaded.diagnostics) : null;
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}
