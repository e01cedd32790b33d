/**
 * A report's PDF forged: glyphs, boxes, pages, notes, scripts, also on top of what was issued. No page is read: what is not
 * printed here, byte for byte, is named.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { PDFDocument, PDFName, type PDFRef } from '@cantoo/pdf-lib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openPrinter, type Printer } from '../../../src/pages/report/pdf.js';
import { forgeries } from '../../support/forge-pdf.js';
import { renewed, type Files } from '../../support/forge-report.js';
import { temporary } from '../../support/folders.js';
import { seeded } from '../../support/jobs.js';
import { answer, lie, made, remembering } from './kit.js';

let printer: Printer;
let files: Files;
let folder: string;
let pdf: Uint8Array;

beforeAll(async () => {
  printer = remembering(await openPrinter());
  files = await made('TH-0412', printer);
  folder = await lie(files, join(await temporary(), 'TH-0412'));
  pdf = files.get('report.pdf')!;
});
afterAll(() => printer.close());

/** The folder with another PDF, and a manifest whose hashes agree with it. */
const withPdf = async (bytes: Uint8Array): Promise<string> =>
  lie(renewed(new Map([...files, ['report.pdf', bytes]])), join(await temporary(), 'TH-0412'));

const both = async (bytes: Uint8Array) => {
  const place = await withPdf(bytes);
  return Promise.all([place, join(place, 'report.pdf')].map((path) => answer({ printer }, path)));
};

test('what nobody touched is proven, as a folder and as a PDF alone', async () => {
  for (const path of [folder, join(folder, 'report.pdf')]) {
    const { grade, finding } = await answer({ printer }, path);
    expect(finding).toMatchObject({
      figures: 'proven',
      pages: 'proven',
      vouched: 'not-compared',
      differences: [],
    });
    expect(grade).toBe('proven');
  }
});

test('pages that nobody printed again are not said to be compared', async () => {
  const { finding, text, grade } = await answer({ printer }, folder, { print: false });
  expect(finding).toMatchObject({ figures: 'proven', pages: 'not-compared' });
  expect(text).toMatch(/report\.pdf: it was not printed again \(--no-print\)/);
  expect(grade).toBe('proven');
});

test.each(forgeries.map(({ name }) => name))('%s: differs, though all hashes agree', async (name) => {
  const document = await PDFDocument.load(pdf, { updateMetadata: false });
  const kind = forgeries.find((f) => f.name === name)!;
  expect(await kind.forge(document, seeded(7 + name.length))).not.toBeNull();
  for (const { grade, text } of await both(await document.save({ updateFieldAppearances: false }))) {
    expect(grade).toBe('differs');
    expect(text).toMatch(/differs: report\.pdf: it is not written as waysheet writes a PDF/);
  }
});

describe('on top of the issued bytes', () => {
  /** An incremental update, as a signing program writes it. */
  async function onTop(change: (document: PDFDocument) => void): Promise<Uint8Array> {
    const document = await PDFDocument.load(pdf, { updateMetadata: false, forIncrementalUpdate: true });
    change(document);
    return document.save({ updateFieldAppearances: false });
  }
  const changes: [string, (document: PDFDocument) => void][] = [
    ['a covered figure', (d) => d.getPage(0).drawRectangle({ x: 60, y: 400, width: 200, height: 100 })],
    ['a page taken out', (d) => d.removePage(1)],
    ['a script', (d) => d.addJavaScript('main', 'app.alert("x");')],
    ['a smaller box of the page', (d) => d.getPage(0).setCropBox(0, 0, 300, 300)],
    ['metadata', (d) => d.setTitle('Report of another machine')],
  ];
  test.each(changes)('%s', async (_, change) => {
    const bytes = await onTop(change);
    expect(Buffer.from(bytes.subarray(0, pdf.length)).equals(pdf)).toBe(true);
    for (const { grade, text } of await both(bytes)) {
      expect(grade).toBe('differs');
      expect(text).toMatch(/\d+ bytes were added after the printed ones/);
    }
  });
});

test.each([
  ['cut off', () => pdf.subarray(0, pdf.length - 2000)],
  [
    'encrypted',
    () =>
      Buffer.from(
        Buffer.from(pdf).toString('latin1').replace('/Type /XRef', '/Encrypt 9 0 R /Type /XRef'),
        'latin1',
      ),
  ],
])('%s: a clear line', async (_, bytes) => {
  const path = join(await temporary(), 'x.pdf');
  await writeFile(path, bytes());
  const { grade, text } = await answer({ printer }, path);
  expect(grade).toBe('differs');
  expect(text).toMatch(/it is not written as waysheet writes a PDF/);
});

test('no PDF: a clear line', async () => {
  const path = join(await temporary(), 'x.pdf');
  await writeFile(path, '<html>no</html>');
  const { grade, text } = await answer({ printer }, path);
  expect(grade).toBe('not read');
  expect(text).toMatch(/neither a folder nor a PDF/);
});

test('a stream that unpacks to more than memory holds is not unpacked', async () => {
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
  for (const { grade } of await both(bytes)) expect(grade).toBe('differs');
  expect(process.memoryUsage.rss()).toBeLessThan(2e9);
});

test.each([
  ['pages that hold themselves', 'Kids'],
  ['a page that is its own parent', 'Parent'],
])('%s: named', async (_, key) => {
  const document = await PDFDocument.load(pdf, { updateMetadata: false });
  const pages = document.catalog.get(PDFName.of('Pages'))!;
  if (key === 'Kids')
    document.catalog
      .Pages()
      .Kids()
      .push(pages as PDFRef);
  else document.catalog.Pages().set(PDFName.of('Parent'), pages);
  const bytes = await document.save({ addDefaultPage: false, updateFieldAppearances: false });
  for (const { grade } of await both(bytes)) expect(grade).toBe('differs');
});

test('any byte of the PDF', async () => {
  const next = seeded(5);
  for (let k = 0; k < 12; k++) {
    const bytes = Buffer.from(pdf);
    const at = Math.floor(next() * bytes.length);
    bytes[at] = bytes[at]! ^ (1 << Math.floor(next() * 8));
    const { grade } = await answer({ printer }, await withPdf(bytes));
    expect(grade, `byte ${at}`).toBe('differs');
  }
});

test('two reports at the same time are both proven', async () => {
  const other = await lie(await made('TH-1175', printer), join(await temporary(), 'TH-1175'));
  const all = await Promise.all(
    [folder, other, folder, other].map((place) => answer({ printer }, join(place, 'report.pdf'))),
  );
  expect(all.map(({ grade }) => grade)).toEqual(['proven', 'proven', 'proven', 'proven']);
  expect(await readFile(join(folder, 'report.pdf'))).toEqual(Buffer.from(pdf));
});
