/** Deliverables appear whole or not at all, and what an interrupted run left is cleared. */
import { chmod, mkdir, readFile, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { recover, writeWhole } from '../../src/archive/write-whole.js';
import { temporary } from '../support/folders.js';

/** Deliverables with the manifest that lists them. */
function files(text: string, ...more: string[]): Map<string, Buffer> {
  const made = new Map([
    ['results.json', Buffer.from(text)],
    ['charts/a.svg', Buffer.from('<svg/>')],
    ...more.map((path) => [path, Buffer.from('<svg/>')] as const),
  ]);
  const outputs = [...made.keys()].map((path) => ({ path }));
  made.set('manifest.json', Buffer.from(JSON.stringify({ format: 'waysheet-manifest/1', outputs })));
  return made;
}
const read = (folder: string) => readFile(join(folder, 'T-1/results.json'), 'utf8');

test('a folder takes the place of the earlier one, with nothing left beside it', async () => {
  const parent = join(await temporary(), 'new', 'out');
  await writeWhole(parent, 'T-1', files('one', 'charts/b.svg'));
  await writeWhole(parent, 'T-1', files('two'));
  expect(await read(parent)).toBe('two');
  expect(await readdir(parent)).toEqual(['T-1']);
  expect((await readdir(join(parent, 'T-1'))).sort()).toEqual(['charts', 'manifest.json', 'results.json']);
  expect(await readdir(join(parent, 'T-1', 'charts'))).toEqual(['a.svg']);
});

test('what somebody put beside the earlier files is carried over', async () => {
  const parent = await temporary();
  await writeWhole(parent, 'T-1', files('one'));
  await mkdir(join(parent, 'T-1', 'post'));
  for (const name of ['signed.pdf', 'post/letter.txt']) await writeFile(join(parent, 'T-1', name), 'theirs');
  await writeWhole(parent, 'T-1', files('two'));
  for (const name of ['signed.pdf', 'post/letter.txt'])
    expect(await readFile(join(parent, 'T-1', name), 'utf8')).toBe('theirs');
  expect(await read(parent)).toBe('two');
});

test('a folder that waysheet never wrote is not replaced', async () => {
  const parent = await temporary();
  await mkdir(join(parent, 'T-1'));
  await writeFile(join(parent, 'T-1', 'photo.jpg'), 'theirs');
  await expect(writeWhole(parent, 'T-1', files('one'))).rejects.toThrow(/did not write \(photo.jpg\)/);
  expect(await readdir(join(parent, 'T-1'))).toEqual(['photo.jpg']);
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
