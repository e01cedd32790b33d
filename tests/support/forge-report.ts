/**
 * Forgeries of a whole report: any byte, any digit, what the manifest says, the PDF's pages and what it carries, limits
 * that are changed alike everywhere. The forger knows the format: hashes that a manifest lists agree afterwards.
 */
import type { PDFHexString, PDFRawStream, PDFRef, PDFString } from '@cantoo/pdf-lib';
import { PDFArray, PDFDict, PDFDocument, PDFName, decodePDFRawStream } from '@cantoo/pdf-lib';
import { sha256, type Manifest } from '../../src/pages/deliverables/manifest.js';
import { readPdf } from '../../src/pages/report/pdf-file/read-file.js';
import { writePdf } from '../../src/pages/report/pdf-file/write-file.js';
import { forgeries } from './forge-pdf.js';

/** Files of a folder of deliverables, by path. */
export type Files = ReadonlyMap<string, Uint8Array>;

export interface ReportForgery {
  readonly name: string;
  /** Touches nothing but the PDF: it may be handed on alone. */
  readonly ofPdf?: boolean;
  /** @param next Numbers from 0 to 1. @returns null: there is nothing of the kind to forge. */
  readonly forge: (files: Files, next: () => number) => Promise<Files | null> | Files | null;
}

const pick = <T>(list: readonly T[], next: () => number): T => list[Math.floor(next() * list.length)]!;
const text = (files: Files, path: string): string => Buffer.from(files.get(path)!).toString('utf8');
const replaced = (files: Files, path: string, content: string | Uint8Array): Files =>
  new Map([...files, [path, Buffer.from(content as string)]]);

export const manifestOf = (files: Files): Manifest => JSON.parse(text(files, 'manifest.json')) as Manifest;

export const withManifest = (files: Files, manifest: Manifest): Files =>
  replaced(files, 'manifest.json', `${JSON.stringify(manifest, null, 2)}\n`);

/** The manifest's hashes as its files are now. */
export function renewed(files: Files): Files {
  const manifest = manifestOf(files);
  return withManifest(files, {
    ...manifest,
    outputs: manifest.outputs.map((entry) => {
      const bytes = files.get(entry.path);
      return bytes === undefined ? entry : { ...entry, bytes: bytes.length, sha256: sha256(bytes) };
    }),
  });
}

function flipped(bytes: Uint8Array, next: () => number): Uint8Array {
  const copy = Buffer.from(bytes);
  const at = Math.floor(next() * copy.length);
  copy[at] = copy[at]! ^ (1 << Math.floor(next() * 8));
  return copy;
}

const outputs = (files: Files): string[] => [...files.keys()].filter((path) => path !== 'manifest.json');

/** Another digit in place of one of them; null: there is none. */
function otherDigit(content: string, next: () => number, isMeant = /\d/g): string | null {
  const digits = [...content.matchAll(isMeant)];
  if (digits.length === 0) return null;
  const at = pick(digits, next).index;
  const other = String((Number(content[at]) + 1 + Math.floor(next() * 9)) % 10);
  return content.slice(0, at) + other + content.slice(at + 1);
}

type Loose = Record<string, any>; // eslint-disable-line @typescript-eslint/no-explicit-any -- what a forger writes

const otherHash = (hash: string): string => hash.split('').reverse().join('');

const statements: readonly [string, (m: Loose) => void][] = [
  ['the verdict', (m) => (m['verdict'] = m['verdict'] === 'conforms' ? 'does-not-conform' : 'conforms')],
  ['the job', (m) => (m['job'] = 'TH-9999')],
  ['the version', (m) => (m['software'].version = '9.9.9')],
  ['the method', (m) => (m['software'].method = '2001-01.1')],
  ['the digest of the job', (m) => (m['digests'].job = otherHash(m['digests'].job))],
  ['the digest of the tolerances', (m) => (m['digests'].tolerances = otherHash(m['digests'].tolerances))],
  ['the key', (m) => (m['key'] = otherHash(m['key']))],
  ['the templates', (m) => (m['templates'] = otherHash(m['templates']))],
  ['the number', (m) => (m['issue'] = 'TH-0001-1')],
  ['the hash of an input', (m) => (m['inputs'][0].sha256 = otherHash(m['inputs'][0].sha256))],
  ['an input, dropped', (m) => m['inputs'].pop()],
  ['an input, added', (m) => m['inputs'].push({ ...m['inputs'][0], path: 'readings/more.csv' })],
  ['the copy of an input', (m) => (m['inputs'][0].attachedAs = 'other.json')],
  [
    'a chart, off the list',
    (m) =>
      m['outputs'].splice(
        m['outputs'].findIndex(({ path }: Loose) => path.endsWith('.svg')),
        1,
      ),
  ],
  [
    'the PDF, off the list',
    (m) =>
      m['outputs'].splice(
        m['outputs'].findIndex(({ path }: Loose) => path === 'report.pdf'),
        1,
      ),
  ],
  ['the browser', (m) => (m['browser'] = 'another 1.0')],
];

