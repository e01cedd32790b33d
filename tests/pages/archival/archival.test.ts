/**
 * Every printed page of ours against veraPDF, an independent validator: PDF/A-3 level A (ISO 19005-3) and PDF/UA-1
 * (ISO 14289-1). It is a Java library and is fetched by Maven; where either cannot be had, the test says that it is skipped.
 */
import { execFile, execFileSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { cp } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { waysheet } from '../../support/command.js';
import { changeJob, root, temporary } from '../../support/folders.js';
import { withArtifacts } from '../../../src/pages/report/pdf-file/archival.js';

const here = join(root, 'tests/pages/archival');
/** Kept between runs, which the temporary folder is not: its version is in the name. */
const library = join(root, 'node_modules/.cache/waysheet-tests-verapdf-1.26.1');

function run(file: string, ...args: string[]): Promise<string> {
  return new Promise((resolve, reject) => {
    execFile(file, args, { maxBuffer: 1e8, timeout: 300_000 }, (error, out) =>
      error === null ? resolve(out) : reject(error),
    );
  });
}

async function made(...args: string[]): Promise<void> {
  const { status, err } = await waysheet(...args);
  if (status !== 0) throw new Error(err);
}

/** @returns Why not; null: it is there. */
async function fetchValidator(): Promise<string | null> {
  const jars = () =>
    existsSync(library) ? readdirSync(library).filter((name) => name.endsWith('.jar')) : [];
  try {
    await run('java', '-version');
    if (jars().length < 10)
      await run(
        'mvn',
        '-q',
        '-B',
        '-f',
        join(here, 'pom.xml'),
        'dependency:copy-dependencies',
        `-DoutputDirectory=${library}`,
      );
    return jars().length < 10 ? 'Maven brought no veraPDF' : null;
  } catch (error) {
    return `Java and Maven with a registry are not to be had: ${(error as Error).message.split('\n')[0]}`;
  }
}

let missing: string | null;
let pdfs: string[];

beforeAll(async () => {
  missing = await fetchValidator();
  if (missing !== null) return console.log(`veraPDF skipped: ${missing}`);
  const place = await temporary();
  const [jobs, out] = [join(place, 'jobs'), join(place, 'out')];
  await cp(join(root, 'samples'), jobs, { recursive: true });
  const changed = ['TH-3318', 'TH-0412'];
  for (const id of changed) await cp(join(jobs, id), join(place, 'first', id), { recursive: true });
  await made('batch', join(place, 'first'), '--out', join(place, 'before'), '--no-pdf');
  await changeJob(join(jobs, 'TH-3318'), (job) => (job.report = { ...job.report, paper: 'Letter' }));
  await changeJob(join(jobs, 'TH-0412'), (job) => (job.decision = { rule: 'guarded', coverage: 0.99 }));
  await made('batch', jobs, '--out', out, '--against', join(place, 'before'));
  const draft = join(place, 'draft.pdf');
  await cp(join(out, 'TH-0412/report.pdf'), draft);
  const certificate: string[] = [];
  try {
    const [key, crt] = [join(place, 'key.pem'), join(place, 'crt.pem')];
    execFileSync(
      'openssl',
      [
        'req',
        '-x509',
        '-newkey',
        'rsa:2048',
        '-nodes',
        '-days',
        '36500',
        '-subj',
        '/CN=Office (invented)',
        '-keyout',
        key,
        '-out',
        crt,
      ],
      { stdio: 'ignore' },
    );
    certificate.push('--certificate', crt, '--certificate-key', key);
  } catch {
    // Without openssl the issued report is validated unsigned.
  }
  const by = ['--by', 'O. Tressel', '--without', 'approver', '--on', '2027-09-01'];
  await made('issue', join(out, 'TH-0412'), ...by, ...certificate);
  await made('new', join(place, 'new'), '--rails', '2', '--length', '10000', '--units', 'mm');
  pdfs = [
    draft,
    join(place, 'new/field-sheet.pdf'),
    ...['register.pdf', 'changes.pdf'].map((name) => join(out, name)),
    ...readdirSync(jobs)
      .filter((id) => existsSync(join(out, id, 'report.pdf')))
      .map((id) => join(out, id, 'report.pdf')),
    join(out, 'TH-4520/corrections.pdf'),
  ];
}, 300_000);

test('reports (drafts, issued, A4, Letter), sheets, register, changes: PDF/A-3a and PDF/UA-1', async () => {
  if (missing !== null) return expect(missing).toMatch(/./);
  expect(pdfs.length).toBeGreaterThanOrEqual(10);
  // A process that lives for seconds: its second compiler costs more than it brings.
  const quick = ['-XX:TieredStopAtLevel=1', '-XX:+UseSerialGC'];
  const validate = [...quick, '-cp', join(library, '*'), join(here, 'Validate.java')];
  const said = await run('java', ...validate, '3a,ua1', ...pdfs);
  for (const flavour of ['3a', 'ua1'])
    expect(said.match(new RegExp(`: conforms to ${flavour}$`, 'gm'))).toHaveLength(pdfs.length);
  expect(said).not.toMatch(/does not conform/);
}, 300_000);

describe('what a page draws outside its tags', () => {
  test.each([
    ['text', 'BT\n/F4 9 Tf\n<00c9> Tj\nET', '/Artifact BMC\nBT\n/F4 9 Tf\n<00c9> Tj\nET\nEMC'],
    ['a shape', 'q\n0 0 10 10 re\nf\nQ', 'q\n/Artifact BMC\n0 0 10 10 re\nf\nEMC\nQ'],
    ['a line of several pieces', '0 0 m\n0 4 l\nS', '/Artifact BMC\n0 0 m\n0 4 l\nS\nEMC'],
    ['a clipping shows nothing', '0 0 9 9 re\nW* n', '0 0 9 9 re\nW* n'],
    [
      'what is tagged stays',
      '/P <</MCID 0 >>BDC\nBT\n<01> Tj\nET\nEMC',
      '/P <</MCID 0 >>BDC\nBT\n<01> Tj\nET\nEMC',
    ],
  ])('%s', (_, drawing, marked) => expect(withArtifacts(drawing)).toBe(marked));

  test.each([
    ['a picture outside the tags', '/X1 Do'],
    ['text without an end', 'BT\n<01> Tj'],
    ['an end without a beginning', 'EMC'],
    ['a path that is broken off', '0 0 m\nq'],
  ])('%s is not known: nothing is claimed', (_, drawing) => expect(withArtifacts(drawing)).toBeNull());
});
