import { inflateSync } from 'node:zlib';

/** Larger than any report: its pages are small, and inputs beyond 32 MB are not attached. */
export const MOST_BYTES = 256 * 2 ** 20;

/** What all streams of a report unpack to, at most. */
export const MOST_UNPACKED = 512 * 2 ** 20;

/**
 * Looks a PDF over before a reader is let at it: a few bytes may unpack to more than any memory holds.
 *
 * @throws {Error} No PDF, encrypted, cut off, too large, or packed in a way that no report is.
 */
export function assertReadable(bytes: Uint8Array): void {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
  if (!text.startsWith('%PDF-')) throw new Error('this is no PDF: it does not begin with %PDF');
  if (bytes.length > MOST_BYTES) throw new Error(tooLarge(bytes.length));
  if (!/%%EOF\s*$/.test(text.slice(-1024))) throw new Error('the PDF is cut off: it does not end with %%EOF');
  let left = MOST_UNPACKED;
  let from = 0;
  for (const { index, 0: keyword } of text.matchAll(/\bstream\r?\n/g)) {
    // Inside the data of the stream before.
    if (index < from) continue;
    const head = text.slice(Math.max(from, text.lastIndexOf(' obj', index)), index);
    if (/\/Encrypt\b/.test(head)) throw new Error('the PDF is encrypted: waysheet writes none that is');
    const end = text.indexOf('endstream', index + keyword.length);
    from = end < 0 ? text.length : end;
    const filter = /\/Filter\s*(\[[^\]]*\]|\/\w+)/.exec(head)?.[1];
    if (filter === undefined) continue;
    if (!/^(\[\s*)?\/FlateDecode(\s*\])?$/.test(filter))
      throw new Error(`the PDF is packed by ${filter}, as no report of waysheet is`);
    left -= unpackedSize(bytes.subarray(index + keyword.length), left);
  }
  if (/\/Encrypt\b/.test(text.slice(from)))
    throw new Error('the PDF is encrypted: waysheet writes none that is');
}

export const tooLarge = (size: number): string =>
  `the PDF has ${Math.round(size / 2 ** 20)} MB; a report has at most ${MOST_BYTES / 2 ** 20} MB`;

function unpackedSize(packed: Uint8Array, most: number): number {
  try {
    return inflateSync(packed, { maxOutputLength: Math.max(1, most) }).length;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ERR_BUFFER_TOO_LARGE')
      throw new Error(
        `the PDF unpacks to more than ${MOST_UNPACKED / 2 ** 20} MB, as no report of waysheet does`,
        { cause: error },
      );
    // Damaged data: its reader says so.
    return 0;
  }
}
