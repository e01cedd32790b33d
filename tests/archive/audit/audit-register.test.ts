/** The register of an output folder is made again from its reports; what does not follow from them is named. */
import { cp, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { auditRegister } from '../../../src/archive/audit/audit-register.js';
import { sample, temporary } from '../../support/folders.js';
import { waysheet } from '../../support/command.js';

let out: string;

beforeAll(async () => {
  const jobs = await temporary();
  for (const id of ['TH-0412', 'TH-1175']) await cp(sample(id), join(jobs, id), { recursive: true });
  out = await temporary();
  expect(await waysheet('batch', jobs, '--out', out, '--no-pdf')).toMatchObject({ status: 0 });
});

async function said(change: (folder: string) => Promise<unknown>): Promise<string> {
  const copy = join(await temporary(), 'out');
  await cp(out, copy, { recursive: true });
  await change(copy);
  const { differences, notCompared } = await auditRegister(copy, null);
  return [
    ...differences.map((what) => `differs: ${what}`),
    ...notCompared.map(({ what, why }) => `not compared: ${what}: ${why}`),
  ].join('\n');
}
const replaced = (name: string, old: string | RegExp, by: string) => async (folder: string) => {
  const text = await readFile(join(folder, name), 'utf8');
  const other = text.replace(old, by);
  expect(other).not.toBe(text);
  await writeFile(join(folder, name), other);
};

test('what nobody touched', async () => {
  expect(await said(() => Promise.resolve())).toBe('');
});

test.each([
  [
    'a verdict',
    replaced('register.json', /"verdict":"[\w-]+","worst"/, '"verdict":"reported","worst"'),
    /differs: register\.json: it says otherwise of TH-0412 than its report: verdict/,
  ],
  ['a figure', replaced('register.json', /"value":[\d.]+/, '"value":1'), /than its report: worst/],
  [
    'a count',
    replaced('register.json', '"refused": 0', '"refused": 1'),
    /differs: register\.json: its counts/,
  ],
  [
    'the table',
    replaced('register.csv', 'TH-0412', 'TH-0413'),
    /differs: register\.csv is not what register\.json makes/,
  ],
  [
    'the page',
    replaced('register.html', 'Bellbrook', 'Bellbrock'),
    /differs: register\.html is not what register\.json makes/,
  ],
  [
    'another state of a report',
    replaced('register.json', /"key":"\w{4}/, '"key":"0000'),
    /not compared: register\.json: TH-0412: its report was issued, withdrawn or made again since/,
  ],
  [
    'of another version',
    replaced('register.json', /"version": "[\d.]+"/, '"version": "9.9.9"'),
    /not compared: register\.json: it was made by version 9\.9\.9/,
  ],
  [
    'no register at all',
    replaced('register.json', '{', '['),
    /not compared: register\.json: this version cannot read it/,
  ],
  [
    'a report that it does not list',
    (folder: string) => cp(join(folder, 'TH-0412'), join(folder, 'TH-9999'), { recursive: true }),
    /not compared: register\.json: TH-9999: it does not list this report/,
  ],
  [
    'a report that is not there',
    (folder: string) => rm(join(folder, 'TH-1175'), { recursive: true }),
    /not compared: register\.json: TH-1175: its report cannot be read/,
  ],
  [
    'pages of changes',
    (folder: string) => writeFile(join(folder, 'changes.pdf'), 'The rails conform'),
    /not compared: changes\.pdf: they compare with the reports of another folder/,
  ],
  [
    'pages without a register',
    (folder: string) => rm(join(folder, 'register.json')),
    /not compared: register\.csv, register\.html: no register\.json follows/,
  ],
])('%s', async (_, change, named) => {
  expect(await said(change)).toMatch(named);
});

test('jobs without a report and a run with --no-register: waived by name, all else is proven', async () => {
  const jobs = await temporary();
  await cp(sample('TH-0412'), join(jobs, 'TH-0412'), { recursive: true });
  await mkdir(join(jobs, 'broken'));
  await writeFile(join(jobs, 'broken/job.json'), '{}');
  const place = await temporary();
  await waysheet('batch', jobs, '--out', place, '--no-pdf');
  const audited = (...more: string[]) =>
    waysheet('audit', place, '--no-print', '--job', join(jobs, 'TH-0412'), ...more);
  const asked = await audited();
  expect(asked).toMatchObject({ status: 5 });
  expect(asked.out).toMatch(/not compared: register\.json: jobs without a report \(1\)/);
  const waived = await audited('--no-register');
  expect(waived, waived.out).toMatchObject({ status: 0 });
  expect(waived.out).toMatch(
    /not compared: register and changes: they were not asked about \(--no-register\)/,
  );
});

test('what-if reports: the mark is that of their set; jobs without a report are named', async () => {
  const [jobs, whatIf] = [await temporary(), await temporary()];
  await cp(sample('TH-0412'), join(jobs, 'TH-0412'), { recursive: true });
  await mkdir(join(jobs, 'broken'));
  await writeFile(join(jobs, 'broken/job.json'), '{}');
  const set = join(jobs, 'set.json');
  const tolerances = [{ what: 'straightness-vertical', rail: 'A', limit: 40, unit: 'um' }];
  await writeFile(set, JSON.stringify({ name: 'Stricter', source: 'a trial', tolerances }));
  await waysheet('batch', jobs, '--out', whatIf, '--no-pdf', '--tolerances', set);
  out = whatIf;
  expect(await said(() => Promise.resolve())).toMatch(
    /^not compared: register\.json: jobs without a report \(1\): [^\n]*$/,
  );
  expect(await said(replaced('what-if.json', 'Stricter', 'Milder'))).toMatch(
    /differs: what-if\.json names another tolerance set/,
  );
});
