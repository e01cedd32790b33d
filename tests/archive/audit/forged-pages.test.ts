/**
 * A report's PDF forged: glyphs, boxes, pages, notes, scripts. Whatever differs is named with its page, also where it was
 * written on top of the issued bytes, as a signature is. Seeded, and counted by kind.
 */
import { execFileSync } from 'node:child_process';
import { cp, mkdir, readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { PDFDocument, PDFName, type PDFRef } from '@cantoo/pdf-lib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readManifest, sha256, type Manifest } from '../../../src/pages/deliverables/manifest.js';
import { audit, isSound } from '../../../src/archive/audit/audit.js';
import { comparePages } from '../../src/audit/pages/compare-pages.js';
import { readPages, type PdfPages } from '../../src/audit/pages/read-pages.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { makeDeliverables } from '../../../src/pipeline.js';
import { openPrinter, type Printer } from '../../../src/pages/report/pdf.js';
import { forgeries } from '../../support/forge-pdf.js';
import { sample, temporary } from '../../support/folders.js';
import { seeded } from '../../support/jobs.js';

const where = { job: null, tolerances: null };
let printer: Printer;
let folder: string;
let pdf: Uint8Array;
let made: PdfPages;

beforeAll(async () => {
  printer = await openPrinter();
  const loaded = await loadJob(sample('TH-0412'));
  if (!loaded.ok) throw new Error('refused');
  const { files } = await makeDeliverables(
    sample('TH-0412'),
    loaded.value,
    loaded.diagnostics,
    Promise.resolve(printer),
  );
  folder = join(await temporary(), 'TH-0412');
  for (const [path, bytes] of files) {
    await mkdir(dirname(join(folder, path)), { recursive: true });
    await writeFile(join(folder, path), bytes);
  }
  pdf = files.get('report.pdf')!;
  made = await readPages(pdf);
});
afterAll(() => printer.close());

const print = () => Promise.resolve(printer);

/** The folder with another PDF, and a manifest whose hashes agree with it. */
async function withPdf(bytes: Uint8Array, browser?: string): Promise<string> {
  const place = join(await temporary(), 'TH-0412');
  await cp(folder, place, { recursive: true });
  await writeFile(join(place, 'report.pdf'), bytes);
  const manifest = (await readManifest(dirname(place), 'TH-0412'))!;
  const renewed: Manifest = {
    ...manifest,
    ...(browser !== undefined && { browser }),
    outputs: manifest.outputs.map((entry) =>
      entry.path === 'report.pdf' ? { ...entry, bytes: bytes.length, sha256: sha256(bytes) } : entry,
    ),
  };
  await writeFile(join(place, 'manifest.json'), `${JSON.stringify(renewed, null, 2)}\n`);
  return place;
}

test('what nobody touched stands byte for byte, as a folder and as a PDF alone', async () => {
  for (const path of [folder, join(folder, 'report.pdf')]) {
    const finding = await audit(path, where, print);
    expect(finding.files).toEqual([]);
    expect(finding.pages).toEqual([]);
    expect(isSound(finding)).toBe(true);
    expect(finding.pagesCompared).toBe('bytes');
  }
});

test('pages that nobody printed again are not said to be compared', async () => {
  expect((await audit(folder, where)).pagesCompared).toBe('none');
});

describe('the pages are read as an independent reader reads them', () => {
  test('pdftotext finds the same words', async (context) => {
    let text: string;
    try {
      text = execFileSync('pdftotext', ['-layout', join(folder, 'report.pdf'), '-'], { encoding: 'utf8' });
    } catch {
      return context.skip('pdftotext (poppler-utils) is not installed');
    }
    const words = (list: string[]) =>
      list
        .flatMap((t) => t.split(/\s+/))
        .filter((t) => /\d/.test(t))
        .sort();
    const own = made.pages.flatMap(({ painted }) =>
      painted.filter(({ kind }) => kind === 'text').map((p) => p.text),
    );
    const theirs = new Set(words([text]));
    const missing = words(own).filter((word) => !theirs.has(word));
    // Superscripts and letters on charts may be joined otherwise.
    expect(missing.length / words(own).length).toBeLessThan(0.05);
  });
});

async function forged(name: string, next: () => number, options = {}): Promise<Uint8Array | null> {
  const document = await PDFDocument.load(pdf, { updateMetadata: false, ...options });
  const done = await forgeries.find((f) => f.name === name)!.forge(document, next);
  return done === null ? null : document.save({ updateFieldAppearances: false });
}

describe.each(forgeries.map(({ name }) => name))('%s', (name) => {
  test('is named, whatever printed it', async () => {
    const next = seeded(name.length);
    let [tried, strict, loose] = [0, 0, 0];
    for (let k = 0; k < 6; k++) {
      const bytes = await forged(name, next);
      if (bytes === null) continue;
      const shown = await readPages(bytes);
      tried++;
      if (comparePages(shown, made, 'same-print').length > 0) strict++;
      if (comparePages(shown, made, 'other-print').length > 0) loose++;
    }
    console.log(
      `${name}: ${strict} of ${tried} named, ${loose} of ${tried} where another browser printed it`,
    );
    expect(strict).toBe(tried);
    expect(tried).toBeGreaterThan(0);
    // A box over blank paper hides nothing, and pages that change places hold the same words in another order.
    if (name !== 'a figure covered by a white box') expect(loose).toBe(tried);
  });

  test('does not stand, though all hashes agree', async () => {
    const bytes = await forged(name, seeded(7 + name.length));
    expect(bytes).not.toBeNull();
    const finding = await audit(await withPdf(bytes!), where, print);
    expect(isSound(finding)).toBe(false);
    expect(finding.pages.length).toBeGreaterThan(0);
  });
});

test('a box over text is named also where another browser printed the page', async () => {
  const document = await PDFDocument.load(pdf, { updateMetadata: false });
  const at = made.pages[0]!.painted.find(({ text }) => text.includes('conform'))!.at;
  document.getPage(0).drawRectangle({ x: at[0] - 2, y: at[1] - 3, width: 120, height: 14 });
  const shown = await readPages(await document.save());
  const found = comparePages(shown, made, 'other-print');
  expect(found.map(({ what }) => what).join()).toMatch(/lies over “.*conform/);
});

describe('on top of the issued bytes', () => {
  /** An incremental update, as a signing program writes it. */
  async function onTop(change: (document: PDFDocument) => void): Promise<Uint8Array> {
    const document = await PDFDocument.load(pdf, { updateMetadata: false, forIncrementalUpdate: true });
    change(document);
    return document.save({ updateFieldAppearances: false });
  }

  test('a covered figure is named', async () => {
    const bytes = await onTop((document) => {
      document.getPage(0).drawRectangle({ x: 60, y: 400, width: 200, height: 100 });
    });
    expect(Buffer.from(bytes.subarray(0, pdf.length)).equals(pdf)).toBe(true);
    const finding = await audit(await withPdf(bytes), where, print);
    expect(finding.pages.map(({ what }) => what).join('; ')).toMatch(/a shape of 200 × 100 points/);
  });

  test('a page that is taken out is named', async () => {
    const bytes = await onTop((document) => document.removePage(1));
    const finding = await audit(await withPdf(bytes), where, print);
    expect(isSound(finding)).toBe(false);
  });
});

test.each([
  ['no PDF', () => Buffer.from('<html>no</html>'), /no PDF/],
  ['cut off', () => pdf.subarray(0, pdf.length - 2000), /cut off/],
  [
    'encrypted',
    () =>
      Buffer.from(
        Buffer.from(pdf).toString('latin1').replace('/Type /XRef', '/Encrypt 9 0 R /Type /XRef'),
        'latin1',
      ),
    /encrypted/,
  ],
])('%s: a clear line', async (_, bytes, message) => {
  const path = join(await temporary(), 'x.pdf');
  await writeFile(path, bytes());
  await expect(audit(path, where)).rejects.toThrow(message);
});

test('a stream that unpacks to more than memory holds is refused, quickly', async () => {
  const { deflateSync } = await import('node:zlib');
  const bomb = deflateSync(Buffer.alloc(600 * 2 ** 20));
  const text = Buffer.from(pdf).toString('latin1');
  const bytes = Buffer.from(
    text.replace(
      '\nstartxref',
      `\n99999 0 obj\n<</Filter /FlateDecode /Length ${bomb.length}>> stream\n${bomb.toString('latin1')}\nendstream\nendobj\nstartxref`,
    ),
    'latin1',
  );
  const path = join(await temporary(), 'bomb.pdf');
  await writeFile(path, bytes);
  await expect(audit(path, where)).rejects.toThrow(/unpacks to more than/);
});

test.each([
  ['pages that hold themselves', 'Kids'],
  ['a page that is its own parent', 'Parent'],
])('%s: named within seconds', async (_, key) => {
  const document = await PDFDocument.load(pdf, { updateMetadata: false });
  const pages = document.catalog.get(PDFName.of('Pages'))!;
  if (key === 'Kids')
    document.catalog
      .Pages()
      .Kids()
      .push(pages as PDFRef);
  else document.catalog.Pages().set(PDFName.of('Parent'), pages);
  const bytes = await document.save({ addDefaultPage: false, updateFieldAppearances: false });
  const began = performance.now();
  for (const path of [await withPdf(bytes), join(await withPdf(bytes), 'report.pdf')]) {
    const finding = await audit(path, where, print);
    expect(isSound(finding)).toBe(false);
    expect(finding.pages.length).toBeGreaterThan(0);
  }
  expect(performance.now() - began).toBeLessThan(60_000);
});

test('any byte of the PDF', async () => {
  const next = seeded(5);
  let caught = 0;
  const tries = 12;
  for (let k = 0; k < tries; k++) {
    const bytes = Buffer.from(pdf);
    const at = Math.floor(next() * bytes.length);
    bytes[at] = bytes[at]! ^ (1 << Math.floor(next() * 8));
    const finding = await audit(await withPdf(bytes), where, print).catch(() => null);
    if (finding === null || !isSound(finding)) caught++;
  }
  console.log(`${caught} of ${tries} caught`);
  expect(caught).toBe(tries);
});

test('attachments: one swapped, one more, two of a name', async () => {
  const swapped = async (change: (document: PDFDocument) => Promise<unknown>) => {
    const document = await PDFDocument.load(pdf, { updateMetadata: false });
    await change(document);
    return audit(await withPdf(await document.save()), where, print);
  };
  const more = await swapped((d) => d.attach(Buffer.from('x'), 'note.txt'));
  expect(more.files.join()).toMatch(/carries note\.txt, which is none of the files/);
  const twice = await swapped((d) => d.attach(Buffer.from('{}'), 'job.json'));
  expect(twice.files.join()).toMatch(/two files called job\.json/);
  expect(await readFile(join(folder, 'report.pdf'))).toEqual(Buffer.from(pdf));
});
