import type * as PdfLib from '@cantoo/pdf-lib';
import type { PDFDict, PDFDocument, PDFObject } from '@cantoo/pdf-lib';
import { openPress, type PressOptions } from './browser/print-html.js';
import type { BrowserNote } from './browser/trouble.js';
import { writePdf } from './pdf-writer.js';

/** How an attached file relates to the report. @see ISO 32000-2, 14.13, "Associated files". */
export type Relationship =
  /** The report was made from it: the raw readings. */
  | 'Source'
  /** The figures behind the tables and charts. */
  | 'Data'
  /** The same content in another form: results.json. */
  | 'Alternative'
  | 'Supplement';

export interface Attachment {
  /** Without folders; unique within the report. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** For example text/csv. */
  readonly mime: string;
  readonly description: string;
  readonly relationship: Relationship;
}

export interface PrintJob {
  readonly html: string;
  readonly title: string;
  readonly author?: string;
  readonly subject?: string;
  /** The program and its version, as the file's creator. Default 'waysheet'. */
  readonly creator?: string;
  /** The date that the job gives the report, ISO 8601 (a date means midnight UTC); never the clock's. */
  readonly createdOn: string;
  /** Used when the html's own `@page { size }` says nothing. */
  readonly paper: 'A4' | 'Letter';
  readonly attachments?: readonly Attachment[];
  /** Limit for this job alone, ms. Default 60 s. */
  readonly timeoutMs?: number;
  /** What should be said about this print although it succeeded. */
  readonly onNote?: (note: BrowserNote) => void;
}

export interface Printer {
  /** For the manifest: 'packed Chromium 143.0.7499.0', or path and version. */
  readonly browser: string;
  /** What should be said about the browser: skipped ones, no sandbox. */
  readonly notes: readonly BrowserNote[];
  /** The finished PDF; the same job gives the same bytes, whatever was printed before. */
  print(job: PrintJob): Promise<Uint8Array>;
  /** Ends the browser; prints that wait or run fail with BROWSER_CLOSED. */
  close(): Promise<void>;
}

export type PrinterOptions = PressOptions;

/**
 * A printer for any number of reports, several at a time with `pages` > 1. Close it at the end.
 *
 * @throws {BrowserTrouble} see BrowserTroubleCode. {RangeError} createdOn is not a date, or two attachments share a name.
 */
export async function openPrinter(options: PrinterOptions = {}): Promise<Printer> {
  // 0.2 s to load, for which the browser does not wait.
  const [press] = await Promise.all([openPress(options), import('@cantoo/pdf-lib')]);
  return {
    browser: press.description,
    notes: press.notes,
    async print(job) {
      const { html, paper, timeoutMs = 60_000, onNote = () => undefined } = job;
      assertSound(job);
      return finishPdf(await press.print({ html, paper, timeoutMs, onNote }), job);
    },
    close: () => press.close(),
  };
}

/** Before anything is printed. */
function assertSound({ createdOn, attachments = [] }: PrintJob): void {
  if (Number.isNaN(Date.parse(createdOn)))
    throw new RangeError(`createdOn is '${createdOn}', not an ISO date`);
  const names = attachments.map(({ name }) => name);
  const repeated = names.find((name, i) => names.indexOf(name) !== i);
  if (repeated !== undefined) throw new RangeError(`two attachments are called '${repeated}'`);
}

/**
 * Chromium's PDF with the job's own data in place of the clock's, and with its attachments. Changed in
 * place: copying the pages into a new document would lose tags and bookmarks.
 *
 * What differs between two prints of one page, and is settled here: the dates, and the ids of table
 * cells in the structure tree, which are node numbers of the browser's page.
 *
 * @see ISO 32000-1, 14.3.3 (information dictionary), 14.7 (structure).
 */
export async function finishPdf(
  printed: Uint8Array,
  job: Omit<PrintJob, 'html' | 'paper'>,
): Promise<Uint8Array> {
  const library = await import('@cantoo/pdf-lib');
  const pdf = await library.PDFDocument.load(printed, {
    updateMetadata: false, // it would write the clock's time
    throwOnInvalidObject: true,
    parseSpeed: Infinity, // no pauses: a pause is a timer, and the whole takes some ms
  });
  setInformation(pdf, job);
  renumberNodes(pdf, library);
  noteOtherFonts(pdf, library, job.onNote);
  attach(pdf, library, job);
  return writePdf(pdf.context, library);
}

function setInformation(
  pdf: PDFDocument,
  { title, author, subject, creator = 'waysheet', createdOn }: Omit<PrintJob, 'html' | 'paper'>,
): void {
  const date = new Date(createdOn);
  pdf.setTitle(title);
  if (author !== undefined) pdf.setAuthor(author);
  if (subject !== undefined) pdf.setSubject(subject);
  pdf.setCreator(creator);
  pdf.setProducer(`${pdf.getProducer() ?? 'Chromium'}; @cantoo/pdf-lib`);
  pdf.setCreationDate(date);
  pdf.setModificationDate(date);
}