/** Written by the library that it is changed with, or as waysheet itself would write it. */
async function inPdf(
  files: Files,
  next: () => number,
  change: (document: PDFDocument) => Promise<void | null> | void | null,
): Promise<Files | null> {
  const document = await PDFDocument.load(files.get('report.pdf')!, { updateMetadata: false });
  if ((await change(document)) === null) return null;
  const saved = await document.save({ updateFieldAppearances: false, useObjectStreams: false });
  return renewed(replaced(files, 'report.pdf', next() < 0.5 ? saved : writePdf(readPdf(saved))));
}

/** As a program writes it that signs or annotates. */
async function onTop(
  files: Files,
  change: (document: PDFDocument) => Promise<void | null> | void | null,
): Promise<Files | null> {
  const pdf = files.get('report.pdf')!;
  const document = await PDFDocument.load(pdf, { updateMetadata: false, forIncrementalUpdate: true });
  if ((await change(document)) === null) return null;
  return renewed(replaced(files, 'report.pdf', await document.save({ updateFieldAppearances: false })));
}

/** Files inside the PDF: name, and the reference of the stream. */
function embedded(document: PDFDocument): { name: string; ref: PDFRef; stream: PDFRawStream }[] {
  const names = document.catalog
    .lookup(PDFName.of('Names'), PDFDict)
    .lookup(PDFName.of('EmbeddedFiles'), PDFDict);
  const list = names.lookup(PDFName.of('Names'), PDFArray);
  return Array.from({ length: list.size() / 2 }, (_, k) => {
    const ref = list
      .lookup(2 * k + 1, PDFDict)
      .lookup(PDFName.of('EF'), PDFDict)
      .get(PDFName.of('F')) as PDFRef;
    return {
      name: (list.lookup(2 * k) as PDFHexString | PDFString).decodeText(),
      ref,
      stream: document.context.lookup(ref) as PDFRawStream,
    };
  });
}

const contentOf = (stream: PDFRawStream): string =>
  Buffer.from(decodePDFRawStream(stream).decode()).toString('utf8');

function embed(document: PDFDocument, ref: PDFRef, content: string): void {
  const old = document.context.lookup(ref) as PDFRawStream;
  const stream = document.context.flateStream(Buffer.from(content));
  for (const [key, value] of old.dict.entries())
    if (!['Filter', 'Length'].includes(key.decodeText())) stream.dict.set(key, value);
  document.context.assign(ref, stream);
}

/** Limits of job.json and of results.json, in the folder and inside the PDF, changed alike. */
async function limitEverywhere(files: Files, next: () => number): Promise<Files | null> {
  const factor = 1.1 + next();
  const ofJob = (json: string) =>
    json.replace(
      /("limit"\s*:\s*)([\d.]+)/g,
      (_, head: string, limit: string) => `${head}${Number(limit) * factor}`,
    );
  let job: { before: string; after: string } | null = null;
  let results = text(files, 'results.json');
  const forged = await inPdf(files, next, (document) => {
    const inside = embedded(document);
    const own = inside.find(({ name }) => name === 'job.json');
    const theirs = inside.find(({ name }) => name === 'results.json');
    if (own === undefined || theirs === undefined) return null;
    const before = contentOf(own.stream);
    const after = ofJob(before);
    if (after === before) return null;
    job = { before: sha256(Buffer.from(before)), after: sha256(Buffer.from(after)) };
    results = ofJob(results).replaceAll(job.before, job.after);
    embed(document, own.ref, after);
    embed(document, theirs.ref, results);
    return undefined;
  });
  if (forged === null || job === null) return null;
  const { before, after } = job as { before: string; after: string };
  const all = replaced(forged, 'results.json', results);
  return renewed(replaced(all, 'manifest.json', text(all, 'manifest.json').replaceAll(before, after)));
}

