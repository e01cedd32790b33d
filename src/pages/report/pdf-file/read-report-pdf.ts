/**
 * A report's PDF read back: the bytes as finish.ts wrote them, what was written after them, and the files inside.
 *
 * Only the form in which write-file.ts writes is read, in one go with one packed table. A PDF in any other form was not
 * written by waysheet, or was written anew since, and needs no reader: it is not the report's file. So nothing else than
 * this short code is let at a file of unknown origin; the table leads to the attached files past the pages, which are
 * never looked at.
 *
 * @see ISO 32000-1, 7.5.6 (incremental updates), 7.5.7 (object streams), 7.5.8 (cross-reference streams), 7.11.4
 *   (embedded file streams).
 */
import { languages, type Language } from '../../../survey/job/languages.js';
import { inflateSync } from 'node:zlib';
import { readDictionary, type Dictionary } from './dictionary.js';
import { numberOf } from './read-file.js';

export interface Attached {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface ReportPdf {
  /** All bytes up to the end of the file as it was first written. */
  readonly printed: Uint8Array;
  /** Bytes after them. */
  readonly onTop: number;
  /** In the order of the file. */
  readonly attachments: readonly Attached[];
  /** The browser, as the file names it. */
  readonly producer: string;
  /** Of its pages; null: it names none that waysheet writes. */
  readonly language: Language | null;
}

/** What all streams that are looked at unpack to, at most, bytes. */
const MOST_UNPACKED = 256 * 2 ** 20;

/** Of an object without its stream, bytes: a list of thousands of attached files has less. */
const MOST_OBJECT = 2 ** 20;

const END = /^startxref\n(\d{1,10})\n%%EOF\n/;

/** @throws {Error} In words: no PDF, or not as waysheet writes one. */
export function readReportPdf(pdf: Uint8Array): ReportPdf {
  const bytes = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength);
  if (bytes.toString('latin1', 0, 5) !== '%PDF-')
    throw new Error('it is no PDF: it does not begin with %PDF');
  try {
    const at = bytes.indexOf('startxref\n', 0, 'latin1');
    const end = at < 0 ? null : END.exec(bytes.toString('latin1', at, at + 40));
    if (end === null) throw new Error('it has no end');
    const printed = bytes.subarray(0, at + end[0].length);
    const own = new PackedPdf(printed, Number(end[1]), at);
    return {
      printed: new Uint8Array(printed.buffer, printed.byteOffset, printed.byteLength),
      onTop: bytes.length - printed.length,
      attachments: attachmentsOf(own),
      producer: producerOf(own),
      language: languageOf(own),
    };
  } catch (cause) {
    throw new Error(
      `it is not written as waysheet writes a PDF, or was written anew by another program (${(cause as Error).message})`,
      { cause },
    );
  }
}

const producerOf = (pdf: PackedPdf): string =>
  textOf(readDictionary(pdf.body(numberOf(pdf.trailer.get('Info')))).get('Producer') ?? '');

/** A PDF alone has no manifest that says which language its run asked for. */
function languageOf(pdf: PackedPdf): Language | null {
  const catalog = readDictionary(pdf.body(numberOf(pdf.trailer.get('Root'))));
  return languages.find((language) => catalog.get('Lang') === `(${language})`) ?? null;
}

function attachmentsOf(pdf: PackedPdf): Attached[] {
  const catalog = readDictionary(pdf.body(numberOf(pdf.trailer.get('Root'))));
  const trees = readDictionary(catalog.get('Names') ?? '<<>>');
  const { Names, ...others } = Object.fromEntries(readDictionary(trees.get('EmbeddedFiles') ?? '<<>>'));
  const list = Names?.slice(1, -1).trim() ?? '';
  const entry = /\s*(<FEFF(?:[\dA-F]{4})*>) (\d+ 0 R)/gy;
  const entries = [...list.matchAll(entry)];
  const references = entries.map(([, , reference]) => reference!);
  // A file that is in one list and not in the other, or a tree of lists, is nothing that waysheet wrote.
  const isOurs =
    entries.map(([whole]) => whole).join('') === list &&
    (catalog.get('AF') ?? '[  ]') === `[ ${references.join(' ')} ]` &&
    Object.keys(others).length === 0;
  if (!isOurs) throw new Error('files are attached in another way');
  return entries.map(([, name, reference]) => {
    const spec = readDictionary(pdf.body(numberOf(reference)));
    if (spec.get('UF') !== name) throw new Error('an attached file has two names');
    const file = readDictionary(spec.get('EF') ?? '').get('F');
    return { name: textOf(name!), bytes: pdf.stream(numberOf(file)).data };
  });
}

