import { createHash } from 'node:crypto';
import type * as PdfLib from '@cantoo/pdf-lib';
import type { PDFContext, PDFObject, PDFRef } from '@cantoo/pdf-lib';

/** Objects a stream: more compress better, and a reader has to open all of them for one. */
const PER_STREAM = 200;

/**
 * The bytes of a document whose objects are in memory, small ones packed into compressed object streams:
 * a tagged report has thousands of them, and packing makes the file 40 to 80 % smaller.
 *
 * Written out here because the library's own save() looks through all earlier objects for each one: for
 * 2000 table rows (34 000 objects) it took ten times as long. The compression is the library's, which
 * is plain JavaScript: the same bytes from every version of Node.
 *
 * @returns The file. Its identifier is made from its content, so equal content gives equal bytes.
 * @see ISO 32000-1, 7.5.7 (object streams), 7.5.8 (cross-reference streams), 14.4 (file identifiers).
 */
export function writePdf(
  context: PDFContext,
  { PDFCatalog, PDFStream, PDFHexString }: typeof PdfLib,
): Uint8Array {
  const size = context.largestObjectNumber + 1; // object 0 is the head of the free list
  const file = new FileInProgress();
  const places: Place[] = [];
  let packed: { ref: PDFRef; text: string }[] = [];
  let next = size;

  const flush = (): void => {
    if (packed.length === 0) return;
    const stream = context.flateStream(...objectStream(packed));
    places[next] = { kind: 1, at: file.length, index: 0 };
    packed.forEach(({ ref }, index) => (places[ref.objectNumber] = { kind: 2, at: next, index }));
    file.object(next++, stream);
    packed = [];
  };
  for (const [ref, object] of context.enumerateIndirectObjects()) {
    if (ref.generationNumber === 0 && !(object instanceof PDFStream || object instanceof PDFCatalog)) {
      packed.push({ ref, text: object.toString() });
      if (packed.length === PER_STREAM) flush();
    } else {
      places[ref.objectNumber] = { kind: 1, at: file.length, index: ref.generationNumber };
      file.object(ref.objectNumber, object, ref.generationNumber);
    }
  }
  flush();

  const start = file.length;
  places[next] = { kind: 1, at: start, index: 0 };
  const identifier = PDFHexString.of(file.digest());
  const { Root, Info } = context.trailerInfo;
  file.object(
    next,
    context.flateStream(crossReferences(places), {
      Type: 'XRef',
      Size: places.length,
      W: [...WIDTHS],
      Root: Root!,
      ...(Info === undefined ? {} : { Info }),
      ID: [identifier, identifier],
    }),
  );
  file.text(`startxref\n${start}\n%%EOF\n`);
  return file.bytes();
}

/** Where an object stands: 1 = at byte `at`, `index` its generation; 2 = the `index`-th in object stream `at`. */
interface Place {
  readonly kind: 1 | 2;
  readonly at: number;
  readonly index: number;
}

/** Bytes of each column of the cross-reference table: kind, place, index. */
const WIDTHS = [1, 4, 2] as const;

/** Numbers and offsets first, then the objects one after the other. */
function objectStream(
  objects: readonly { ref: PDFRef; text: string }[],
): [Uint8Array, Record<string, string | number>] {
  let offset = 0;
  const head = objects.map(({ ref, text }) => {
    const entry = `${ref.objectNumber} ${offset}`;
    offset += text.length + 1; // one byte a character, see FileInProgress.text()
    return entry;
  });
  const first = `${head.join(' ')} `;
  const content = Buffer.from(first + objects.map(({ text }) => `${text}\n`).join(''), 'latin1');
  return [content, { Type: 'ObjStm', N: objects.length, First: first.length }];
}

function crossReferences(places: readonly (Place | undefined)[]): Uint8Array {
  const width = WIDTHS[0] + WIDTHS[1] + WIDTHS[2];
  const table = Buffer.alloc(places.length * width);
  for (let number = 0; number < places.length; number++) {
    const place = places[number];
    const at = number * width;
    table.writeUInt8(place?.kind ?? 0, at);
    table.writeUInt32BE(place?.at ?? 0, at + WIDTHS[0]);
    // A number without an object is free, and never to be used again.
    table.writeUInt16BE(place?.index ?? 0xffff, at + WIDTHS[0] + WIDTHS[1]);
  }
  return table;
}

/** Bytes written so far, in pieces. */
class FileInProgress {
  readonly #pieces: Uint8Array[] = [];
  length = 0;

  constructor() {
    // Four bytes above 127 tell transfer programs that the file is not text.
    this.text('%PDF-1.7\n%\xe2\xe3\xcf\xd3\n');
  }

  object(number: number, object: PDFObject, generation = 0): void {
    this.text(`${number} ${generation} obj\n`);
    const bytes = new Uint8Array(object.sizeInBytes());
    object.copyBytesInto(bytes, 0);
    this.#add(bytes);
    this.text('\nendobj\n');
  }

  /** A PDF's own syntax, one byte a character. */
  text(text: string): void {
    this.#add(Buffer.from(text, 'latin1'));
  }

  /** Of what has been written, as 32 hexadecimal digits. */
  digest(): string {
    const hash = createHash('sha256');
    for (const piece of this.#pieces) hash.update(piece);
    return hash.digest('hex').slice(0, 32).toUpperCase();
  }

  bytes(): Uint8Array {
    return new Uint8Array(Buffer.concat(this.#pieces));
  }

  #add(bytes: Uint8Array): void {
    this.#pieces.push(bytes);
    this.length += bytes.length;
  }
}
