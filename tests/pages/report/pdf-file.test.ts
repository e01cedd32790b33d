import * as library from '@cantoo/pdf-lib';
import { describe, expect, test } from 'vitest';
import {
  dateString,
  dictionaryText,
  readDictionary,
  textString,
} from '../../../src/pages/report/pdf-file/dictionary.js';
import { finishPdf } from '../../../src/pages/report/pdf-file/finish.js';
import { readPdf } from '../../../src/pages/report/pdf-file/read-file.js';
import { writePdf } from '../../../src/pages/report/pdf-file/write-file.js';

const { PDFDict, PDFDocument, PDFHexString, PDFName, PDFRef, PDFString } = library;

/** A page and many small objects, as a tagged report has them, with a gap in the numbers. */
async function document(count: number) {
  const pdf = await PDFDocument.create({ updateMetadata: false });
  pdf.addPage([200, 100]).drawLine({ start: { x: 1, y: 1 }, end: { x: 50, y: 50 } });
  pdf.setTitle('before');
  await pdf.flush();
  const { context } = pdf;
  context.lookup(context.trailerInfo.Info, PDFDict).set(PDFName.of('Producer'), PDFString.of('Skia/PDF m1'));
  const refs = Array.from({ length: count }, (_, i) =>
    context.register(
      context.obj({
        Number: i,
        Text: PDFString.of(`\\(${i}\\) é`),
        Wide: PDFHexString.fromText('−µ'),
        List: [i, null, true],
      }),
    ),
  );
  context.delete(refs[3]!);
  return { pdf, kept: refs.filter((_, i) => i !== 3) };
}

const plainBytes = (pdf: library.PDFDocument) => pdf.save({ useObjectStreams: false });
const load = (bytes: Uint8Array) =>
  PDFDocument.load(bytes, { updateMetadata: false, throwOnInvalidObject: true });

describe('taken apart and written again', () => {
  test.each([5, 199, 400, 401, 1200])('every object comes back as it was: %i of them', async (count) => {
    const { pdf, kept } = await document(count);
    const again = await load(writePdf(readPdf(await plainBytes(pdf))));
    expect(again.getPageCount()).toBe(1);
    for (const ref of kept)
      expect(again.context.lookup(PDFRef.of(ref.objectNumber))?.toString()).toBe(
        pdf.context.lookup(ref)!.toString(),
      );
    expect(again.context.lookup(PDFRef.of(kept[2]!.objectNumber + 1))).toBeUndefined();
  });

  test('the table of places is right: each offset leads to its object', async () => {
    const { pdf } = await document(450);
    const file = Buffer.from(writePdf(readPdf(await plainBytes(pdf)))).toString('latin1');
    const start = Number(/startxref\n(\d+)\n%%EOF\n$/.exec(file)![1]);
    const stream = (await load(Buffer.from(file, 'latin1'))).context
      .enumerateIndirectObjects()
      .map(([, object]) => object)
      .find(
        (object) =>
          object instanceof library.PDFRawStream &&
          object.dict.get(PDFName.of('Type'))?.toString() === '/XRef',
      );
    const rows = Buffer.from(library.decodePDFRawStream(stream as library.PDFRawStream).decode());
    expect(file.slice(start)).toMatch(/^\d+ 0 obj\n<</);
    let direct = 0;
    for (let number = 0; number * 7 < rows.length; number++) {
      if (rows[number * 7] !== 1) continue;
      direct++;
      expect(file.slice(rows.readUInt32BE(number * 7 + 1))).toMatch(new RegExp(`^${number} 0 obj\n`));
    }
    expect(direct).toBeGreaterThanOrEqual(4);
  });

  test('equal content gives equal bytes; another content another identifier', async () => {
    const write = async (count: number) =>
      Buffer.from(writePdf(readPdf(await plainBytes((await document(count)).pdf))));
    const [one, same, other] = await Promise.all([write(300), write(300), write(301)]);
    expect(one.equals(same)).toBe(true);
    const identifier = (bytes: Buffer) => /\/ID \[<([0-9A-F]{32})> <\1>\]/.exec(bytes.toString('latin1'))![1];
    expect(identifier(other)).not.toBe(identifier(one));
  });

  test('a file in another form, or cut short, is not taken for one in the plain form', async () => {
    const { pdf } = await document(10);
    const plain = Buffer.from(await plainBytes(pdf)).toString('latin1');
    const bad = [
      plain.slice(0, -40),
      plain.replace(/0000000\d\d\d 00000 n/, '0000000007 00000 n'),
      plain.replace('/Root', '/Prev 9\n/Root'),
    ];
    for (const text of bad) expect(() => readPdf(Buffer.from(text, 'latin1'))).toThrow();
    expect(() => readPdf(Buffer.from(''))).toThrow();
    expect(() => readPdf(Buffer.from('nothing of the kind'))).toThrow();
  });
});