/** Of a string written by textString. */
const textOf = (hex: string): string => {
  const bytes = Buffer.from(hex.slice('<FEFF'.length, -1), 'hex');
  return bytes.swap16().toString('utf16le');
};

const STREAM = 'stream\n';

interface Stream {
  readonly head: Dictionary;
  readonly data: Buffer;
  /** Where its packed data end. */
  readonly end: number;
}

class PackedPdf {
  readonly trailer: Dictionary;
  private readonly bytes: Buffer;
  private readonly table: Buffer;
  private readonly packed = new Map<
    number,
    { readonly offsets: Map<number, number>; readonly text: string }
  >();
  private left = MOST_UNPACKED;

  /** @param table Offset of the table. @param after Offset of what follows its object. */
  constructor(bytes: Buffer, table: number, after: number) {
    this.bytes = bytes;
    const { head, data, end } = this.streamAt(table);
    if (this.bytes.toString('latin1', end, after) !== '\nendstream\nendobj\n')
      throw new Error('something follows its table');
    const isWhole = head.get('Type') === '/XRef' && head.get('W') === '[ 1 4 2 ]';
    if (!isWhole || head.has('Index') || head.has('Prev') || head.has('Encrypt'))
      throw new Error('its table is of another kind');
    this.trailer = head;
    this.table = data;
  }

  /** An object without a stream. */
  body(number: number): string {
    const { kind, at, index } = this.placeOf(number);
    if (kind === 1) return this.textAt(at, number, '\nendobj');
    const { offsets, text } = this.unpacked(at);
    const [own] = [...offsets].slice(index, index + 1);
    if (own?.[0] !== number) throw new Error('an object that is not where it should be');
    const [next] = [...offsets.values()].slice(index + 1, index + 2);
    return text.slice(own[1], next);
  }

  stream(number: number): Stream {
    const { kind, at } = this.placeOf(number);
    if (kind !== 1) throw new Error('a stream within a stream');
    return this.streamAt(at, number);
  }

  private placeOf(number: number) {
    const at = number * 7;
    return {
      kind: this.table.readUInt8(at),
      at: this.table.readUInt32BE(at + 1),
      index: this.table.readUInt16BE(at + 5),
    };
  }

  /** What is between the head of an object and `end`. */
  private textAt(at: number, number: number | null, end: string): string {
    const to = this.bytes.subarray(0, at + MOST_OBJECT).indexOf(end, at, 'latin1');
    const text = this.bytes.toString('latin1', at, to);
    const head = /^(\d+) 0 obj\n/.exec(text);
    if (to < 0 || head === null || (number !== null && Number(head[1]) !== number))
      throw new Error('an object that is not where it should be');
    return text.slice(head[0].length);
  }

  private streamAt(at: number, number: number | null = null): Stream {
    const head = readDictionary(this.textAt(at, number, STREAM));
    const from = this.bytes.indexOf(STREAM, at, 'latin1') + STREAM.length;
    const end = from + Number(head.get('Length'));
    const isPlain = head.get('Filter') === '/FlateDecode' && !head.has('DecodeParms');
    if (!isPlain || this.bytes.toString('latin1', end, end + 10) !== '\nendstream')
      throw new Error('a stream of another kind');
    const data = inflateSync(this.bytes.subarray(from, end), { maxOutputLength: this.left });
    this.left -= data.length;
    return { head, data, end };
  }

  private unpacked(number: number) {
    let known = this.packed.get(number);
    if (known === undefined) {
      const { head, data } = this.stream(number);
      const text = data.toString('latin1');
      const first = Number(head.get('First'));
      const numbers = text.slice(0, first).trim().split(' ').map(Number);
      const offsets = new Map<number, number>();
      for (let k = 0; k < numbers.length; k += 2) offsets.set(numbers[k]!, first + numbers[k + 1]!);
      known = { offsets, text };
      this.packed.set(number, known);
    }
    return known;
  }
}
