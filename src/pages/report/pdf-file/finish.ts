import type { BrowserNote } from '../browser/trouble.js';
import type { Attachment, DocumentOfJob } from '../print-job.js';
import { makeArchival } from './archival.js';
import { dateString, dictionaryText, readDictionary, textString } from './dictionary.js';
import { nextNumber, numberOf, readPdf, type PdfFile } from './read-file.js';
import { compressedStream, writePdf } from './write-file.js';

/**
 * Chromium's PDF with the job's own data in place of the clock's, and with its attachments. Objects stay as they
 * are and keep their numbers, so tags and bookmarks do.
 *
 * @param links Words of each link, by the name of the place that it leads to.
 *
 * What differs between two prints of one page, and is settled here: the dates, and the ids of table
 * cells in the structure tree, which are node numbers of the browser's page.
 *
 * Written out here, for a report has thousands of objects: to make and to walk a library's model of them took as
 * long as drawing the charts.
 */
export async function finishPdf(
  printed: Uint8Array,
  job: DocumentOfJob,
  links: ReadonlyMap<string, string> = new Map(),
): Promise<Uint8Array> {
  const file = await takeApart(printed);
  const producer = setInformation(file, job);
  renumberNodes(file);
  describeLinks(file, links);
  if (job.onNote !== undefined) noteOtherFonts(file, job.onNote);
  attach(file, job);
  makeArchival(file, job, producer);
  return writePdf(file);
}

/** Should some browser write its PDFs in another way, a library writes them in the plain one first. */
async function takeApart(printed: Uint8Array): Promise<PdfFile> {
  try {
    return readPdf(printed);
  } catch {
    const { PDFDocument } = await import('@cantoo/pdf-lib');
    const pdf = await PDFDocument.load(printed, { updateMetadata: false, throwOnInvalidObject: true });
    return readPdf(await pdf.save({ useObjectStreams: false, updateFieldAppearances: false }));
  }
}

/** @returns The producer. @see ISO 32000-1, 14.3.3 (information dictionary). */
function setInformation({ plain, trailer }: PdfFile, job: DocumentOfJob): string {
  const { title, author, subject, creator = 'waysheet', createdOn } = job;
  const number = numberOf(trailer.get('Info'));
  const printedBy = /^\(([^\\()]*)\)$/.exec(readDictionary(plain.get(number)!).get('Producer') ?? '')?.[1];
  const date = dateString(new Date(createdOn));
  const producer = `${printedBy ?? 'Chromium'}; waysheet`;
  plain.set(
    number,
    dictionaryText({
      Title: textString(title),
      ...(author !== undefined && { Author: textString(author) }),
      ...(subject !== undefined && { Subject: textString(subject) }),
      Creator: textString(creator),
      Producer: textString(producer),
      CreationDate: date,
      ModDate: date,
    }),
  );
  return producer;
}

/**
 * 'node00000043', a string by which a table cell names its headers; not where it is what a picture or a cell says.
 * What may not be before it is looked at last: else it would be looked for at every character of the file.
 */
const NODE_ID = /\(node\d{8,}\)(?<!\/(?:Alt|ActualText|Title|Lang|E|T)\s*\(node\d{8,}\))/g;

/**
 * Replaces the browser's node numbers by 1, 2, 3 … in the same order, so that the tree of ids stays
 * sorted as it must be. They are in each element's /ID, in the /Headers of a cell, and in the tree.
 *
 * @see ISO 32000-1, 14.7 (structure).
 */
function renumberNodes({ plain }: PdfFile): void {
  const ids = new Set<string>();
  const having: [number: number, body: string][] = [];
  for (const [number, body] of plain) {
    if (!body.includes('(node')) continue;
    having.push([number, body]);
    for (const [id] of body.matchAll(NODE_ID)) ids.add(id);
  }
  const renamed = new Map([...ids].sort().map((id, i) => [id, `(node${String(i + 1).padStart(8, '0')})`]));
  for (const [number, body] of having)
    plain.set(
      number,
      body.replace(NODE_ID, (id) => renamed.get(id)!),
    );
}

/** Gives each link its words, which a screen reader says. @see ISO 14289-1, 7.18.5. */
function describeLinks({ plain }: PdfFile, links: ReadonlyMap<string, string>): void {
  for (const [number, body] of plain) {
    if (!/\/Subtype\s*\/Link(?![A-Za-z])/.test(body)) continue;
    const link = readDictionary(body);
    const place = link.get('Dest')?.slice(1) ?? '';
    link.set('Contents', textString(links.get(place) ?? place));
    plain.set(number, dictionaryText(link));
  }
}

/** A font that is not the bundled one changes the layout from machine to machine. */
function noteOtherFonts({ plain }: PdfFile, onNote: (note: BrowserNote) => void): void {
  const others = new Set<string>();
  for (const body of plain.values()) {
    if (!/\/Type\s*\/Font(?![A-Za-z])/.test(body)) continue;
    if (/\/Subtype\s*\/Type3/.test(body)) others.add('a drawn font');
    const name = /\/BaseFont\s*\/(?:[A-Z]{6}\+)?([^\s/<>()[\]]+)/.exec(body)?.[1];
    if (name !== undefined && !name.startsWith('WaysheetSans')) others.add(name);
  }
  for (const name of [...others].sort()) onNote({ code: 'PRINT_OTHER_FONT', data: { font: name } });
}

/**
 * Embeds the files and ties them to the document.
 *
 * @see ISO 32000-1, 7.11.4 (embedded file streams); ISO 32000-2, 14.13 (AFRelationship).
 */
function attach(file: PdfFile, { attachments = [], createdOn }: DocumentOfJob): void {
  if (attachments.length === 0) return;
  const { plain, streams, trailer } = file;
  const date = dateString(new Date(createdOn));
  let next = nextNumber(file);
  // A name tree is sorted by its keys.
  const specs = [...attachments]
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .map((attachment) => {
      const [content, spec] = [next++, next++];
      streams.set(content, embeddedFile(attachment, date));
      plain.set(spec, fileSpecification(attachment, content));
      return { name: textString(attachment.name), reference: `${spec} 0 R` };
    });
  const root = numberOf(trailer.get('Root'));
  const catalog = readDictionary(plain.get(root)!);
  const names = catalog.get('Names');
  const tree = readDictionary(
    names === undefined ? '<<>>' : names.startsWith('<<') ? names : plain.get(numberOf(names))!,
  );
  const list = specs.map(({ name, reference }) => `${name} ${reference}`).join(' ');
  tree.set('EmbeddedFiles', dictionaryText({ Names: `[${list}]` }));
  catalog.set('Names', dictionaryText(tree));
  catalog.set('AF', `[${specs.map(({ reference }) => reference).join(' ')}]`);
  plain.set(root, dictionaryText(catalog));
}

const embeddedFile = ({ bytes, mime }: Attachment, date: string): string =>
  compressedStream(bytes, {
    Type: '/EmbeddedFile',
    Subtype: `/${mime.replace(/[^\w.+-]/g, (c) => `#${c.charCodeAt(0).toString(16).padStart(2, '0')}`)}`,
    Params: dictionaryText({ Size: String(bytes.length), CreationDate: date, ModDate: date }),
  });

const fileSpecification = ({ name, description, relationship }: Attachment, content: number): string =>
  dictionaryText({
    Type: '/Filespec',
    F: `(${name.replace(/[^\x20-\x7e]|[()\\]/g, '_')})`,
    UF: textString(name),
    Desc: textString(description),
    EF: dictionaryText({ F: `${content} 0 R` }),
    AFRelationship: `/${relationship}`,
  });
