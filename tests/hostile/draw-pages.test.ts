/** PDFs that cost a reader memory or time: their pictures are given up within the limits, and it is said why. */
import { deflateSync } from 'node:zlib';
import { PDFDocument, PDFName, type PDFRef } from '@cantoo/pdf-lib';
import { expect, test } from 'vitest';
import { memoryOfTree } from '../support/process-tree.js';
import { drawPages, type DrawingLimits } from '../../src/pages/report/browser/draw-pages.js';

/** A page with that content. @param resources Forms and images by name. */
async function pdfOf(
  content: string,
  resources: (document: PDFDocument) => Record<string, PDFRef> = () => ({}),
): Promise<Uint8Array> {
  const document = await PDFDocument.create();
  const page = document.addPage([595, 842]);
  const { context } = document;
  page.node.set(PDFName.of('Resources'), context.obj({ XObject: context.obj(resources(document)) }));
  page.node.set(PDFName.of('Contents'), context.register(context.flateStream(content)));
  return document.save();
}

const image =
  (width: number, height: number, images = 1) =>
  ({ context }: PDFDocument): Record<string, PDFRef> => {
    const packed = deflateSync(Buffer.alloc(width * height, 0x55));
    const about = { Type: 'XObject', Subtype: 'Image', Width: width, Height: height };
    const more = { ColorSpace: 'DeviceGray', BitsPerComponent: 8, Filter: 'FlateDecode' };
    const all = Array.from({ length: images }, (_, k) => [
      `I${k}`,
      context.register(context.stream(packed, { ...about, ...more })),
    ]);
    return Object.fromEntries(all) as Record<string, PDFRef>;
  };

/** Each form draws the one below it ten times: 10^9 lines. */
function nested({ context }: PDFDocument): Record<string, PDFRef> {
  const form = (content: string, below: PDFRef | null) =>
    context.register(
      context.flateStream(content, {
        ...{ Type: 'XObject', Subtype: 'Form', BBox: [0, 0, 595, 842] },
        Resources: below === null ? {} : { XObject: { F: below } },
      }),
    );
  let own = form('0 0 m 9 9 l S\n', null);
  for (let level = 0; level < 9; level++) own = form('/F Do\n'.repeat(10), own);
  return { F: own };
}

/** @returns What came of it. The memory of the browser is measured meanwhile: never a gigabyte. */
async function draw(pdf: Uint8Array, limits?: DrawingLimits): Promise<string> {
  let most = 0;
  const meter = setInterval(() => (most = Math.max(most, memoryOfTree(process.pid).browser)), 40);
  const said = await drawPages(pdf, 1, limits).then(
    (pages) => `${pages.length} pages`,
    (error: Error) => error.message,
  );
  clearInterval(meter);
  expect(most).toBeLessThan(1000);
  return said;
}
const short = { ms: 3_000, bytes: 600e6 };
const beyond = /^it (?:took longer than 3 s|needed more than 600 MB of memory)$/;

test('a page that costs nothing is drawn; one of a size that no paper has is drawn smaller', async () => {
  expect(await draw(await pdfOf('0 0 m 9 9 l S'))).toBe('1 pages');
  const document = await PDFDocument.create();
  document.addPage([14_000, 14_000]);
  expect(await draw(await document.save())).toBe('1 pages');
});

test('an image of 400 million dots', async () => {
  expect(await draw(await pdfOf('600 0 0 800 0 0 cm /I0 Do', image(20_000, 20_000)), short)).toMatch(beyond);
});

test('many large images', async () => {
  const shown = Array.from({ length: 60 }, (_, k) => `q ${90 + k} 0 0 90 0 0 cm /I${k} Do Q`).join('\n');
  expect(await draw(await pdfOf(shown, image(4000, 4000, 60)), short)).toMatch(beyond);
});

test('forms within forms', async () => {
  expect(await draw(await pdfOf('/F Do', nested), short)).toMatch(beyond);
});

test('millions of operators', async () => {
  const line = '1 2 3 rg 0 0 m 10 20 30 40 50 60 c 7 8 9 9 re B\n';
  expect(await draw(await pdfOf(line.repeat(2e6)), short)).toMatch(beyond);
});
