/** Deliverables appear whole or not at all, and what an interrupted run left is cleared. */
import { chmod, mkdir, readFile, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { recover, writeWhole } from '../../src/archive/write-whole.js';
import { temporary } from '../support/folders.js';

const files = (text: string) =>
  new Map([
    ['results.json', Buffer.from(text)],
    ['charts/a.svg', Buffer.from('<svg/>')],
  ]);
const read = (folder: string) => readFile(join(folder, 'T-1/results.json'), 'utf8');

test('a folder takes the place of the earlier one, with nothing left beside it', async () => {
  const parent = join(await temporary(), 'new', 'out');
  await writeWhole(parent, 'T-1', files('one'));
  await writeFile(join(parent, 'T-1', 'stray.txt'), 'of the earlier report');
  await writeWhole(parent, 'T-1', files('two'));
  expect(await read(parent)).toBe('two');
  expect(await readdir(parent)).toEqual(['T-1']);
  expect((await readdir(join(parent, 'T-1'))).sort()).toEqual(['charts', 'results.json']);
});

test('when writing fails half-way, the earlier folder stays and nothing is left beside it', async () => {
  const parent = await temporary();
  await writeWhole(parent, 'T-1', files('one'));
  const broken = new Map([...files('two'), ['results.json/inside-a-file', Buffer.from('x')]]);
  await expect(writeWhole(parent, 'T-1', broken)).rejects.toThrow(/could not write/);
  expect(await read(parent)).toBe('one');
  expect(await readdir(parent)).toEqual(['T-1']);
});

test('a parent that cannot be written to is an error with its reason', async () => {
  const parent = await temporary();
  await writeFile(join(parent, 'out'), 'a file where a folder is wanted');
  await expect(writeWhole(join(parent, 'out'), 'T-1', files('one'))).rejects.toThrow(/EEXIST|ENOTDIR/);
  await chmod(parent, 0o700);
});

test('an interrupted run: half-written folders go, an earlier report set aside comes back', async () => {
  const parent = await temporary();
  await mkdir(join(parent, '.T-1.aaaaaaaa.new'));
  await mkdir(join(parent, '.T-1.bbbbbbbb.old'));
  await writeFile(join(parent, '.T-1.bbbbbbbb.old', 'results.json'), 'one');
  await mkdir(join(parent, '.T-10.cccccccc.new'));
  await recover(parent, 'T-1');
  expect(await read(parent)).toBe('one');
  expect((await readdir(parent)).sort()).toEqual(['.T-10.cccccccc.new', 'T-1']);
});
