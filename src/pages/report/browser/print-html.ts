import type { CDPSession, Page } from 'puppeteer-core';
import { fontFamily } from '../../fonts/fonts.js';
import { launchBrowser, type BrowserOptions, type RunningBrowser } from './launch-browser.js';
import { type BrowserNote, BrowserTrouble, reasonOf } from './trouble.js';

export interface PressOptions extends BrowserOptions {
  /** Number of prints at the same time, each on a page of its own. Default 1. */
  readonly pages?: number;
  /** Number of prints after which a page is replaced, because it keeps memory of each. */
  readonly printsPerPage?: number;
  /** Number of prints after which the browser is replaced. */
  readonly printsPerBrowser?: number;
}

export interface HtmlToPrint {
  readonly html: string;
  /** The same without the report's font in it, for a browser that has that font of its own. Default: the same. */
  readonly fontless?: string;
  /** Used when the html's own `@page { size }` says nothing. */
  readonly paper: 'A4' | 'Letter';
  readonly timeoutMs: number;
  readonly onNote: (note: BrowserNote) => void;
}

/** Turns HTML into the PDF bytes that Chromium writes; see pdf.ts for what is done to them afterwards. */
export interface Press {
  readonly description: string;
  readonly notes: readonly BrowserNote[];
  print(job: HtmlToPrint): Promise<Uint8Array>;
  close(): Promise<void>;
}

/** A browser with the pages that are free for the next print. */
interface Engine {
  readonly running: RunningBrowser;
  /** Whether the report's font is among the browser's own; known with the first page. */
  hasFont: Promise<boolean> | undefined;
  /** Rejects when the browser ends. puppeteer leaves some calls waiting then, such as that for a new page. */
  readonly lost: Promise<never>;
  readonly idle: Sheet[];
  prints: number;
  busy: number;
  isRetired: boolean;
}

/** A page that is printed on again and again; a new one costs as much as half a print. */
interface Sheet {
  readonly page: Page;
  readonly session: CDPSession;
  readonly frameId: string;
  prints: number;
  onBlocked: (url: string) => void;
}

/** Attempts at one job when the browser breaks under it. */
const ATTEMPTS = 2;

/**
 * Starts a browser and keeps it for many prints.
 *
 * Pages are reused a few times, and finishPdf() removes the only trace of earlier prints (node numbers). No script
 * ever runs in them, so one report leaves nothing that another could read. A page keeps about 10 MB of every print. On a
 * report of six pages a print costs 230 ms of processor time on a page of its own, 215 on one that is used four times, and
 * 235 on one that is used fifty times.
 *
 * @throws {BrowserTrouble} as launchBrowser(); print(): PRINT_TIMEOUT, PRINT_FONT_FAILED,
 *   PRINT_IMAGE_FAILED, BROWSER_CRASHED after two attempts, BROWSER_CLOSED.
 */
