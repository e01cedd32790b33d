/**
 * A PDF may be written to again at its end: a signature, a comment, or other pages in place of the first.
 *
 * @see ISO 32000-1, 7.5.6 (incremental updates).
 */

const END = /startxref\s+\d+\s+%%EOF\r?\n?/g;

/** The first revision: all bytes up to the end of the file as it was first written. */
export function baseOf(bytes: Uint8Array): Uint8Array {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
  END.lastIndex = 0;
  return END.exec(text) === null ? bytes : bytes.subarray(0, END.lastIndex);
}
