/** An issued report as it lies: a folder of deliverables, or a PDF alone with what it carries inside. */
import { readdirSync, readFileSync } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { z } from 'zod';
import { resultsSchema } from '../results/results-schema.js';
import { readAttachments, type Attached } from '../pages/report/pdf-file/read-attachments.js';
import { assertReadable, MOST_BYTES, tooLarge } from '../pages/report/pdf-file/assert-readable.js';
import { jsonOf } from '../base/input/json-of.js';
import { SIGNATURE_FILE } from './signing.js';
import { manifestSchema, sha256, type Manifest } from '../pages/deliverables/manifest.js';

export interface IssuedReport {
  /** null for a PDF alone. */
  readonly manifest: Manifest | null;
  /** Files of the folder as they are now, by path; for a PDF alone its results.json. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** The report as it was printed; null: it was not. */
  readonly pdf: Uint8Array | null;
  /** What the PDF carries inside, in its order; names may be there twice. */
  readonly attachments: readonly (Attached & { readonly sha256: string })[];
  /** In words, what could not be read. */
  readonly troubles: readonly string[];
}

/**
 * @param path A folder of deliverables, or a report's PDF.
 * @throws {Error} nothing there, or no report.
 */
export async function readIssued(path: string): Promise<IssuedReport> {
  const found = await stat(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') throw new Error('there is no such file or folder');
    throw error;
  });
  if (found.isDirectory()) return readFolder(path);
  if (found.size > MOST_BYTES) throw new Error(`${path}: ${tooLarge(found.size)}`);
  const pdf = await readFile(path);
  const attachments = await attachmentsOf(pdf).catch((error: Error) => {
    throw new Error(`${path} cannot be read as a report: ${error.message}`);
  });
  const results = attachments.find(({ name }) => name === 'results.json');
  if (results === undefined)
    throw new Error(
      `${path} carries no results.json: it is not a report of waysheet, or was issued without its data`,
    );
  return {
    manifest: null,
    files: new Map([['results.json', results.bytes]]),
    pdf,
    attachments: withSha(attachments),
    troubles: [],
  };
}

/** The results of an issued report: as they stand there, and as this version reads them; or why it cannot. */
export const issuedResults = (report: Pick<IssuedReport, 'files'>, path: string) =>
  resultsBy(resultsSchema, report, path);

/** What they are of. Whether all the rest is a document that this version reads is not looked at. */
export const issuedHead = (report: Pick<IssuedReport, 'files'>, path: string) =>
  resultsBy(headSchema, report, path);

const headSchema = z.object(
  resultsSchema.pick({ job: true, issue: true, software: true, inputs: true, whatIf: true }).shape,
);

function resultsBy<T>(
  schema: z.ZodType<T>,
  { files }: Pick<IssuedReport, 'files'>,
  path: string,
): { readonly document: unknown; readonly results: T } | string {
  const text = files.get('results.json');
  if (text === undefined) return `${path} holds no results.json`;
  const document = jsonOf(text);
  if (document === undefined) return `${path}: results.json is not JSON`;
  const parsed = schema.safeParse(document);
  return parsed.success
    ? { document, results: parsed.data }
    : `${path}: results.json is not a document that this version reads`;
}

async function readFolder(path: string): Promise<IssuedReport> {
  const { manifest, files } = readDeliverables(path);
  const pdf = files.get('report.pdf') ?? null;
  const troubles: string[] = [];
  const attachments =
    pdf === null
      ? []
      : await attachmentsOf(pdf).catch((error: Error) => {
          troubles.push(`report.pdf cannot be read: ${error.message}`);
          return [];
        });
  return { manifest, files, pdf, attachments: withSha(attachments), troubles };
}

export interface IssuedFolder {
  readonly manifest: Manifest;
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** A folder of deliverables as it lies. @throws {Error} it is none. */
export function readDeliverables(path: string): IssuedFolder {
  const files = new Map<string, Uint8Array>();
  // One after the other and at once: whoever reads a report has nothing else to do, and waits three times as long for each
  // of the small files that is read in the background.
  for (const entry of readdirSync(path, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const full = join(entry.parentPath, entry.name);
    files.set(relative(path, full).split(sep).join('/'), readFileSync(full));
  }
  const text = files.get('manifest.json');
  if (text === undefined)
    throw new Error(`${path} holds no manifest.json: it is not a folder of deliverables`);
  const parsed = manifestSchema.safeParse(jsonOf(text));
  if (!parsed.success) throw new Error(`${path}/manifest.json is not a manifest that this version reads`);
  return { manifest: parsed.data, files };
}

/** In words, every file that is not what was issued. */
export function changedFiles({ outputs }: Manifest, files: IssuedFolder['files']): string[] {
  const known = new Set(outputs.map(({ path }) => path));
  const changed = outputs.flatMap(({ path, sha256: hash }) => {
    const bytes = files.get(path);
    if (bytes === undefined) return [`${path} is missing`];
    return sha256(bytes) === hash ? [] : [`${path} is not the file that was issued: its SHA-256 differs`];
  });
  const strange = [...files.keys()]
    .filter((path) => path !== 'manifest.json' && path !== SIGNATURE_FILE && !known.has(path))
    .sort();
  return [...changed, ...strange.map((path) => `${path} was not issued with this report`)];
}

/** Files inside a PDF. @throws {Error} it cannot be read; see assertReadable. */
async function attachmentsOf(pdf: Uint8Array): Promise<Attached[]> {
  const own = readAttachments(pdf);
  if (own !== null) return own;
  assertReadable(pdf);
  const { ParseSpeeds, PDFDocument, PDFName, PDFStream } = await import('@cantoo/pdf-lib');
  // Its usual speed pauses between objects, for browsers' sake.
  const document = await PDFDocument.load(pdf, { updateMetadata: false, parseSpeed: ParseSpeeds.Fastest });
  const listed = document.getAttachments();
  const embedded = document.context
    .enumerateIndirectObjects()
    .filter(
      ([, o]) => o instanceof PDFStream && o.dict.get(PDFName.of('Type')) === PDFName.of('EmbeddedFile'),
    );
  if (embedded.length > listed.length)
    throw new Error('it carries a file that its list of attachments does not name');
  return listed.map(({ name, data }) => ({ name, bytes: data as Uint8Array }));
}

const withSha = (attachments: readonly Attached[]): IssuedReport['attachments'] =>
  attachments.map((attached) => ({ ...attached, sha256: sha256(attached.bytes) }));
