/**
 * Compares the files of a report with those that are made again from its inputs: a closed set of names, each the same, byte for
 * byte. Files of another version or another browser cannot be made again here, and are not compared.
 */
import { changedFiles, type IssuedReport } from '../issued-report.js';
import { originOf } from '../../pages/deliverables/content-key.js';
import { buildManifest, type Manifest } from '../../pages/deliverables/manifest.js';
import { SIGNATURE_FILE } from '../signing.js';
import { readReportPdf } from '../../pages/report/pdf-file/read-report-pdf.js';
import type { Attachment } from '../../pages/report/print-job.js';
import type { Results } from '../../results/results-schema.js';
import { jsonOf } from '../../base/input/json-of.js';
import { METHOD, VERSION } from '../../base/version.js';
import type { Findings } from './findings.js';
import type { MadeAgain } from './make-again.js';

const PDFS = ['report.pdf', 'corrections.pdf'] as const;

const areEqual = (one: Uint8Array | undefined, other: Uint8Array | undefined): boolean =>
  one !== undefined && other !== undefined && Buffer.from(one).equals(other);

/** Compares the files with each other, before anything is made again. @param document Only its head was checked. */
export function compareStated(
  { manifest, files, pdf }: IssuedReport,
  document: Results,
  found: Findings,
): void {
  const inside = pdf?.attachments.find(({ name }) => name === 'results.json');
  if (pdf !== null && inside === undefined)
    found.differs('pages', 'report.pdf does not carry its results.json');
  else if (inside !== undefined && !areEqual(inside.bytes, files.get('results.json')))
    found.differs('pages', 'report.pdf carries another results.json than the one next to it');
  for (const name of ['results.json', 'manifest.json']) {
    const bytes = files.get(name);
    // If a key is there twice, a program reads the last one, but a person may read the first.
    if (bytes !== undefined && !areEqual(bytes, jsonBytes(jsonOf(bytes))))
      found.differs('pages', unwritten(name));
  }
  if (document.software.version === VERSION && document.software.method !== METHOD)
    found.differs(
      'figures',
      `results.json says that version ${VERSION} made it by method ${document.software.method}; that version has method ${METHOD}`,
    );
  if (manifest === null) return;
  for (const what of changedFiles(manifest, files)) found.differs('pages', what);
  const attached = new Map(manifest.inputs.map(({ path, attachedAs }) => [path, attachedAs!]));
  const own = buildManifest(document, new Map(), manifest.browser, attached);
  for (const key of ['job', 'issue', 'verdict', 'software', 'whatIf', 'inputs'] as const)
    if (JSON.stringify(manifest[key]) !== JSON.stringify(own[key]))
      found.differs('pages', `manifest.json says otherwise of ${key} than results.json does`);
}

/** A document as it is written. */
const jsonBytes = (document: unknown): Uint8Array => Buffer.from(`${JSON.stringify(document, null, 2)}\n`);

export const unwritten = (name: string): string => `${name} is not written as waysheet writes it`;

/** @param isPrinting false: --no-print. */
export function compareFiles(
  issued: IssuedReport,
  made: MadeAgain,
  isSame: boolean,
  { software }: Pick<Results, 'software'>,
  isPrinting: boolean,
  found: Findings,
): void {
  const { files, manifest } = issued;
  if (!isSame) {
    compareAttachments(issued, made.attachments, false, found);
    const { version, method } = software;
    const names = [...files.keys()].filter((name) => name !== 'results.json' && name !== SIGNATURE_FILE);
    // The command may be copied into a terminal.
    const recipe = /^\d+\.\d+\.\d+$/.test(version) ? `: samples/recipes/audit-old.sh ${version} REPORT` : '';
    found.leaves(
      'pages',
      `the pages (${names.join(', ')})`,
      `they were made by version ${version}, method ${method}, as the report says; only that version can make them again${recipe}`,
    );
    return;
  }
  const isProven = new Map(PDFS.map((name) => [name, comparePdf(name, issued, made, isPrinting, found)]));
  if (isProven.get('report.pdf') !== true) compareAttachments(issued, made.attachments, true, found);
  if (manifest === null) return;
  for (const [path, now] of made.files) {
    if (path === 'manifest.json' || path.endsWith('.pdf')) continue;
    if (!files.has(path)) found.differs('pages', `${path} is missing, which these inputs make`);
    // Its figures are compared separately.
    else if (path !== 'results.json' && !areEqual(files.get(path), now))
      found.differs('pages', `${path} is not what these inputs make, byte for byte`);
  }
  for (const path of files.keys())
    if (!made.files.has(path) && path !== SIGNATURE_FILE)
      found.differs('pages', `${path} is nothing that these inputs make`);
  compareManifest(manifest, files, made, found);
}