export const reportForgeries: readonly ReportForgery[] = [
  {
    name: 'a bit of a file',
    forge(files, next) {
      const path = pick(
        outputs(files).filter((p) => !p.endsWith('.pdf')),
        next,
      );
      return renewed(replaced(files, path, flipped(files.get(path)!, next)));
    },
  },
  {
    name: 'a bit of the PDF',
    ofPdf: true,
    forge: (files, next) => renewed(replaced(files, 'report.pdf', flipped(files.get('report.pdf')!, next))),
  },
  {
    name: 'a digit of a file',
    forge(files, next) {
      const path = pick(
        outputs(files).filter((p) => !p.endsWith('.pdf')),
        next,
      );
      const other = otherDigit(text(files, path), next);
      return other === null ? null : renewed(replaced(files, path, other));
    },
  },
  {
    name: 'a file taken out',
    forge(files, next) {
      const path = pick(outputs(files), next);
      const manifest = manifestOf(files);
      const without = new Map([...files].filter(([name]) => name !== path));
      return withManifest(without, {
        ...manifest,
        outputs: manifest.outputs.filter((entry) => entry.path !== path),
      });
    },
  },
  {
    name: 'a file put in',
    forge(files, next) {
      const path = pick(['notes.txt', 'charts/more.svg', 'report-2.pdf'], next);
      const manifest = manifestOf(files);
      const bytes = Buffer.from('x');
      return withManifest(replaced(files, path, bytes), {
        ...manifest,
        outputs: [...manifest.outputs, { path, bytes: bytes.length, sha256: sha256(bytes) }],
      });
    },
  },
  ...statements.map(([what, change]): ReportForgery => ({
    name: `the manifest: ${what}`,
    forge(files) {
      const manifest = manifestOf(files) as Loose;
      change(manifest);
      return withManifest(files, manifest as Manifest);
    },
  })),
  ...forgeries.map(({ name, forge }): ReportForgery => ({
    name: `the PDF: ${name}`,
    ofPdf: true,
    forge: (files, next) => inPdf(files, next, (document) => forge(document, next)),
  })),
  ...forgeries.map(({ name, forge }): ReportForgery => ({
    name: `the PDF: ${name}, on top`,
    ofPdf: true,
    forge: (files, next) => onTop(files, (document) => forge(document, next)),
  })),
  {
    name: 'the PDF: another browser, as it says, and a glyph',
    ofPdf: true,
    async forge(files, next) {
      const forged = await inPdf(files, next, async (document) => {
        document.setProducer('Skia/PDF m999; waysheet');
        return forgeries[0]!.forge(document, next);
      });
      return forged && withManifest(forged, { ...manifestOf(forged), browser: '/opt/browser 999.0' });
    },
  },
  {
    name: 'another version, as it says, and a digit of the results',
    forge(files, next) {
      const version = pick(['0.5.0', '9.9.9'], next);
      const other = otherDigit(text(files, 'results.json'), next);
      if (other === null) return null;
      const say = (json: string) => json.replace(/("version": ")[^"]+/, `$1${version}`);
      const forged = replaced(files, 'results.json', say(other));
      return renewed(replaced(forged, 'manifest.json', say(text(files, 'manifest.json'))));
    },
  },
  {
    name: 'the PDF: a digit of a file that it carries',
    ofPdf: true,
    forge: (files, next) =>
      inPdf(files, next, (document) => {
        const one = pick(embedded(document), next);
        const other = otherDigit(contentOf(one.stream), next);
        if (other === null) return null;
        embed(document, one.ref, other);
        return undefined;
      }),
  },
  {
    name: 'the PDF: two files that it carries change places',
    ofPdf: true,
    forge: (files, next) =>
      inPdf(files, next, (document) => {
        const [one, other] = embedded(document);
        if (one === undefined || other === undefined) return null;
        const [a, b] = [contentOf(one.stream), contentOf(other.stream)];
        embed(document, one.ref, b);
        embed(document, other.ref, a);
        return undefined;
      }),
  },
  {
    name: 'the PDF: it carries one more',
    ofPdf: true,
    forge: (files, next) =>
      inPdf(files, next, (document) =>
        document.attach(Buffer.from('x'), pick(['note.txt', 'job.json', 'results.json'], next)),
      ),
  },
  { name: 'limits changed alike in the job and the results', forge: limitEverywhere },
];
