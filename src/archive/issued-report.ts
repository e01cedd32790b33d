/** An issued report as it lies: a folder of deliverables, or a PDF alone with what it carries inside. */
import { readdir, readFile, stat } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { resultsSchema, type Results } from '../results/results-schema.js';
import { manifestSchema, sha256, type Manifest } from './manifest.js';

export interface IssuedReport {
  /** null for a PDF alone. */
  readonly manifest: Manifest | null;
  /** Files of the folder as they are now, by path; for a PDF alone its results.json. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** What the PDF carries inside, by SHA-256. */
  readonly carried: ReadonlyMap<string, Uint8Array>;
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
  const attachments = await attachmentsOf(await readFile(path));
  const results = attachments.find(({ name }) => name === 'results.json');
  if (results === undefined)
    throw new Error(
      `${path} carries no results.json: it is not a report of waysheet, or was issued without its data`,
    );
  return { manifest: null, files: new Map([['results.json', results.bytes]]), carried: bySha(attachments) };
}

/** The results of an issued report: as they stand there, and as this version reads them; or why it cannot. */
export function issuedResults(
  { files }: Pick<IssuedReport, 'files'>,
  path: string,
): { readonly document: unknown; readonly results: Results } | string {
  const text = files.get('results.json');
  if (text === undefined) return `${path} holds no results.json`;
  const document: unknown = JSON.parse(new TextDecoder().decode(text));
  const parsed = resultsSchema.safeParse(document);
  return parsed.success
    ? { document, results: parsed.data }
    : `${path}: results.json is not a document that this version reads`;
}

async function readFolder(path: string): Promise<IssuedReport> {
  const { manifest, files } = await readDeliverables(path);
  const pdf = files.get('report.pdf');
  return {
    manifest,
    files,
    carried: bySha(pdf === undefined ? [] : await attachmentsOf(pdf).catch(() => [])),
  };
}

export interface IssuedFolder {
  readonly manifest: Manifest;
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** A folder of deliverables as it lies. @throws {Error} it is none. */
export async function readDeliverables(path: string): Promise<IssuedFolder> {
  const files = new Map<string, Uint8Array>();
  for (const entry of await readdir(path, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const full = join(entry.parentPath, entry.name);
    files.set(relative(path, full).split(sep).join('/'), await readFile(full));
  }
  const text = files.get('manifest.json');
  if (text === undefined)
    throw new Error(`${path} holds no manifest.json: it is not a folder of deliverables`);
  const parsed = manifestSchema.safeParse(JSON.parse(new TextDecoder().decode(text)));
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
  const strange = [...files.keys()].filter((path) => path !== 'manifest.json' && !known.has(path)).sort();
  return [...changed, ...strange.map((path) => `${path} was not issued with this report`)];
}

interface Attached {
  readonly name: string;
  readonly bytes: Uint8Array;
}

async function attachmentsOf(pdf: Uint8Array): Promise<Attached[]> {
  const { PDFDocument } = await import('@cantoo/pdf-lib');
  const document = await PDFDocument.load(pdf, { updateMetadata: false });
  return document.getAttachments().map(({ name, data }) => ({ name, bytes: data as Uint8Array }));
}

const bySha = (attachments: readonly Attached[]): Map<string, Uint8Array> =>
  new Map(attachments.map(({ bytes }) => [sha256(bytes), bytes]));
