/**
 * Pages of a PDF as pictures, for people to look at. The browser draws them, in its own process without a network, by
 * pdf.js, which reads PDFs of any origin.
 */
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { launchBrowser } from './launch-browser.js';
import { reasonOf } from './trouble.js';

/** What the pictures of one PDF may cost, whatever it contains. Measured from outside: a browser beyond them is ended. */
export interface DrawingLimits {
  readonly ms: number;
  /** Memory of the browser, all its processes together. */
  readonly bytes: number;
}
const LIMITS: DrawingLimits = { ms: 25_000, bytes: 600e6 };

/** At most: bytes of the PDF, pages, dots along each side of a picture, letters of all pictures. */
const MOST = { pdf: 32 * 2 ** 20, pages: 40, side: 1400, letters: 48 * 2 ** 20 };

/** How often the memory is measured, ms. */
const MEASURE_MS = 50;

/**
 * @param scale Dots of the picture per point of the page.
 * @returns PNG as data URLs, in the order of the pages. @throws {Error} in words: it cannot be drawn within the limits.
 */
export async function drawPages(
  pdf: Uint8Array,
  scale = 1,
  { ms, bytes }: DrawingLimits = LIMITS,
): Promise<readonly string[]> {
  if (pdf.length > MOST.pdf)
    throw new Error(`the PDF has ${pdf.length} bytes; at most ${MOST.pdf} are drawn`);
  const folder = join(
    dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json')),
    'legacy/build',
  );
  const running = await launchBrowser();
  const leader = running.browser.process()?.pid;
  let excess: string | null = null;
  const end = (words: string) => {
    excess ??= words;
    if (leader !== undefined) endGroup(leader);
  };
  const limit = setTimeout(() => end(`it took longer than ${ms / 1000} s`), ms);
  const meter = setInterval(() => {
    if (leader !== undefined && memoryOfGroup(leader) > bytes)
      end(`it needed more than ${Math.round(bytes / 1e6)} MB of memory`);
  }, MEASURE_MS);
  try {
    const page = await running.browser.newPage();
    await page.setContent('<!doctype html><title>pages</title>');
    // The worker's code first: with it in the page, no file is fetched for it.
    for (const name of ['pdf.worker.min.mjs', 'pdf.min.mjs'])
      await page.addScriptTag({ type: 'module', content: readFileSync(join(folder, name), 'utf8') });
    await page.evaluate(SCRIPT);
    const base64 = Buffer.from(pdf).toString('base64');
    return (await page.evaluate(`drawPages(${JSON.stringify({ base64, scale, most: MOST })})`)) as string[];
  } catch (cause) {
    throw new Error(excess ?? reasonOf(cause), { cause });
  } finally {
    clearTimeout(limit);
    clearInterval(meter);
    await running.close();
  }
}

/** A browser is the leader of a process group of its own, except on Windows, where the rest ends with it. */
function endGroup(leader: number): void {
  try {
    process.kill(process.platform === 'win32' ? leader : -leader, 'SIGKILL');
  } catch {
    return; // it has just ended
  }
}

/**
 * Memory of all processes of a group, bytes; on Linux what they share counts once. 0: this system does not say.
 *
 * @see proc(5), /proc/pid/stat and smaps_rollup; POSIX, ps.
 */
export function memoryOfGroup(leader: number): number {
  if (process.platform !== 'linux') {
    const { stdout } = spawnSync('ps', ['-A', '-o', 'pgid=,rss='], { encoding: 'latin1' });
    const own = new RegExp(`^ *${leader} +(\\d+)`, 'gm');
    return [...(stdout ?? '').matchAll(own)].reduce(
      (sum, [, kilobytes]) => sum + 1024 * Number(kilobytes),
      0,
    );
  }
  return readdirSync('/proc').reduce((sum, name) => {
    if (!/^\d+$/.test(name) || groupOf(name) !== leader) return sum;
    return sum + 1024 * Number(/^Pss: +(\d+)/m.exec(textOf(`/proc/${name}/smaps_rollup`))?.[1] ?? 0);
  }, 0);
}

/** The name of the program may hold spaces and brackets. */
const groupOf = (pid: string): number => Number(/.*\) \S+ \d+ (\d+)/s.exec(textOf(`/proc/${pid}/stat`))?.[1]);

/** '': the process has ended. */
function textOf(path: string): string {
  try {
    return readFileSync(path, 'latin1');
  } catch {
    return '';
  }
}

/** Runs in the browser. */
const SCRIPT = `window.drawPages = async ({ base64, scale, most }) => {
  while (!globalThis.pdfjsLib || !globalThis.pdfjsWorker) await new Promise((done) => setTimeout(done, 20));
  const data = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
  const document_ = await pdfjsLib.getDocument({ data, isEvalSupported: false, useSystemFonts: false }).promise;
  const pictures = [];
  let letters = 0;
  for (let n = 1; n <= Math.min(most.pages, document_.numPages); n++) {
    const page = await document_.getPage(n);
    const { width, height } = page.getViewport({ scale });
    const viewport = page.getViewport({ scale: scale * Math.min(1, most.side / Math.max(width, height)) });
    const canvas = document.createElement('canvas');
    canvas.width = viewport.width;
    canvas.height = viewport.height;
    await page.render({ canvas, canvasContext: canvas.getContext('2d'), viewport }).promise;
    pictures.push(canvas.toDataURL('image/png'));
    letters += pictures.at(-1).length;
    if (letters > most.letters) throw new Error('its pictures are larger than a report has them');
  }
  return pictures;
};`;
