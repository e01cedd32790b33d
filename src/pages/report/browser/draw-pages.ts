/**
 * Pages of a PDF as pictures, for people to look at. The browser draws them, in its own process without a network, by
 * pdf.js, which reads PDFs of any origin.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { launchBrowser } from './launch-browser.js';

/** Pages that are drawn at most. */
const MOST_PAGES = 40;

/** Time for all pages, ms. */
const LIMIT_MS = 30_000;

/**
 * @param scale Dots of the picture per point of the page.
 * @returns PNG as data URLs, in the order of the pages. @throws {Error} it cannot be drawn in time.
 */
export async function drawPages(pdf: Uint8Array, scale = 1): Promise<readonly string[]> {
  const folder = join(
    dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json')),
    'legacy/build',
  );
  const running = await launchBrowser();
  const limit = setTimeout(() => void running.close(), LIMIT_MS);
  try {
    const page = await running.browser.newPage();
    await page.setContent('<!doctype html><title>pages</title>');
    // The worker's code first: with it in the page, no file is fetched for it.
    for (const name of ['pdf.worker.min.mjs', 'pdf.min.mjs'])
      await page.addScriptTag({ type: 'module', content: readFileSync(join(folder, name), 'utf8') });
    await page.evaluate(SCRIPT);
    return (await page.evaluate(
      `drawPages(${JSON.stringify(Buffer.from(pdf).toString('base64'))}, ${scale}, ${MOST_PAGES})`,
    )) as string[];
  } finally {
    clearTimeout(limit);
    await running.close();
  }
}

/** Runs in the browser. */
const SCRIPT = `window.drawPages = async (base64, scale, most) => {
  while (!globalThis.pdfjsLib || !globalThis.pdfjsWorker) await new Promise((done) => setTimeout(done, 20));
  const data = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
  const document_ = await pdfjsLib.getDocument({ data, isEvalSupported: false, useSystemFonts: false }).promise;
  const pictures = [];
  for (let n = 1; n <= Math.min(most, document_.numPages); n++) {
    const page = await document_.getPage(n);
    const viewport = page.getViewport({ scale });
    const canvas = document.createElement('canvas');
    canvas.width = Math.min(2000, viewport.width);
    canvas.height = Math.min(2000, viewport.height);
    await page.render({ canvas, canvasContext: canvas.getContext('2d'), viewport }).promise;
    pictures.push(canvas.toDataURL('image/png'));
  }
  return pictures;
};`;
