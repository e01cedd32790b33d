/** Everything in an output folder is a report, a page of ours, or named: nothing is passed over without a word. */
import { execFileSync } from 'node:child_process';
import { mkdir, symlink, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { listOutput } from '../../src/archive/output-listing.js';
import { readLog } from '../../src/archive/issue-log.js';
import { temporary } from '../support/folders.js';

async function folderWith(...paths: string[]): Promise<string> {
  const out = await temporary();
  for (const path of paths) {
    await mkdir(dirname(join(out, path)), { recursive: true });
    await writeFile(join(out, path), '');
  }
  return out;
}

test('reports, drafts, kept ones, our own pages; the log and a lock are not named', async () => {
  const out = await folderWith(
    ...['T-1/manifest.json', 'drafts/T-1/manifest.json', 'earlier-reports/T-1-1/manifest.json'],
    ...['issued.jsonl', 'register.html', 'changes.pdf', '.waysheet-batch.lock'],
  );
  expect(await listOutput(out)).toEqual({
    reports: ['T-1', 'drafts/T-1', 'earlier-reports/T-1-1'],
    pages: ['changes.pdf', 'register.html'],
    others: [],
  });
});

test('an empty hidden file says nothing; one that holds something is named', async () => {
  const out = await folderWith('.keep');
  expect((await listOutput(out)).others).toEqual([]);
  await writeFile(join(out, '.keep'), 'conforms');
  expect((await listOutput(out)).others).toEqual([{ path: '.keep', what: 'file' }]);
});

test('what hides under the name of a lock, or where a watch unpacks, is named', async () => {
  const out = await folderWith('.waysheet-batch.lock', '.waysheet-watch/certificate.pdf');
  await writeFile(join(out, '.waysheet-batch.lock'), 'x'.repeat(2000));
  expect((await listOutput(out)).others).toEqual([
    { path: '.waysheet-batch.lock', what: 'file' },
    { path: '.waysheet-watch', what: 'nested-folder' },
  ]);
});

test.each([
  ['report.pdf', 'report.pdf', 'loose-pdf'],
  ['drafts/other.pdf', 'drafts/other.pdf', 'loose-pdf'],
  ['T-2/report.html', 'T-2', 'report-without-manifest'],
  ['drafts/T-2/results.json', 'drafts/T-2', 'report-without-manifest'],
  ['2025/T-2/manifest.json', '2025', 'nested-folder'],
  ['a/b/c/report.pdf', 'a', 'nested-folder'],
  ['notes/letter.txt', 'notes', 'folder'],
  ['letter.txt', 'letter.txt', 'file'],
  ['.waysheet-x.pdf', '.waysheet-x.pdf', 'loose-pdf'],
  ['T-2/issued.jsonl', 'T-2', 'nested-folder'],
])('%s is named', async (path, named, what) => {
  const { others } = await listOutput(await folderWith('T-1/manifest.json', path));
  expect(others).toEqual([{ path: named, what }]);
});

test.runIf(process.platform !== 'win32')(
  'a link and a pipe are named; a pipe as the log is not opened',
  async () => {
    const out = await folderWith('T-1/manifest.json');
    await symlink(join(out, 'T-1'), join(out, 'T-2'));
    execFileSync('mkfifo', [join(out, 'issued.jsonl')]);
    const { others, reports } = await listOutput(out);
    expect(reports).toEqual(['T-1']);
    expect(others).toEqual([{ path: 'T-2', what: 'no-regular-file' }]);
    expect(readLog(out).troubles).toMatchObject([{ words: expect.stringMatching(/not a regular file/) }]);
  },
);
