/** The text of a PDF's pages, by pdf.js: a reader that waysheet does not use for it. */
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** @returns Runs of text, page by page. @throws {Error} it cannot be read. */
export async function textOfPages(bytes: Uint8Array): Promise<string[][]> {
  const pdfjs = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const folder = dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));
  const standardFontDataUrl = `${pathToFileURL(join(folder, 'standard_fonts')).href}/`;
  // The library takes the memory of what it is given.
  const data = Uint8Array.from(bytes);
  const task = pdfjs.getDocument({ data, standardFontDataUrl, verbosity: 0, isEvalSupported: false });
  try {
    const document = await task.promise;
    const pages: string[][] = [];
    for (let number = 1; number <= document.numPages; number++) {
      const { items } = await (await document.getPage(number)).getTextContent();
      pages.push(items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? [item.str.trim()] : [])));
    }
    return pages;
  } finally {
    await task.destroy();
  }
}
