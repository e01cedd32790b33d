/** What cannot be written is said in words, and nothing of somebody else's is removed for it. */
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { diskWords, writeFilesWhole, writeWhole } from '../../src/archive/write-whole.js';
import { temporary } from '../support/folders.js';

const files = new Map([['results.json', Buffer.from('{}')]]);

test('a file that is named like the job stays, and the report is refused', async () => {
  const out = await temporary();
  await writeFile(join(out, 'GM-1'), 'a customer’s notes');
  await expect(writeWhole(out, 'GM-1', files)).rejects.toThrow('a file has this name');
  expect(await readFile(join(out, 'GM-1'), 'utf8')).toBe('a customer’s notes');
  expect(await readdir(out)).toEqual(['GM-1']);
});

test('an output folder that is a file: said so, with what to do', async () => {
  const out = join(await temporary(), 'out');
  await writeFile(out, 'x');
  await expect(writeWhole(out, 'GM-1', files)).rejects.toThrow(/there is a file where a folder is needed/);
  expect(await readFile(out, 'utf8')).toBe('x');
});

test('a file that has the name of a folder: said so, and nothing is left', async () => {
  const out = await temporary();
  await mkdir(join(out, 'audit'));
  await expect(writeFilesWhole(out, new Map([['audit', Buffer.from('x')]]))).rejects.toThrow(
    /there is a folder where a file is to be written/,
  );
  expect(await readdir(out)).toEqual(['audit']);
});

test.each([
  ['EROFS', 'the disk may only be read'],
  ['ENOSPC', 'the disk is full'],
  ['EACCES', 'this user may not write there'],
  ['EFBIG', 'a file would be larger than is allowed here'],
])('%s is said in words', (code, words) => {
  const cause = Object.assign(new Error(`${code}: raw words of the system`), { code });
  expect(diskWords(cause, 'out')).toContain(words);
  expect(diskWords(cause, 'out')).not.toContain('raw words');
});

test('of files that belong together none is renamed when one of them cannot be written', async () => {
  const out = await temporary();
  await writeFile(join(out, 'register.json'), 'earlier');
  const together = new Map([
    ['register.json', Buffer.from('new')],
    // No file can be made below a folder that is not there, as none can be made on a full disk.
    ['missing/register.html', Buffer.from('new')],
  ]);
  await expect(writeFilesWhole(out, together)).rejects.toThrow('could not write');
  expect(await readFile(join(out, 'register.json'), 'utf8')).toBe('earlier');
  expect(await readdir(out)).toEqual(['register.json']);
});