export async function openPress(options: PressOptions = {}): Promise<Press> {
  const { printsPerPage = 4, printsPerBrowser = 500 } = options;
  const slots = queueOf(options.pages ?? 1);
  const engines = new Set<Engine>();
  const endings = new Set<Promise<void>>();
  let isClosed = false;
  let current = startEngine();
  const { description, notes } = (await current).running;

  async function startEngine(): Promise<Engine> {
    const running = await launchBrowser(options);
    const lost = new Promise<never>((_, reject) => {
      running.browser.once('disconnected', () => reject(new Error('the browser has ended')));
    });
    lost.catch(() => undefined); // nobody may be waiting
    const engine: Engine = {
      running,
      hasFont: undefined,
      lost,
      idle: [],
      prints: 0,
      busy: 0,
      isRetired: false,
    };
    engines.add(engine);
    if (isClosed) endWhenIdle(engine);
    return engine;
  }

  /** Of several prints that find the engine broken, the first starts a new one and the others take that. */
  async function takeEngine(): Promise<Engine> {
    const known = current;
    const engine = await known.catch(() => undefined);
    if (isClosed) throw closed();
    if (engine !== undefined && !engine.isRetired && engine.running.browser.connected) return engine;
    if (engine !== undefined) endWhenIdle(engine);
    if (current === known) current = startEngine();
    return current;
  }

  /** Its last print calls this again. */
  function endWhenIdle(engine: Engine): void {
    engine.isRetired = true;
    if (engine.busy > 0 && !isClosed) return;
    if (!engines.delete(engine)) return;
    const ending = engine.running.close().finally(() => endings.delete(ending));
    endings.add(ending);
  }

  async function printOnce(job: HtmlToPrint, deadline: number): Promise<Uint8Array> {
    const engine = await takeEngine();
    let sheet = engine.idle.pop();
    engine.busy++;
    const limit = limitOf(job, deadline);
    try {
      let pdf: Uint8Array | undefined;
      const printing = async (): Promise<void> => {
        sheet ??= await openSheet(engine.running);
        const hasFont = await (engine.hasFont ??= hasReportFont(sheet));
        const html = hasFont && job.fontless !== undefined ? job.fontless : job.html;
        pdf = await printOn(sheet, { ...job, html });
      };
      // `lost` keeps the result of each race until the browser ends, so the result must not be the PDF.
      await Promise.race([engine.lost, limit.passed, printing()]);
      if (++sheet!.prints < printsPerPage) engine.idle.push(sheet!);
      else await sheet!.page.close();
      if (++engine.prints >= printsPerBrowser) engine.isRetired = true;
      return pdf!;
    } catch (error) {
      // The page is in an unknown state, and may be the reason.
      const isPageAlone =
        error instanceof BrowserTrouble && sheet !== undefined && (await closesInTime(sheet.page));
      if (!isPageAlone) engine.isRetired = true;
      throw error;
    } finally {
      limit.end();
      engine.busy--;
      if (engine.isRetired) endWhenIdle(engine);
    }
  }

  async function printWithRetry(job: HtmlToPrint): Promise<Uint8Array> {
    const deadline = performance.now() + job.timeoutMs;
    for (let attempt = 1; ; attempt++) {
      try {
        return await printOnce(job, deadline);
      } catch (error) {
        if (isClosed) throw closed(error);
        if (error instanceof BrowserTrouble) throw error;
        if (attempt === ATTEMPTS) throw crashed(error);
      }
    }
  }

  return {
    description,
    notes,
    async print(job) {
      const release = await slots.take();
      try {
        if (isClosed) throw closed();
        return await printWithRetry(job);
      } finally {
        release();
      }
    },
    async close() {
      isClosed = true;
      await current.catch(() => undefined); // one that is just starting ends as soon as it has
      for (const engine of engines) endWhenIdle(engine);
      await Promise.all(endings);
    },
  };
}

async function openSheet({ browser }: RunningBrowser): Promise<Sheet> {
  const page = await browser.newPage();
  await page.setJavaScriptEnabled(false);
  const session = await page.createCDPSession();
  await session.send('Page.enable');
  const { frameTree } = await session.send('Page.getFrameTree');
  const sheet: Sheet = { page, session, frameId: frameTree.frame.id, prints: 0, onBlocked: () => undefined };
  await blockRequests(sheet);
  return sheet;
}

/** Asks the browser which fonts it draws a word with. */
async function hasReportFont({ session, frameId }: Sheet): Promise<boolean> {
  const html = `<p style="font-family:'${fontFamily}',serif">regular <b>bold</b></p>`;
  await session.send('Page.setDocumentContent', { frameId, html });
  await session.send('DOM.enable');
  await session.send('CSS.enable');
  try {
    const { root } = await session.send('DOM.getDocument');
    const { nodeId } = await session.send('DOM.querySelector', { nodeId: root.nodeId, selector: 'p' });
    const { fonts } = await session.send('CSS.getPlatformFontsForNode', { nodeId });
    return fonts.length === 2 && fonts.every(({ familyName }) => familyName === fontFamily);
  } finally {
    await session.send('CSS.disable');
    await session.send('DOM.disable');
  }
}

/**
 * The first of two barriers (the other is the browser's resolver, which knows no host): it can report what
 * was asked for. Only these schemes are intercepted, so that data: URLs are not slowed down.
 */
async function blockRequests(sheet: Sheet): Promise<void> {
  const { session } = sheet;
  session.on('Fetch.requestPaused', ({ requestId, request }) => {
    sheet.onBlocked(request.url);
    // 'Aborted' and not another reason: a navigation that fails otherwise shows an error page.
    session.send('Fetch.failRequest', { requestId, errorReason: 'Aborted' }).catch(() => undefined); // page gone
  });
  const patterns = ['http', 'https', 'ftp', 'file'].map((scheme) => ({ urlPattern: `${scheme}://*` }));
  await session.send('Fetch.enable', { patterns });
}

