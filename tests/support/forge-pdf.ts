/** Forgeries of a PDF, as somebody with a PDF library makes them. */
import type { PDFDocument } from '@cantoo/pdf-lib';
import { PDFArray, PDFName, PDFRawStream, PDFRef, PDFString, decodePDFRawStream, rgb } from '@cantoo/pdf-lib';

export interface Forgery {
  readonly name: string;
  /** @param next Numbers from 0 to 1. @returns null: there is nothing of the kind to forge. */
  readonly forge: (document: PDFDocument, next: () => number) => Promise<void | null> | void | null;
}

const pick = <T>(list: readonly T[], next: () => number): T => list[Math.floor(next() * list.length)]!;

/** Rewrites the drawing of a page. @returns Whether anything changed. */
function rewritten(document: PDFDocument, page: number, change: (text: string) => string | null): boolean {
  const contents = document.getPage(page).node.get(PDFName.of('Contents'));
  const refs = contents instanceof PDFArray ? contents.asArray() : [contents];
  for (const ref of refs) {
    if (!(ref instanceof PDFRef)) continue;
    const stream = document.context.lookup(ref);
    if (!(stream instanceof PDFRawStream)) continue;
    const text = Buffer.from(decodePDFRawStream(stream).decode()).toString('latin1');
    const other = change(text);
    if (other === null) continue;
    document.context.assign(ref, document.context.flateStream(Buffer.from(other, 'latin1')));
    return true;
  }
  return false;
}

/** Glyphs as Chromium writes them: `<0279> Tj`. */
const GLYPH = /<([0-9A-Fa-f]{4})> Tj/g;

export const forgeries: readonly Forgery[] = [
  {
    name: 'a glyph taken for another',
    forge(document, next) {
      const page = Math.floor(next() * document.getPageCount());
      const done = rewritten(document, page, (text) => {
        const glyphs = [...text.matchAll(GLYPH)];
        if (glyphs.length < 2) return null;
        const at = pick(glyphs, next);
        const other = pick(
          glyphs.filter(([, code]) => code !== at[1]),
          next,
        );
        return text.slice(0, at.index) + other[0] + text.slice(at.index + at[0].length);
      });
      return done ? undefined : null;
    },
  },
  {
    name: 'a figure covered by a white box',
    forge(document, next) {
      const page = document.getPage(Math.floor(next() * document.getPageCount()));
      const { width, height } = page.getSize();
      page.drawRectangle({
        x: 50 + next() * (width - 150),
        y: 60 + next() * (height - 150),
        width: 60 + 40 * next(),
        height: 20 + 20 * next(),
        color: rgb(1, 1, 1),
      });
    },
  },
  {
    name: 'text written over',
    async forge(document, next) {
      const page = document.getPage(Math.floor(next() * document.getPageCount()));
      const font = await document.embedFont('Helvetica');
      page.drawText('12.3', { x: 100 + 300 * next(), y: 100 + 500 * next(), size: 9, font });
    },
  },
  {
    name: 'a page removed',
    forge: (document, next) => document.removePage(Math.floor(next() * document.getPageCount())),
  },
  {
    name: 'two pages swapped',
    async forge(document, next) {
      const a = Math.floor(next() * (document.getPageCount() - 1));
      const [copy] = await document.copyPages(document, [a]);
      document.insertPage(a + 2, copy);
      document.removePage(a);
    },
  },
  {
    name: 'a page put in',
    async forge(document, next) {
      const [copy] = await document.copyPages(document, [Math.floor(next() * document.getPageCount())]);
      document.addPage(copy);
    },
  },
  {
    name: 'an annotation',
    forge(document, next) {
      const page = document.getPage(Math.floor(next() * document.getPageCount()));
      const note = document.context.register(
        document.context.obj({
          Type: 'Annot',
          Subtype: 'FreeText',
          Rect: [100, 100, 200, 120],
          Contents: PDFString.of('conforms'),
          DA: PDFString.of('/Helv 9 Tf 0 g'),
        }),
      );
      page.node.addAnnot(note);
    },
  },
  {
    name: 'a script',
    forge: (document) => document.addJavaScript('main', 'app.alert("x");'),
  },
  {
    name: 'a form field',
    forge(document, next) {
      const page = document.getPage(Math.floor(next() * document.getPageCount()));
      document.getForm().createTextField('value').addToPage(page, { x: 100, y: 100, width: 50, height: 15 });
    },
  },
  { name: 'another title', forge: (document) => document.setTitle('Report of another machine') },
];
