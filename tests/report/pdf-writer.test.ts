import * as library from '@cantoo/pdf-lib';
import { expect, test } from 'vitest';
import { writePdf } from '../../src/report/pdf-writer.js';

const { PDFDocument, PDFHexString, PDFRef, PDFString } = library;

/** A page and many small objects, as a tagged report has them, with a gap in the numbers. */
async function document(count: number) {
  const pdf = await PDFDocument.create({ updateMetadata: false });
  pdf.addPage([200, 100]).drawLine({ start: { x: 1, y: 1 }, end: { x: 50, y: 50 } });
  await pdf.flush();
  const { context } = pdf;
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

test.each([1, 199, 200, 201, 1000])('every object comes back as it was: %i of them', async (count) => {
  const { pdf, kept } = await document(Math.max(count, 4));
  const bytes = writePdf(pdf.context, library);
  const again = await PDFDocument.load(bytes, { updateMetadata: false, throwOnInvalidObject: true });
  expect(again.getPageCount()).toBe(1);
  for (const ref of kept) {
    expect(again.context.lookup(PDFRef.of(ref.objectNumber))?.toString()).toBe(
      pdf.context.lookup(ref)!.toString(),
    );
  }
  expect(again.context.lookup(PDFRef.of(kept[2]!.objectNumber + 1))).toBeUndefined();
});

test('the table of places is right: each offset leads to its object', async () => {
  const { pdf } = await document(450);
  const file = Buffer.from(writePdf(pdf.context, library)).toString('latin1');
  const start = Number(/startxref\n(\d+)\n%%EOF\n$/.exec(file)![1]);
  const table = await PDFDocument.load(Buffer.from(file, 'latin1'), { updateMetadata: false });
  const stream = table.context
    .enumerateIndirectObjects()
    .map(([, object]) => object)
    .find(
      (object) =>
        object instanceof library.PDFRawStream &&
        object.dict.get(library.PDFName.of('Type'))?.toString() === '/XRef',
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
  const write = async (count: number) => Buffer.from(writePdf((await document(count)).pdf.context, library));
  const [one, same, other] = await Promise.all([write(300), write(300), write(301)]);
  expect(one!.equals(same!)).toBe(true);
  const identifier = (bytes: Buffer) => /\/ID \[ <([0-9A-F]{32})> <\1> \]/.exec(bytes.toString('latin1'))![1];
  expect(identifier(other!)).not.toBe(identifier(one!));
});
