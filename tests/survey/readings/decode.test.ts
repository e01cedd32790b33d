import { expect, test } from 'vitest';
import { decodeText } from '../../../src/base/input/decode.js';

const text = 'Höhe,µm,±\n1,−2,3\n';
const big = (s: string) => Buffer.from(s, 'utf16le').swap16();
const decoded = (bytes: Uint8Array) => {
  const outcome = decodeText(bytes, 'x.csv');
  return outcome.ok ? [outcome.value.encoding, outcome.value.text] : outcome.diagnostics[0];
};

test.each<[string, Uint8Array, string]>([
  ['UTF-8', Buffer.from(text), text],
  ['UTF-8 with BOM', Buffer.from(`\ufeff${text}`), text],
  ['UTF-16 LE', Buffer.from(`\ufeff${text}`, 'utf16le'), text],
  ['UTF-16 LE', Buffer.from(text, 'utf16le'), text],
  ['UTF-16 BE', big(`\ufeff${text}`), text],
  ['UTF-16 BE', big(text), text],
  ['Windows-1252', Buffer.from('H\xf6he,\xb5m,\xb1,\x961,\x80\n', 'latin1'), 'Höhe,µm,±,–1,€\n'],
  ['UTF-8', Buffer.from(''), ''],
])('%s', (encoding, bytes, expected) => {
  expect(decoded(bytes)).toEqual([encoding, expected]);
});

test.each<[string, Uint8Array, string]>([
  ['UTF-32', Buffer.from([0xff, 0xfe, 0, 0, 0x41, 0, 0, 0]), 'UTF-32'],
  ['a workbook', Buffer.from('PK\x03\x04...'), 'workbook'],
  ['a PDF', Buffer.from('%PDF-1.7'), 'a PDF'],
  ['odd UTF-16', Buffer.from([0xff, 0xfe, 0x41]), 'breaks off'],
  ['half a surrogate pair', Buffer.from([0xff, 0xfe, 0x00, 0xd8, 0x41, 0x00]), 'broken UTF-16 LE'],
  ['UTF-8 mark, then something else', Buffer.from([0xef, 0xbb, 0xbf, 0xff, 0x41]), 'no UTF-8'],
  ['bytes that are in neither', Buffer.from([0x41, 0x81, 0x0a]), 'byte 81 (hexadecimal) at offset 1'],
])('%s is refused', (_, bytes, words) => {
  const found = decoded(bytes) as { code: string; data: { found: string } };
  expect(found.code).toBe('CSV_ENCODING');
  expect(found.data.found).toContain(words);
});

test.each<[string, Uint8Array, number]>([
  ['UTF-8', Buffer.from('µ,b\n1,\0\n'), 7],
  ['UTF-8 with BOM', Buffer.from('\ufeffµ,b\n1,\0\n'), 10],
  ['UTF-16', Buffer.from('\ufeffµ,b\n1,\0\n', 'utf16le'), 14],
  ['Windows-1252', Buffer.from('\xb5,b\n1,\0\n', 'latin1'), 6],
])('a zero character in %s is refused with its byte offset and line', (_, bytes, offset) => {
  expect(decoded(bytes)).toMatchObject({ code: 'CSV_NUL', data: { offset }, at: { file: 'x.csv', row: 2 } });
});

test('the bytes, which are also hashed, stay as they are', () => {
  const bytes = big(`\ufeff${text}`);
  const before = Buffer.from(bytes);
  decoded(bytes);
  expect(bytes.equals(before)).toBe(true);
});
