import { readDictionary, type Dictionary } from './dictionary.js';

/** What a PDF is made of. */
export interface PdfFile {
  /** Objects without a stream, as they are written, by number. */
  readonly plain: Map<number, string>;
  /** Objects with a stream: dictionary and data, one byte a character. */
  readonly streams: Map<number, string>;
  /** Root (the catalog) and Info, as references. */
  readonly trailer: Dictionary;
}

/** The number of an object by its reference, '12 0 R'. @throws {Error} it is none. */
export function numberOf(reference: string | undefined): number {
  const number = /^(\d+) 0 R$/.exec(reference ?? '')?.[1];
  if (number === undefined) throw new Error(`not a reference: ${reference}`);
  return Number(number);
}

/** The first number that no object has. */
export function nextNumber({ plain, streams }: Pick<PdfFile, 'plain' | 'streams'>): number {
  let most = 0;
  for (const numbers of [plain.keys(), streams.keys()])
    for (const number of numbers) most = Math.max(most, number);
  return most + 1;
}

/**
 * Takes a PDF apart that is written in one go with a plain table of offsets, as Chromium does it, and every other
 * program can. The objects are not looked into: a tagged report has thousands.
 *
 * @throws {Error} The file is written in another way.
 * @see ISO 32000-1, 7.5.
 */
export function readPdf(bytes: Uint8Array): PdfFile {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
  const start = Number(/startxref\s+(\d+)\s+%%EOF\s*$/.exec(text.slice(-100))?.[1]);
  const { offsets, trailer } = readTable(text, start);
  const file: PdfFile = { plain: new Map(), streams: new Map(), trailer };
  offsets.forEach(({ number, offset }, i) => {
    const body = bodyOf(text.slice(offset, offsets[i + 1]?.offset ?? start), number);
    (body.endsWith('endstream') ? file.streams : file.plain).set(number, body);
  });
  return file;
}

interface Offset {
  readonly number: number;
  readonly offset: number;
}

/** Bytes of a line of the table: ten digits, five digits, a letter. */
const LINE = 20;

function readTable(text: string, start: number): { offsets: Offset[]; trailer: Dictionary } {
  if (!text.startsWith('xref', start)) throw new Error('the PDF has no plain table of its objects');
  const offsets: Offset[] = [];
  const section = /\s*(\d+) (\d+)\s*?\r?\n/y;
  let at = start + 'xref'.length;
  for (;;) {
    section.lastIndex = at;
    const head = section.exec(text);
    if (head === null) break;
    at = section.lastIndex;
    const [first, count] = [Number(head[1]), Number(head[2])];
    for (let number = first; number < first + count; number++, at += LINE)
      if (text[at + 17] === 'n') offsets.push({ number, offset: Number(text.slice(at, at + 10)) });
  }
  const end = /^\s*trailer\s*(<<[^]*>>)\s*startxref/.exec(text.slice(at));
  if (end === null) throw new Error('the PDF has no trailer after its table');
  const trailer = readDictionary(end[1]!);
  if (trailer.has('Prev') || trailer.has('Encrypt'))
    throw new Error('the PDF is written in parts, or encrypted');
  return { offsets: offsets.sort((a, b) => a.offset - b.offset), trailer };
}

function bodyOf(text: string, number: number): string {
  const head = `${number} 0 obj\n`;
  const tail = '\nendobj';
  const end = text.trimEnd().length - tail.length;
  if (!text.startsWith(head) || !text.startsWith(tail, end))
    throw new Error(`object ${number} is not where it should be`);
  return text.slice(head.length, end);
}