describe('finished', () => {
  const job = {
    title: 'Größe (1)',
    createdOn: '2026-03-16',
    attachments: [
      {
        name: 'r.json',
        bytes: Buffer.from('{}'),
        mime: 'application/json',
        description: 'd',
        relationship: 'Data',
      },
    ],
  } as const;

  test('in whatever form the browser wrote it, the same objects', async () => {
    const finished = async (useObjectStreams: boolean) => {
      const { pdf, kept } = await document(500);
      const again = await load(await finishPdf(await pdf.save({ useObjectStreams }), job));
      expect(again.getTitle()).toBe('Größe (1)');
      expect(again.getProducer()).toBe('Skia/PDF m1; waysheet');
      expect(again.getAttachments().map(({ name, data }) => [name, Buffer.from(data).toString()])).toEqual([
        ['r.json', '{}'],
      ]);
      return kept.map((ref) => again.context.lookup(PDFRef.of(ref.objectNumber))?.toString());
    };
    expect(await finished(true)).toEqual(await finished(false));
  });

  test('names that the document has already stay', async () => {
    for (const isDirect of [true, false]) {
      const { pdf } = await document(5);
      const names = pdf.context.obj({ Dests: { Names: [PDFString.of('a'), 1] } });
      pdf.catalog.set(PDFName.of('Names'), isDirect ? names : pdf.context.register(names));
      const again = await load(await finishPdf(await plainBytes(pdf), job));
      const tree = again.catalog.lookup(PDFName.of('Names'), PDFDict);
      expect(tree.lookup(PDFName.of('Dests'), PDFDict).toString()).toContain('(a)');
      expect(again.getAttachments()).toHaveLength(1);
    }
  });

  test('ids of cells are numbered anew in their order; what a picture says is not an id', async () => {
    const { pdf } = await document(5);
    const { context } = pdf;
    const id = (n: number) => PDFString.of(`node${String(n).padStart(8, '0')}`);
    const cell = context.register(
      context.obj({ ID: id(700), A: [{ O: 'Table', Headers: [id(31), id(700)] }], Alt: id(31) }),
    );
    const tree = context.register(context.obj({ Limits: [id(31), id(700)], Names: [id(31), 1, id(700), 2] }));
    const again = await load(await finishPdf(await plainBytes(pdf), job));
    const text = (ref: library.PDFRef) => again.context.lookup(ref)!.toString().replace(/\s+/g, ' ');
    expect(text(cell)).toBe(
      '<< /ID (node00000002) /A [ << /O /Table /Headers [ (node00000001) (node00000002) ] >> ] /Alt (node00000031) >>',
    );
    expect(text(tree)).toBe(
      '<< /Limits [ (node00000001) (node00000002) ] /Names [ (node00000001) 1 (node00000002) 2 ] >>',
    );
  });
});

describe('a dictionary', () => {
  test('is read as keys and values, whatever the values hold', () => {
    const text =
      '<</Type /Catalog\n/Pages 3 0 R/Lang (en \\) >>)/Open [12 0 R /XYZ 0 null 1] /N << /a <</b (()>> >> /C<FEFF>/V true/W 1.5>>';
    expect(() => readDictionary(text)).toThrow(/cannot be read/);
    expect([...readDictionary(text.replace('(()', '(\\()'))]).toEqual([
      ['Type', '/Catalog'],
      ['Pages', '3 0 R'],
      ['Lang', '(en \\) >>)'],
      ['Open', '[ 12 0 R /XYZ 0 null 1 ]'],
      ['N', '<< /a << /b (\\() >> >>'],
      ['C', '<FEFF>'],
      ['V', 'true'],
      ['W', '1.5'],
    ]);
    expect(readDictionary(dictionaryText(readDictionary('<</A /B/C 1>>')))).toEqual(
      new Map([
        ['A', '/B'],
        ['C', '1'],
      ]),
    );
  });

  test.each(['', '<<', '[1]', '<</A>>', '<</A 1', '<<1 2>>'])('%s is none', (text) => {
    expect(() => readDictionary(text)).toThrow();
  });

  test('texts and dates are written as the library writes them', () => {
    for (const text of ['plain', 'Größe (1)', '−µ', '😀'])
      expect(textString(text)).toBe(PDFHexString.fromText(text).toString());
    const date = new Date('2026-03-16T05:06:07Z');
    expect(dateString(date)).toBe(PDFString.fromDate(date).toString());
  });
});