async function printOn(sheet: Sheet, job: HtmlToPrint): Promise<Uint8Array> {
  sheet.onBlocked = (url) => job.onNote({ code: 'PRINT_REQUEST_BLOCKED', data: { url } });
  let stop: (error: Error) => void = () => undefined;
  const stopped = new Promise<never>((_, reject) => (stop = reject));
  sheet.page.once('error', stop); // a page that crashes answers nothing any more
  try {
    return await Promise.race([stopped, layOutAndPrint(sheet, job)]);
  } finally {
    sheet.page.off('error', stop);
    sheet.onBlocked = () => undefined;
  }
}

function limitOf(job: HtmlToPrint, deadline: number): { passed: Promise<never>; end: () => void } {
  let timer: NodeJS.Timeout | undefined;
  const passed = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(tookTooLong(job)), Math.max(0, deadline - performance.now()));
  });
  return { passed, end: () => clearTimeout(timer) };
}

async function layOutAndPrint(sheet: Sheet, { html, paper }: HtmlToPrint): Promise<Uint8Array> {
  const { page, session, frameId } = sheet;
  const loaded = new Promise((resolve) => session.once('Page.loadEventFired', resolve));
  await session.send('Page.setDocumentContent', { frameId, html: unseen(html) });
  await loaded;
  assertComplete((await page.evaluate(COMPLETE)) as Completeness);
  return page.pdf({
    format: paper === 'A4' ? 'a4' : 'letter',
    preferCSSPageSize: true,
    printBackground: true,
    tagged: true,
    outline: true,
    // It waits for animation frames, which a page in the background does not get; ours is above.
    waitForFonts: false,
    timeout: 0, // the job's limit holds for all of this
  });
}

/** Nobody sees the page on a screen, and laying it out for one as well costs an eighth of a print. */
function unseen(html: string): string {
  return html.replace(/<head[^>]*>/i, '$&<style media="screen">html{display:none}</style>');
}

/**
 * Loads every font that the page declares. Chromium loads a font only when laid-out text needs it, and
 * does not wait for the ones that only a page margin box (`@page { @bottom-right … }`) uses: on the
 * first print those were set in another font.
 */
const COMPLETE = `(async () => {
  const faces = [...document.fonts];
  await Promise.allSettled([
    ...faces.map((face) => face.load()),
    // Of many pictures some may still be read when the page itself has loaded.
    ...[...document.images].map((image) => image.decode()),
  ]);
  const broken = [...document.images].filter((image) => !(image.complete && image.naturalWidth > 0));
  return {
    fonts: faces.filter((face) => face.status !== 'loaded').map((face) => face.family + ' ' + face.weight),
    images: broken.filter((image) => image.src.startsWith('data:')).map((image) => image.alt),
  };
})()`;

interface Completeness {
  readonly fonts: string[];
  readonly images: string[];
}

function assertComplete({ fonts, images }: Completeness): void {
  if (fonts.length > 0) {
    throw new BrowserTrouble('PRINT_FONT_FAILED', `The browser cannot read the font ${fonts[0]}.`, {
      font: fonts[0]!,
    });
  }
  if (images.length > 0) {
    throw new BrowserTrouble('PRINT_IMAGE_FAILED', `The browser cannot read the picture '${images[0]}'.`, {
      image: images[0]!,
    });
  }
}

/** @returns false when the page does not even close: then the whole browser has to go. */
async function closesInTime(page: Page): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const limit = new Promise<boolean>((resolve) => {
    timer = setTimeout(resolve, 2_000, false);
  });
  const closing = page.close().then(
    () => true,
    () => false,
  );
  const inTime = await Promise.race([closing, limit]);
  clearTimeout(timer);
  return inTime;
}

/** Lets `count` holders in at a time, in order of asking. */
function queueOf(count: number): { take(): Promise<() => void> } {
  let free = count;
  const waiting: (() => void)[] = [];
  const release = (): void => {
    const next = waiting.shift();
    if (next === undefined) free++;
    else next();
  };
  return {
    async take() {
      if (free > 0) free--;
      else await new Promise<void>((resolve) => waiting.push(resolve));
      return release;
    },
  };
}

function tookTooLong({ timeoutMs }: HtmlToPrint): BrowserTrouble {
  return new BrowserTrouble(
    'PRINT_TIMEOUT',
    `Printing took longer than ${timeoutMs / 1000} s and was stopped.`,
    { timeoutMs },
  );
}

function crashed(cause: unknown): BrowserTrouble {
  return new BrowserTrouble(
    'BROWSER_CRASHED',
    `The browser failed twice while printing: ${reasonOf(cause)}.`,
    {},
    { cause },
  );
}

function closed(cause?: unknown): BrowserTrouble {
  return new BrowserTrouble('BROWSER_CLOSED', 'The printer was closed.', {}, { cause });
}
