/** A report's PDF as waysheet's own reader finds it, against a library's that reads every PDF. */
import * as library from '@cantoo/pdf-lib';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readReportPdf } from '../../../src/pages/report/pdf-file/read-report-pdf.js';
import { readPdf } from '../../../src/pages/report/pdf-file/read-file.js';
import { writePdf } from '../../../src/pages/report/pdf-file/write-file.js';
import { root } from '../../support/folders.js';

const { PDFArray, PDFDict, PDFDocument, PDFName } = library;

const versions = readdirSync(join(root, 'tests/issued'), { withFileTypes: true }).filter((entry) =>
  entry.isDirectory(),
);
const issued = versions.flatMap(({ name: version }) => {
  const folder = join(root, 'tests/issued', version);
  return readdirSync(folder)
    .filter((name) => name.endsWith('.pdf'))
    .map((name) => join(folder, name));
});
const load = (bytes: Uint8Array) => PDFDocument.load(bytes, { updateMetadata: false });
const plain = (document: library.PDFDocument) =>
  document.save({ useObjectStreams: false, updateFieldAppearances: false });
const asWaysheetWrites = async (document: library.PDFDocument) => writePdf(readPdf(await plain(document)));

/** The list of embedded files in the catalog. */
const listOf = ({ catalog }: library.PDFDocument) =>
  catalog
    .lookup(PDFName.of('Names'), PDFDict)
    .lookup(PDFName.of('EmbeddedFiles'), PDFDict)
    .lookup(PDFName.of('Names'), PDFArray);

describe('of every report that was issued', () => {
  test.each(issued)('%s', async (path) => {
    const bytes = readFileSync(path);
    const wanted = (await load(bytes)).getAttachments();
    const { attachments: found, producer } = readReportPdf(bytes);
    expect(producer).toMatch(/^Skia\/PDF/);
    expect(found.map(({ name }) => name)).toEqual(wanted.map(({ name }) => name));
    found.forEach((file, i) =>
      expect(Buffer.from(file.bytes).equals(wanted[i]!.data as Uint8Array)).toBe(true),
    );
  });
});

const isRefused = (bytes: Uint8Array) => expect(() => readReportPdf(bytes)).toThrow(/waysheet writes|no PDF/);

describe('not written as waysheet writes', () => {
  const sample = readFileSync(issued.find((path) => path.includes('TH-1175'))!);
  const changes: [string, (document: library.PDFDocument) => Promise<void> | void][] = [
    ['a file more, in one of its two lists', (d) => d.attach(Buffer.from('x'), 'note.txt')],
    ['no second list', (d) => d.catalog.delete(PDFName.of('AF'))],
    ['a list within a list', (d) => {
      const files = d.catalog.lookup(PDFName.of('Names'), PDFDict).lookup(PDFName.of('EmbeddedFiles'), PDFDict);
      files.set(PDFName.of('Kids'), d.context.obj([]));
    }],
    ['a name that is not the file’s own', (d) => {
      const list = listOf(d);
      list.set(0, list.get(2)!);
    }],
  ]; // prettier-ignore
  test.each(changes)('%s', async (_, change) => {
    const document = await load(sample);
    expect(readReportPdf(await asWaysheetWrites(document)).attachments).toHaveLength(4);
    await change(document);
    isRefused(await asWaysheetWrites(document));
  });

  test('by another program, cut off, or no PDF', async () => {
    isRefused(await plain(await load(sample)));
    isRefused(await (await load(sample)).save());
    for (const length of [0, 1, 100, sample.length - 1, sample.length >> 1])
      isRefused(sample.subarray(0, length));
  });

  test('what was added after the end is told apart from what was printed', () => {
    const more = Buffer.from('\nstartxref\n0\n%%EOF\n');
    const found = readReportPdf(Buffer.concat([sample, more]));
    expect(Buffer.from(found.printed).equals(sample)).toBe(true);
    expect(found.onTop).toBe(more.length);
  });

  test('a byte that is changed anywhere: the same files, other content, or refused', () => {
    const names = readReportPdf(sample).attachments.map(({ name }) => name);
    for (let at = 5; at < sample.length; at += 997) {
      const copy = Buffer.from(sample);
      copy[at] = copy[at]! ^ 0x15;
      let found: string[] | null = null;
      try {
        found = readReportPdf(copy).attachments.map(({ name }) => name);
      } catch {
        continue;
      }
      expect(found).toEqual(names);
    }
  });
});
