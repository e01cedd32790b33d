import { expect, test } from 'vitest';
import { readTar } from '../../../src/pages/report/browser/read-tar.js';

/** One entry as POSIX.1-2017 (pax, "ustar Interchange Format") lays it out. */
function entry(name: string, content: string, { type = '0', prefix = '' } = {}): Buffer {
  const header = Buffer.alloc(512);
  header.write(name, 0);
  header.write(`${Buffer.byteLength(content).toString(8).padStart(11, '0')}\0`, 124);
  header.write('        ', 148);
  header.write(type, 156);
  header.write('ustar\x0000', 257, 'latin1');
  header.write(prefix, 345);
  const sum = header.reduce((total, byte) => total + byte, 0);
  header.write(`${sum.toString(8).padStart(6, '0')}\0 `, 148);
  const body = Buffer.alloc(Math.ceil(Buffer.byteLength(content) / 512) * 512);
  body.write(content);
  return Buffer.concat([header, body]);
}

const end = Buffer.alloc(1024);
const read = (...parts: Buffer[]) =>
  [...readTar(Buffer.concat(parts))].map(({ name, content }) => [name, content.toString()]);

test('regular files, in order, whatever their length', () => {
  const long = 'x'.repeat(513);
  expect(read(entry('a', ''), entry('b/c', 'hello'), entry('d', long), end)).toEqual([
    ['a', ''],
    ['b/c', 'hello'],
    ['d', long],
  ]);
});

test('folders and links are passed over', () => {
  const parts = [
    entry('dir/', '', { type: '5' }),
    entry('link', '', { type: '2' }),
    entry('hard', '', { type: '1' }),
  ];
  expect(read(...parts, entry('a', '1'), end)).toEqual([['a', '1']]);
});

test('a long path stands in two fields', () => {
  expect(read(entry('leaf', '1', { prefix: 'some/deep/folder' }), end)).toEqual([
    ['some/deep/folder/leaf', '1'],
  ]);
});

test('an archive that ends early or is damaged is refused', () => {
  const whole = entry('a', 'x'.repeat(600));
  expect(() => read(whole.subarray(0, 800))).toThrow('ends 312 bytes early');
  whole[0] = 'b'.charCodeAt(0);
  expect(() => read(whole, end)).toThrow('header at byte 0 is damaged');
});
