/** Reads a report: a folder of deliverables, or a PDF alone with its attachments. */
import { readdirSync, realpathSync } from 'node:fs';
import { join } from 'node:path';
import * as z from 'zod';
import { resultsSchema, type Results } from '../results/results-schema.js';
import { readReportPdf, type ReportPdf } from '../pages/report/pdf-file/read-report-pdf.js';
import { jsonOf } from '../base/input/json-of.js';
import { SIGNATURE_FILE } from './signing.js';
import { manifestSchema, sha256, type Manifest } from '../pages/deliverables/manifest.js';
import { kindAt, readRegularFile } from './regular-file.js';

export interface IssuedReport {
  /** null: a PDF alone, or a folder without one that this version reads, which is then among what is strange. */
  readonly manifest: Manifest | null;
  /** Files of the folder as they are now, by path; for a PDF alone itself and its results.json. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** report.pdf as it was printed and signed; null: there is none, or waysheet did not write it. */
  readonly pdf: ReportPdf | null;
  /** In words: files that do not belong to a report, or cannot be read. */
  readonly strange: readonly string[];
}

/**
 * @param path A folder of deliverables, or a report's PDF.
 * @throws {Error} there is nothing, or no report.
 */
export async function readIssued(path: string): Promise<IssuedReport> {
  const kind = kindAt(path);
  if (kind === null) throw new Error('there is no such file or folder');
  if (kind === 'folder') {
    const { manifest, files, strange } = readDeliverables(path);
    return { manifest, ...withPdf(files, strange) };
  }
  const bytes = readRegularFile(realpathSync(path));
  const { files, pdf, strange } = withPdf(new Map([['report.pdf', bytes]]), []);
  const results = pdf?.attachments.find(({ name }) => name === 'results.json');
  if (results === undefined && !Buffer.from(bytes).toString('latin1', 0, 5).startsWith('%PDF-'))
    throw new Error(`${path} is neither a folder nor a PDF: it does not begin with %PDF`);
  return {
    manifest: null,
    files: results === undefined ? files : new Map([...files, ['results.json', results.bytes]]),
    pdf,
    strange:
      pdf !== null && results === undefined
        ? ['report.pdf carries no results.json: it is no report of waysheet, or was issued without its data']
        : strange,
  };
}

function withPdf(files: ReadonlyMap<string, Uint8Array>, strange: readonly string[]) {
  const bytes = files.get('report.pdf');
  try {
    return { files, pdf: bytes === undefined ? null : readReportPdf(bytes), strange };
  } catch (error) {
    return { files, pdf: null, strange: [...strange, `report.pdf: ${(error as Error).message}`] };
  }
}

/** The results of a report: the document as it lies there, of which only what the schema asks was checked, and the same as this version reads it; or why it cannot be read. */
export const issuedResults = (report: Pick<IssuedReport, 'files'>, path: string) =>
  resultsBy(resultsSchema, report, path);

/** Only the head of the results; the rest of the document is not checked. */
export const issuedHead = (report: Pick<IssuedReport, 'files'>, path: string) =>
  resultsBy(headSchema, report, path);

const headSchema = z.object(
  resultsSchema.pick({ job: true, issue: true, software: true, inputs: true, whatIf: true }).shape,
);

function resultsBy<T>(
  schema: z.ZodType<T>,
  { files }: Pick<IssuedReport, 'files'>,
  path: string,
): { readonly document: Results; readonly results: T } | string {
  const text = files.get('results.json');
  if (text === undefined) return `${path} holds no results.json`;
  const document = jsonOf(text) as Results | undefined;
  if (document === undefined) return `${path}: results.json is not JSON`;
  const parsed = schema.safeParse(document);
  return parsed.success
    ? { document, results: parsed.data }
    : `${path}: results.json is not a document that this version reads`;
}

/** Names that a file of a report can have; nothing else is opened. */
const NAMES =
  /^(?:results\.json|stations\.csv|report\.(?:html|pdf)|corrections\.(?:csv|html|pdf)|manifest(?:\.dsse)?\.json|charts\/[\w-][\w.-]*\.(?:svg|vl\.json))$/;

/** Reads a folder of deliverables. @throws {Error} it is none: it has neither a manifest nor a report. */
export function readDeliverables(path: string): Omit<IssuedReport, 'pdf'> {
  const files = new Map<string, Uint8Array>();
  const strange: string[] = [];
  // Synchronous, because the caller has nothing else to do, and reading small files in the background takes three times as long.
  const look = (inside: string): void => {
    for (const entry of readdirSync(join(path, inside), { withFileTypes: true })) {
      const name = `${inside}${entry.name}`;
      if (entry.isDirectory() && name === 'charts') look('charts/');
      else if (!entry.isFile())
        strange.push(
          `${name} is ${entry.isSymbolicLink() ? 'a symbolic link' : entry.isDirectory() ? 'a folder' : 'no regular file'}, where a report has only files`,
        );
      else if (!NAMES.test(name)) strange.push(`${name} is no file of a report`);
      else
        try {
          files.set(name, readRegularFile(join(path, name)));
        } catch (error) {
          strange.push(`${name} cannot be read: ${(error as Error).message}`);
        }
    }
  };
  look('');
  const text = files.get('manifest.json');
  const manifest = manifestSchema.safeParse(jsonOf(text ?? '')).data ?? null;
  if (manifest !== null) return { manifest, files, strange: strange.sort() };
  const why =
    text === undefined
      ? 'there is no manifest.json that can be read'
      : 'manifest.json is not a manifest that this version reads';
  if (text === undefined && !files.has('results.json') && !files.has('report.pdf'))
    throw new Error(`${path} is not a folder of deliverables: ${[why, ...strange].join('; ')}`);
  return { manifest, files, strange: [why, ...strange.sort()] };
}

/** In words: every file that differs from what the manifest lists. */
export function changedFiles({ outputs }: Manifest, files: IssuedReport['files']): string[] {
  const known = new Set(outputs.map(({ path }) => path));
  const changed = outputs.flatMap(({ path, sha256: hash }) => {
    const bytes = files.get(path);
    if (bytes === undefined) return [`${path} is missing`];
    return sha256(bytes) === hash ? [] : [`${path} is not the file that was issued: its SHA-256 differs`];
  });
  const unlisted = [...files.keys()]
    .filter((path) => path !== 'manifest.json' && path !== SIGNATURE_FILE && !known.has(path))
    .sort();
  return [...changed, ...unlisted.map((path) => `${path} was not issued with this report`)];
}