/** 'node00000043', a string by which a table cell names its headers. */
const NODE_ID = /^node\d{8,}$/;

/**
 * Replaces the browser's node numbers by 1, 2, 3 … in the same order, so that the tree of ids stays
 * sorted as it must be. They stand in each element's /ID, in the /Headers of a cell, and in the tree.
 */
function renumberNodes(pdf: PDFDocument, { PDFArray, PDFDict, PDFName, PDFString }: typeof PdfLib): void {
  const places: { id: string; put: (id: PDFObject) => void }[] = [];
  const collect = (found: PDFObject | undefined, put: (id: PDFObject) => void): void => {
    if (found instanceof PDFString && NODE_ID.test(found.asString()))
      places.push({ id: found.asString(), put });
    else if (found instanceof PDFArray)
      found.asArray().forEach((item, i) => collect(item, (id) => found.set(i, id)));
    else if (found instanceof PDFDict) collectIn(found);
  };
  const keys = ['ID', 'A', 'Headers', 'Names', 'Limits'].map((name) => PDFName.of(name));
  const collectIn = (dict: PDFDict): void => {
    for (const key of keys) collect(dict.get(key), (id) => dict.set(key, id));
  };
  for (const [, object] of pdf.context.enumerateIndirectObjects()) {
    if (object instanceof PDFDict || object instanceof PDFArray) collect(object, () => undefined);
  }
  const order = [...new Set(places.map(({ id }) => id))].sort();
  const renamed = new Map(order.map((id, i) => [id, PDFString.of(`node${String(i + 1).padStart(8, '0')}`)]));
  for (const { id, put } of places) put(renamed.get(id)!);
}

/** A font that is not the bundled one changes the layout from machine to machine. */
function noteOtherFonts(
  pdf: PDFDocument,
  { PDFDict, PDFName }: typeof PdfLib,
  onNote: PrintJob['onNote'],
): void {
  if (onNote === undefined) return;
  const [type, font, subtype, type3, baseFont] = ['Type', 'Font', 'Subtype', 'Type3', 'BaseFont'].map(
    (name) => PDFName.of(name),
  );
  const others = new Set<string>();
  for (const [, object] of pdf.context.enumerateIndirectObjects()) {
    if (!(object instanceof PDFDict) || object.get(type!) !== font) continue;
    if (object.get(subtype!) === type3) others.add('a drawn font');
    const name = object
      .get(baseFont!)
      ?.toString()
      .replace(/^\/([A-Z]{6}\+)?/, '');
    if (name !== undefined && !name.startsWith('WaysheetSans')) others.add(name);
  }
  for (const name of [...others].sort()) onNote({ code: 'PRINT_OTHER_FONT', data: { font: name } });
}

/**
 * Embeds the files and ties them to the document. Written out here because the library puts a file's
 * name into the file as it stands, and a parenthesis in it would break the PDF.
 *
 * @see ISO 32000-1, 7.11.4 (embedded file streams); ISO 32000-2, 14.13 (AFRelationship).
 */
function attach(
  pdf: PDFDocument,
  { PDFDict, PDFHexString, PDFName, PDFString }: typeof PdfLib,
  { attachments = [], createdOn }: Pick<PrintJob, 'attachments' | 'createdOn'>,
): void {
  if (attachments.length === 0) return;
  const { context, catalog } = pdf;
  const date = PDFString.fromDate(new Date(createdOn));
  const names = context.obj([]);
  const associated = context.obj([]);
  // A name tree is sorted by its keys.
  for (const { name, bytes, mime, description, relationship } of [...attachments].sort((a, b) =>
    a.name < b.name ? -1 : 1,
  )) {
    const content = context.flateStream(bytes, {
      Type: 'EmbeddedFile',
      Subtype: PDFName.of(mime),
      Params: { Size: bytes.length, CreationDate: date, ModDate: date },
    });
    const file = context.register(context.obj({ EF: { F: context.register(content) } }));
    const spec = context.lookup(file, PDFDict);
    spec.set(PDFName.of('Type'), PDFName.of('Filespec'));
    spec.set(PDFName.of('F'), PDFString.of(name.replace(/[^\x20-\x7e]|[()\\]/g, '_')));
    spec.set(PDFName.of('UF'), PDFHexString.fromText(name));
    spec.set(PDFName.of('Desc'), PDFHexString.fromText(description));
    spec.set(PDFName.of('AFRelationship'), PDFName.of(relationship));
    names.push(PDFHexString.fromText(name));
    names.push(file);
    associated.push(file);
  }
  const tree = catalog.lookupMaybe(PDFName.of('Names'), PDFDict) ?? context.obj({});
  tree.set(PDFName.of('EmbeddedFiles'), context.obj({ Names: names }));
  catalog.set(PDFName.of('Names'), tree);
  catalog.set(PDFName.of('AF'), associated);
}
