/** Bytes to text. The encoding is determined from the bytes alone. */
import { Findings, type Outcome } from '../diagnostics/diagnostic.js';

export interface Decoded {
  readonly text: string;
  /** For people: `UTF-8`, `UTF-8 with BOM`, `UTF-16 LE`, `UTF-16 BE`, `Windows-1252`. */
  readonly encoding: string;
}

/**
 * A byte-order mark decides. Without one, zero bytes in every second place mean UTF-16; else it is UTF-8 if all bytes are
 * valid; else Windows-1252, in which numbers, ids and column names of plain letters are the same.
 *
 * @param file Path for the messages.
 * @returns The text without its byte-order mark.
 *   Fails: CSV_ENCODING for UTF-32, workbooks, broken UTF-16, broken UTF-8 that has a mark, and bytes that
 *   Windows-1252 leaves undefined; CSV_NUL with the byte offset and line of the first zero character.
 */
export function decodeText(bytes: Uint8Array, file: string): Outcome<Decoded> {
  const findings = new Findings();
  const decoded = decode(bytes);
  if (typeof decoded === 'string') {
    findings.error('CSV_ENCODING', { found: decoded }, { file });
    return { ok: false, diagnostics: findings.list };
  }
  const nul = decoded.text.indexOf('\0');
  if (nul >= 0) {
    const row = countLines(decoded.text.slice(0, nul));
    findings.error('CSV_NUL', { offset: decoded.offsetOf(nul) }, { file, row });
  }
  return findings.outcome(() => ({ text: decoded.text, encoding: decoded.encoding }));
}

interface Detected extends Decoded {
  /** Byte offset of a character of the text. */
  readonly offsetOf: (index: number) => number;
}

/** The text, or (as a string) what the bytes are instead of text. */
function decode(bytes: Uint8Array): Detected | string {
  if (startsWith(bytes, [0xff, 0xfe, 0, 0]) || startsWith(bytes, [0, 0, 0xfe, 0xff])) return 'UTF-32';
  if (startsWith(bytes, [0x50, 0x4b, 3, 4])) return 'a spreadsheet workbook or zip archive';
  if (startsWith(bytes, [0xd0, 0xcf, 0x11, 0xe0])) return 'an old spreadsheet workbook';
  if (startsWith(bytes, [0x25, 0x50, 0x44, 0x46])) return 'a PDF';
  if (startsWith(bytes, [0xff, 0xfe])) return decodeUtf16(bytes, 2, false);
  if (startsWith(bytes, [0xfe, 0xff])) return decodeUtf16(bytes, 2, true);
  if (startsWith(bytes, [0xef, 0xbb, 0xbf])) {
    const text = decodeUtf8(bytes.subarray(3));
    return text === null
      ? 'a UTF-8 mark, then bytes that are no UTF-8'
      : { text, encoding: 'UTF-8 with BOM', offsetOf: (i) => 3 + byteLength(text.slice(0, i)) };
  }
  const order = zeroPattern(bytes);
  if (order !== null) return decodeUtf16(bytes, 0, order === 'BE');
  const text = decodeUtf8(bytes);
  if (text !== null) return { text, encoding: 'UTF-8', offsetOf: (i) => byteLength(text.slice(0, i)) };
  return decodeWindows1252(bytes);
}

const startsWith = (bytes: Uint8Array, mark: readonly number[]): boolean =>
  bytes.length >= mark.length && mark.every((b, i) => bytes[i] === b);

const byteLength = (text: string): number => new TextEncoder().encode(text).length;

function decodeUtf8(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

function decodeUtf16(bytes: Uint8Array, skip: number, bigEndian: boolean): Detected | string {
  const name = bigEndian ? 'UTF-16 BE' : 'UTF-16 LE';
  const body = bytes.subarray(skip);
  if (body.length % 2 !== 0) return `${name} that breaks off within a character`;
  let text: string;
  try {
    text = new TextDecoder(bigEndian ? 'utf-16be' : 'utf-16le', { fatal: true, ignoreBOM: true }).decode(
      body,
    );
  } catch {
    return `broken ${name}`;
  }
  return { text, encoding: name, offsetOf: (i) => skip + 2 * i };
}

/**
 * UTF-16 without a mark: text of our kind is nearly all ASCII, so nearly every second byte is zero and none of the others
 * is. At least three quarters of the first 4 KiB, and at least 4 characters, must be like this.
 */
function zeroPattern(bytes: Uint8Array): 'LE' | 'BE' | null {
  const pairs = Math.min(bytes.length, 4096) >> 1;
  if (pairs < 4 || bytes.length % 2 !== 0) return null;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < pairs; i++) {
    if (bytes[2 * i] === 0) even++;
    if (bytes[2 * i + 1] === 0) odd++;
  }
  if (even === 0 && odd > 0.75 * pairs) return 'LE';
  return odd === 0 && even > 0.75 * pairs ? 'BE' : null;
}

/** Characters of Windows-1252 from 0x80 to 0x9F; `\0`: undefined. The rest is Latin-1. */
const UPPER_CONTROLS = '€\0‚ƒ„…†‡ˆ‰Š‹Œ\0Ž\0\0‘’“”•–—˜™š›œ\0žŸ';

/** Uses our own table, because the decoder of that name is Latin-1 in some runtimes. */
function decodeWindows1252(bytes: Uint8Array): Detected | string {
  const undefinedByte = bytes.findIndex((b) => b >= 0x80 && b <= 0x9f && UPPER_CONTROLS[b - 0x80] === '\0');
  if (undefinedByte >= 0) {
    const byte = bytes[undefinedByte]!.toString(16).toUpperCase();
    return `neither UTF-8 nor Windows-1252: byte ${byte} (hexadecimal) at offset ${undefinedByte}`;
  }
  // Each byte as the character of its number: two bytes of UTF-16, the upper one zero.
  const latin1 = new TextDecoder('utf-16le').decode(Uint16Array.from(bytes));
  const text = latin1.replace(/[\u0080-\u009f]/g, (c) => UPPER_CONTROLS[c.charCodeAt(0) - 0x80]!);
  return { text, encoding: 'Windows-1252', offsetOf: (i) => i };
}

const countLines = (text: string): number => 1 + (text.match(/\r\n|\r|\n/g)?.length ?? 0);
