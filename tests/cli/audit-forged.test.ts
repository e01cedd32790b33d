/**
 * Forgeries by the command line, each made by somebody who has the source at hand: status 4 or 5, and what is wrong by name.
 * One report is printed for all of them. Those that need no print are audited in one run that prints nothing again: a
 * print could only find more.
 */
import { execFileSync } from 'node:child_process';
import { cp, mkdir, readFile, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { PDFDocument, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, test } from 'vitest';
import { readPdf } from '../../src/pages/report/pdf-file/read-file.js';
import { writePdf } from '../../src/pages/report/pdf-file/write-file.js';
import { sha256 } from '../../src/pages/deliverables/manifest.js';
import { waysheet } from '../support/command.js';
import { sample, temporary } from '../support/folders.js';
import { forgeries } from '../support/forge-pdf.js';
import { seeded } from '../support/jobs.js';

interface Entry {
  readonly report: string;
  readonly figures: string;
  readonly pages: string;
  readonly differences: readonly { readonly what: string }[];
  readonly notCompared: readonly { readonly what: string; readonly why: string }[];
}

/** An output folder with one report and its register, as batch writes them. */
let out: string;
/** Where the forged ones are. */
let place: string;

beforeAll(async () => {
  const jobs = await temporary();
  await cp(sample('TH-0412'), join(jobs, 'TH-0412'), { recursive: true });
  out = join(await temporary(), 'out');
  place = await temporary();
  expect(await waysheet('batch', jobs, '--out', out)).toMatchObject({ status: 0 });
});

/** A copy of the report, forged. */
async function forged(name: string, forge: (folder: string) => Promise<unknown>): Promise<string> {
  const folder = join(place, name, 'TH-0412');
  await cp(join(out, 'TH-0412'), folder, { recursive: true });
  await forge(folder);
  return folder;
}

/** Hashes of the manifest made those of the files; other files are added to its list. */
async function renew(folder: string, ...more: string[]): Promise<void> {
  const path = join(folder, 'manifest.json');
  const manifest = JSON.parse(await readFile(path, 'utf8'));
  const listed = [...manifest.outputs.map((one: { path: string }) => one.path), ...more];
  manifest.outputs = await Promise.all(
    listed.map(async (name: string) => {
      const bytes = await readFile(join(folder, name));
      return { path: name, bytes: bytes.length, sha256: sha256(bytes) };
    }),
  );
  await writeFile(path, `${JSON.stringify(manifest, null, 2)}\n`);
}

const audited = async (...args: string[]): Promise<{ status: number; of: Map<string, Entry> }> => {
  const { status, out: text } = await waysheet('audit', ...args, '--json');
  return { status, of: new Map((JSON.parse(text) as Entry[]).map((entry) => [entry.report, entry])) };
};
const said = (entry: Entry | undefined): string =>
  [
    ...(entry?.differences ?? []).map(({ what }) => `differs: ${what}`),
    ...(entry?.notCompared ?? []).map(({ what, why }) => `not compared: ${what}: ${why}`),
  ].join('\n');

/** A stream of the PDF that is packed. */
const packed = (document: PDFDocument): PDFRawStream =>
  document.context
    .enumerateIndirectObjects()
    .map(([, object]) => object)
    .find((one): one is PDFRawStream => one instanceof PDFRawStream && one.dict.has(PDFName.of('Filter')))!;

const changedPdf = (change: (document: PDFDocument) => unknown) => async (folder: string) => {
  const path = join(folder, 'report.pdf');
  const document = await PDFDocument.load(await readFile(path), { updateMetadata: false });
  await change(document);
  await writeFile(path, await document.save({ useObjectStreams: false, updateFieldAppearances: false }));
  await renew(folder);
};

describe('without a print', () => {
  const cases: [string, (folder: string) => Promise<unknown>, RegExp][] = [
    [
      'a filter by reference',
      changedPdf((document) => {
        const { dict } = packed(document);
        dict.set(PDFName.of('Filter'), document.context.register(dict.get(PDFName.of('Filter'))!));
      }),
      /differs: report\.pdf: it is not written as waysheet writes a PDF/,
    ],
    [
      'a filter whose name is spelled otherwise',
      async (folder) => {
        const path = join(folder, 'report.pdf');
        const text = (await readFile(path)).toString('latin1');
        const other = text.replaceAll('/Filter /FlateDecode\n/Length', '/F#69lter/FlateDecode/Length');
        expect(other).not.toBe(text);
        await writeFile(path, Buffer.from(other, 'latin1'));
        await renew(folder);
      },
      /differs: report\.pdf/,
    ],
    [
      'one more PDF that the manifest lists',
      async (folder) => {
        await cp(join(folder, 'report.pdf'), join(folder, 'certificate-of-conformity.pdf'));
        await renew(folder, 'certificate-of-conformity.pdf');
      },
      /differs: certificate-of-conformity\.pdf is no file of a report/,
    ],
    [
      'a link in place of the PDF',
      async (folder) => {
        await rename(join(folder, 'report.pdf'), join(folder, '../forged.pdf'));
        await symlink(join(folder, '../forged.pdf'), join(folder, 'report.pdf'));
      },
      /differs: report\.pdf is a symbolic link/,
    ],
    [
      'a draft with its marks blanked',
      async (folder) => {
        const path = join(folder, 'report.html');
        const text = await readFile(path, 'utf8');
        const other = text.replaceAll(', draft, not approved', '').replaceAll('Draft: not issued', '');
        expect(other).not.toBe(text);
        await writeFile(path, other);
        await renew(folder);
      },
      /differs: report\.html is not what these inputs make, byte for byte/,
    ],
  ];

  test.skipIf(process.platform === 'win32')(
    'all in one run, and one that nobody touched among them',
    async () => {
      const folders = await Promise.all(
        cases.map(([, forge], k) => forged(`no-print-${k}`, (folder) => forge(folder))),
      );
      const honest = join(out, 'TH-0412');
      const { status, of } = await audited(...folders, honest, '--no-print');
      expect(status).toBe(4);
      cases.forEach(([name, , named], k) => expect(said(of.get(folders[k]!)), name).toMatch(named));
      expect(of.get(honest)).toMatchObject({ figures: 'proven', differences: [] });
    },
    120_000,
  );

  test('a job folder that is empty does not pass as held against', async () => {
    const { status, of } = await audited(join(out, 'TH-0412'), '--no-print', '--job', await temporary());
    expect(status).toBe(4);
    expect(said([...of.values()][0])).toMatch(/differs: input job\.json cannot be read/);
  });

  test.skipIf(process.platform === 'win32')(
    'a pipe in place of the log',
    async () => {
      const other = join(place, 'pipe');
      await cp(out, other, { recursive: true });
      execFileSync('mkfifo', [join(other, 'issued.jsonl')]);
      const { status, of } = await audited(other, '--no-print');
      expect(status).toBe(4);
      expect([...of.values()].map(said).join('\n')).toMatch(
        /issued\.jsonl cannot be read: .*not a regular file/,
      );
    },
    120_000,
  );
});

test('with a print: what nobody touched; glyphs changed and another browser named; the register', async () => {
  const other = await forged('producer', async (folder) => {
    const path = join(folder, 'report.pdf');
    const document = await PDFDocument.load(await readFile(path), { updateMetadata: false });
    await forgeries.find(({ name }) => name === 'a glyph taken for another')!.forge(document, seeded(5));
    document.setProducer('Skia/PDF m999; waysheet');
    const bytes = await document.save({ useObjectStreams: false, updateFieldAppearances: false });
    await writeFile(path, writePdf(readPdf(bytes)));
    await renew(folder);
  });
  const registers = join(place, 'registers');
  await mkdir(registers);
  await cp(join(out, 'TH-0412'), join(registers, 'TH-0412'), { recursive: true });
  for (const name of ['register.json', 'register.csv', 'register.html'])
    await cp(join(out, name), join(registers, name));
  const pdf = await readFile(join(out, 'register.pdf'));
  await writeFile(join(registers, 'register.pdf'), Buffer.concat([pdf, Buffer.from('% seen')]));
  const ran = await audited(out);
  expect(ran.status, JSON.stringify([...ran.of.values()])).toBe(0);
  expect([...ran.of.values()]).toMatchObject([{ figures: 'proven', pages: 'proven', differences: [] }]);
  const { status, of } = await audited(other, join(other, 'report.pdf'), registers);
  expect(status).toBe(4);
  expect(said(of.get(other))).toMatch(/differs: report\.pdf is not what these figures print/);
  // Nothing but the PDF says which browser it was: without that one it is not compared.
  expect(of.get(join(other, 'report.pdf'))).toMatchObject({ figures: 'proven', pages: 'not-compared' });
  expect(said(of.get(join(other, 'report.pdf')))).toMatch(/printed by another browser \(Skia\/PDF m999/);
  // The page holds the hash of the print next to it.
  expect(said(of.get(registers))).toMatch(/differs: register\.html is not what register\.json makes/);
  expect(said(of.get(registers))).toMatch(/differs: register\.pdf is not what register\.json prints/);
  await rm(place, { recursive: true, force: true });
}, 300_000);
