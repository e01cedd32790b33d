/** Attached files as waysheet's own reader finds them, against a library's that reads every PDF. */
import * as library from '@cantoo/pdf-lib';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readAttachments } from '../../src/report/pdf-file/read-attachments.js';
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
    const found = readAttachments(bytes);
    expect(found?.map(({ name }) => name)).toEqual(wanted.map(({ name }) => name));
    found!.forEach((file, i) =>
      expect(Buffer.from(file.bytes).equals(wanted[i]!.data as Uint8Array)).toBe(true),
    );
  });
});

describe('left to the library', () => {
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
    expect(readAttachments(await asWaysheetWrites(document))).toHaveLength(4);
    await change(document);
    expect(readAttachments(await asWaysheetWrites(document))).toBeNull();
  });

  test('a PDF that another program wrote, is signed, cut off, or no PDF', async () => {
    expect(readAttachments(await plain(await load(sample)))).toBeNull();
    expect(readAttachments(await (await load(sample)).save())).toBeNull();
    const twice = Buffer.concat([sample, Buffer.from('\nstartxref\n0\n%%EOF\n')]);
    expect(readAttachments(twice)).toBeNull();
    for (const length of [0, 1, 100, sample.length - 1, sample.length >> 1])
      expect(readAttachments(sample.subarray(0, length))).toBeNull();
  });

  test('a byte that is changed anywhere: the same files, other content, or left to the library', () => {
    const names = readAttachments(sample)!.map(({ name }) => name);
    for (let at = 3; at < sample.length; at += 997) {
      const copy = Buffer.from(sample);
      copy[at] = copy[at]! ^ 0x15;
      const found = readAttachments(copy);
      if (found !== null) expect(found.map(({ name }) => name)).toEqual(names);
    }
  });
});
