/** A report of other inputs is kept when a new one takes its place; one of the same inputs is made again. */
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { reportOne } from '../../src/cli/report-one.js';
import { changeRows, copyOf, temporary } from '../support/folders.js';

const report = (folder: string, out: string) =>
  reportOne(folder, { out, pdf: false, given: null, brand: null, limit: 300, calledAs: 'waysheet' }, () =>
    Promise.reject(new Error('no PDF was asked for')),
  );

test('a changed reading: the earlier report stays, with all that lay in it, and is named', async () => {
  const folder = await copyOf('TH-0412');
  const out = await temporary();
  expect((await report(folder, out)).outcome.kept).toBeNull();
  const first = await readFile(join(out, 'TH-0412/manifest.json'), 'utf8');
  await writeFile(join(out, 'TH-0412/signed.pdf'), 'signed');

  // The same inputs: made again, and what lay beside it is carried over.
  expect((await report(folder, out)).outcome.kept).toBeNull();
  expect(await readdir(out)).toEqual(['TH-0412']);
  expect(await readdir(join(out, 'TH-0412'))).toContain('signed.pdf');

  const [file] = await readdir(join(folder, 'readings'));
  await changeRows(folder, `readings/${file}`, (header, rows) => {
    const note = header.indexOf('note');
    return rows.map((cells, k) => (k === 0 ? cells.with(note, 'looked at again') : cells));
  });
  const { outcome, out: said } = await report(folder, out);
  const kept = join(out, 'earlier-reports/TH-0412-1');
  expect(outcome.kept).toBe(kept);
  expect(said).toContain(`the earlier report, of other inputs, is kept as ${kept}`);
  expect(await readFile(join(kept, 'manifest.json'), 'utf8')).toBe(first);
  expect(await readFile(join(kept, 'signed.pdf'), 'utf8')).toBe('signed');
  expect(await readdir(join(out, 'TH-0412'))).not.toContain('signed.pdf');
  expect(await readFile(join(out, 'TH-0412/manifest.json'), 'utf8')).not.toBe(first);
});