/** @returns true: it is byte for byte the PDF that is printed here. */
function comparePdf(
  name: (typeof PDFS)[number],
  { files, pdf, manifest }: IssuedReport,
  { files: own, printed, browser, trouble }: MadeAgain,
  isPrinting: boolean,
  found: Findings,
): boolean {
  const whole = files.get(name);
  // A single PDF may be without its sheet.
  if (whole === undefined && own.has(name) && manifest !== null)
    found.differs('pages', `${name} is missing, which these inputs make`);
  const stood = name === 'report.pdf' ? pdf?.printed : whole;
  // It was listed already as a file that waysheet does not write.
  if (stood === undefined || !own.has(name)) return false;
  const now = isPrinting ? (printed.get(name) ?? new Error(trouble)) : null;
  const said = comparePrint(stood, now, browser, manifest?.browser);
  if (said === null) {
    if (manifest !== null && manifest.browser !== browser)
      found.leaves(
        'pages',
        'manifest.json: browser',
        `it says that ${String(manifest.browser)} printed ${name}; ${String(browser)} prints the same bytes`,
      );
    return true;
  }
  if (said.state === 'differs')
    found.differs('pages', `${name} is not what these figures print: its bytes are others`);
  else found.leaves('pages', name, said.words);
  if (said.state === 'waived') found.waives('pages');
  return false;
}

/**
 * Compares a PDF with the one that the browser here prints.
 *
 * @param now Error: no browser printed it; null: not printed (--no-print).
 * @param here The browser here; absent: from its PDF. @param stated The browser that is stated to have printed it; absent: only the PDF states it.
 * @returns null: byte for byte the same.
 */
export function comparePrint(
  stood: Uint8Array,
  now: Uint8Array | Error | null,
  here?: string | null,
  stated?: string | null,
): { readonly state: 'differs' | 'left' | 'waived'; readonly words: string } | null {
  if (now === null) return { state: 'waived', words: 'it was not printed again (--no-print)' };
  if (now instanceof Error) return { state: 'left', words: `no browser printed it again: ${now.message}` };
  if (areEqual(stood, now)) return null;
  const [said, own] = stated === undefined ? [stood, now].map(producerOf) : [stated, here];
  return said === null || said === own
    ? { state: 'differs', words: 'its bytes are others' }
    : {
        state: 'left',
        words: `the report says: it was printed by another browser (${said}); here prints ${here ?? own}; WAYSHEET_BROWSER=PATH prints with another one`,
      };
}

/** The browser that a PDF names; null: waysheet did not write it. */
function producerOf(pdf: Uint8Array): string | null {
  try {
    return readReportPdf(pdf).producer;
  } catch {
    return null;
  }
}

/** @param isSame Made by this version; for another version only the inputs are known. */
function compareAttachments(
  { pdf }: IssuedReport,
  wanted: readonly Attachment[],
  isSame: boolean,
  found: Findings,
): void {
  if (pdf === null) return;
  const left = new Map(wanted.map(({ name, bytes }) => [name, bytes]));
  for (const { name, bytes } of pdf.attachments) {
    const own = left.get(name);
    left.delete(name);
    if (own === undefined)
      found.differs(
        'pages',
        `report.pdf carries ${name}, which is none of the files that the report was made from`,
      );
    else if (!areEqual(own, bytes) && (isSame || name !== 'results.json'))
      found.differs('pages', `report.pdf carries another ${name} than the report was made from`);
  }
  for (const name of left.keys()) found.differs('pages', `report.pdf does not carry ${name}`);
}

function compareManifest(
  manifest: Manifest,
  files: IssuedReport['files'],
  made: MadeAgain,
  found: Findings,
): void {
  const now = JSON.parse(Buffer.from(made.files.get('manifest.json')!).toString('utf8')) as Manifest;
  // The key depends on the requested browser, which is known only for the packed one.
  const { browser, inputs } = manifest;
  const isKnown = browser === null || browser.startsWith('packed ');
  const key = isKnown ? originOf(inputs, browser !== null, manifest.language, {}).key : manifest.key;
  const own = { ...now, ...(key !== undefined && { key }) };
  if (areEqual(jsonBytes(own), files.get('manifest.json'))) return;
  const others = otherKeys(own, manifest);
  for (const name of others)
    found.differs('pages', `manifest.json says otherwise of ${name} than these inputs do`);
  if (others.length === 0) found.differs('pages', unwritten('manifest.json'));
}

/** Keys with different values in two documents. */
export function otherKeys(one: object, other: object): string[] {
  const [a, b] = [one, other].map((document) => new Map(Object.entries(document)));
  return [...new Set([...a!.keys(), ...b!.keys()])].filter(
    (key) => JSON.stringify(a!.get(key)) !== JSON.stringify(b!.get(key)),
  );
}
