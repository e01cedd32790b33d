import { inStage } from '../../base/cost/stages.js';
import { openPress, type PressOptions } from './browser/print-html.js';
import type { BrowserNote } from './browser/trouble.js';
import { linkWords, numbered, placesOfContents, withoutDrawings } from './contents.js';
import { fittingShape, inShape, wholeShape, type Shape } from './shapes.js';
import { finishPdf } from './pdf-file/finish.js';
import { placesIn } from './pdf-file/places.js';
import type { PrintJob } from './print-job.js';

export interface Printer {
  /** For the manifest: 'packed Chromium 147.0.7727.0', or path and version. */
  readonly browser: string;
  /** What should be said about the browser: skipped ones, no sandbox. */
  readonly notes: readonly BrowserNote[];
  /** The finished PDF; the same job gives the same bytes, whatever was printed before. */
  print(job: PrintJob): Promise<Uint8Array>;
  /** Ends the browser; prints that wait or run fail with BROWSER_CLOSED. */
  close(): Promise<void>;
}

/** A second or two as a rule; a machine with much other work may take a minute. */
const PRINTING_MS = 300_000;

/** Contents whose numbers have not settled after so many prints have none: whatever was printed before, the bytes are the same. */
const MAX_PRINTS = 4;
const NO_NUMBERS: ReadonlyMap<string, number> = new Map();

export type PrinterOptions = PressOptions;

/**
 * A printer for any number of reports, several at a time with `pages` > 1. Close it at the end.
 *
 * @throws {BrowserTrouble} see BrowserTroubleCode. {RangeError} createdOn is not a date, or two attachments share a name.
 */
export async function openPrinter(options: PrinterOptions = {}): Promise<Printer> {
  const press = await openPress(options);
  /** Where the sections of the last report began: the next one is likely to be alike, and is then printed once. */
  let guess = NO_NUMBERS;
  return {
    browser: press.description,
    notes: press.notes,
    async print(job) {
      const { html, fontless = html, paper, timeoutMs = PRINTING_MS, onNote = () => undefined } = job;
      assertSound(job);
      const places = placesOfContents(html);
      let shape = wholeShape(html);
      const printOf = (of: (page: string) => string, as = shape) =>
        press.print({
          html: of(inShape(html, as)),
          fontless: of(inShape(fontless, as)),
          ...{ paper, timeoutMs, onNote },
        });
      /** The first section of the contents follows page 1. */
      const isTooLong = (found: ReadonlyMap<string, number>) => (found.get(places[0] ?? '') ?? 2) > 2;
      /** In a print without drawings, which takes half the time. */
      const placesAs = async (as: Shape) =>
        placesIn(await printOf((page) => withoutDrawings(numbered(page, NO_NUMBERS)), as));
      // Nothing to guess from.
      if (places.length > 0 && guess === NO_NUMBERS) guess = await placesAs(shape);
      // The contents are on a page of one size, so that their numbers move nothing: the second print is right.
      for (let left = MAX_PRINTS, numbers = guess; ; left--) {
        const printed = await printOf((page) => numbered(page, numbers));
        const found = places.length === 0 ? numbers : placesIn(printed);
        if (left === MAX_PRINTS && isTooLong(found)) {
          shape = await fittingShape(shape, async (as) => {
            const its = await placesAs(as);
            if (isTooLong(its)) return false;
            numbers = its;
            return true;
          });
          continue;
        }
        if (left === 0 || places.every((place) => found.get(place) === numbers.get(place)))
          return inStage('finish', () => finishPdf(printed, job, linkWords(html)));
        // Other reports may be printed at the same time, so what this one was printed with is its own.
        guess = found;
        numbers = left > 1 ? found : NO_NUMBERS;
      }
    },
    close: () => press.close(),
  };
}

/** One page as a PDF, from a browser that is started for it. @throws as openPrinter and its print do. */
export async function printOnce(job: PrintJob): Promise<Uint8Array> {
  const printer = await openPrinter();
  try {
    return await printer.print(job);
  } finally {
    await printer.close();
  }
}

/** Before anything is printed. */
function assertSound({ createdOn, attachments = [] }: PrintJob): void {
  if (Number.isNaN(Date.parse(createdOn)))
    throw new RangeError(`createdOn is '${createdOn}', not an ISO date`);
  const names = attachments.map(({ name }) => name);
  const repeated = names.find((name, i) => names.indexOf(name) !== i);
  if (repeated !== undefined) throw new RangeError(`two attachments are called '${repeated}'`);
}
