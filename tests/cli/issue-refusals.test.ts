/** What issue refuses, and what it says on the report and in the log where it does not; two runs at the same time; time stamps. */
import { cp, readFile, rm, writeFile } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readReportPdf } from '../../src/pages/report/pdf-file/read-report-pdf.js';
import { checkSignature } from '../../src/archive/signature/check-signature.js';
import { trustIn } from '../../src/archive/signing.js';
import { changeJob, copyOf, temporary } from '../support/folders.js';
import { waysheet, waysheetProcess } from '../support/command.js';
import {
  hasOpenssl,
  needs,
  newOffice,
  pem,
  stampingService,
  type Office,
  type StampingService,
} from '../support/office.js';

let drafts: string;

beforeAll(async () => {
  drafts = await temporary();
  expect(await waysheet('report', await copyOf('TH-0412'), '--out', drafts)).toMatchObject({ status: 0 });
});

const draft = async (): Promise<string> => {
  const out = join(await temporary(), 'out');
  await cp(drafts, out, { recursive: true });
  return join(out, 'TH-0412');
};
const log = (folder: string) => join(folder, '../issued.jsonl');
const issue = (folder: string, ...args: string[]) => waysheet('issue', folder, '--by', 'O. Tressel', ...args);
const approver = ['--without', 'approver'];

test('a report that nobody approved is refused, unless that is named; then report and log say it', async () => {
  const folder = await draft();
  const refused = await issue(folder);
  expect(refused).toMatchObject({ status: 3 });
  expect(refused.err).toMatch(/who approved the report.*--without approver/s);
  expect(existsSync(log(folder))).toBe(false);
  expect(await issue(folder, ...approver)).toMatchObject({ status: 0 });
  expect(JSON.parse(await readFile(log(folder), 'utf8'))).toMatchObject({ without: ['approver'] });
  expect(await readFile(join(folder, 'report.html'), 'utf8')).toMatch(/nobody is recorded who approved it/);
  // Withdrawn, and then another: the withdrawn one is kept.
  const because = ['--withdraw', '--because', 'The wrong target'];
  expect(await issue(folder, ...because)).toMatchObject({ status: 0 });
  await waysheet('report', await copyOf('TH-0412'), '--out', join(folder, '..'));
  const next = join(folder, '../drafts/TH-0412');
  expect(await issue(next, ...approver)).toMatchObject({ status: 0 });
  expect(existsSync(join(folder, '../earlier-reports/TH-0412-1/manifest.json'))).toBe(true);
  expect(await readFile(join(folder, 'report.html'), 'utf8')).toMatch(/TH-0412-2/);
}, 300_000);

test('a draft that was kept gives up the name that is now the number of a report', async () => {
  const [job, out] = [await copyOf('TH-0412'), await temporary()];
  const report = async (title: string) => {
    await changeJob(job, (j) => (j.title = title));
    expect(await waysheet('report', job, '--out', out)).toMatchObject({ status: 0 });
  };
  await report('one');
  await report('two');
  const kept = (name: string) => readFile(join(out, 'earlier-reports', name, 'results.json'), 'utf8');
  expect(await kept('TH-0412-1')).toMatch(/"title": "one"/);
  expect(await issue(join(out, 'TH-0412'), ...approver)).toMatchObject({ status: 0 });
  await report('three');
  const amends = ['--amends', 'TH-0412-1', '--because', 'The title'];
  expect(await issue(join(out, 'drafts/TH-0412'), ...approver, ...amends)).toMatchObject({ status: 0 });
  expect(await kept('TH-0412-1')).toMatch(/"title": "two"/);
  expect(await kept('TH-0412-2')).toMatch(/"title": "one"/);
  expect(await waysheet('audit', out, '--no-print')).toMatchObject({ status: 0 });
}, 300_000);

test('an instrument without a due date of its calibration is refused by name', async () => {
  const job = await copyOf('TH-0412');
  await changeJob(job, (j) => {
    j.approved = { by: 'A. Vell', on: '2026-09-01' };
    delete j.instruments[0].calibrationDue;
  });
  const out = await temporary();
  await waysheet('report', job, '--out', out, '--no-pdf');
  const refused = await issue(join(out, 'TH-0412'), '--job', job);
  expect(refused).toMatchObject({ status: 3 });
  expect(refused.err).toMatch(/calibration due date of .*--without traceability/s);
  expect((await issue(join(out, 'TH-0412'), '--without', 'tracability')).status).toBe(2);
});

test('a forged draft that says that it was issued is not finished: it does not pass its audit', async () => {
  const folder = await draft();
  const results = JSON.parse(await readFile(join(folder, 'results.json'), 'utf8'));
  results.issue = { number: 'TH-0412-1', on: '2026-09-01', by: 'O. Tressel', without: ['approver'] };
  await writeFile(join(folder, 'results.json'), `${JSON.stringify(results, null, 2)}\n`);
  await writeFile(join(folder, 'report.pdf'), 'rubbish');
  const refused = await issue(folder, ...approver);
  expect([3, 4]).toContain(refused.status);
  expect(refused.err).toMatch(/nothing was issued/);
  expect(existsSync(log(folder))).toBe(false);
  const other = await waysheet('issue', folder, '--by', 'N. Obody', ...approver);
  expect(other.err).toMatch(/--by says N\. Obody, the report says O\. Tressel/);
});

test('issued twice at the same time: one report, one line, and the other run says why not', async () => {
  const folder = await draft();
  const words = ['issue', folder, '--by', 'O. Tressel', ...approver];
  const ran = await Promise.all([waysheetProcess(words), waysheetProcess(words)]);
  expect(ran.map(({ status }) => status).sort()).toEqual([0, 3]);
  expect((await readFile(log(folder), 'utf8')).trimEnd().split('\n')).toHaveLength(1);
}, 300_000);

test('amended and withdrawn at the same time: the log stays whole, and whoever is too late is told why', async () => {
  const folder = await draft();
  expect(await issue(folder, ...approver)).toMatchObject({ status: 0 });
  const out = join(folder, '..');
  await waysheet('report', await copyOf('TH-0412'), '--out', out);
  const because = ['--because', 'The wrong target'];
  for (let round = 0; round < 2; round++) {
    const place = join(await temporary(), 'out');
    await cp(out, place, { recursive: true });
    const number = 'TH-0412-1';
    const ran = await Promise.all([
      issue(join(place, 'drafts/TH-0412'), ...approver, '--amends', number, ...because),
      issue(join(place, 'TH-0412'), '--withdraw', '--number', number, ...because),
      issue(join(place, 'TH-0412'), '--withdraw', '--number', number, ...because),
    ]);
    expect(ran.filter(({ status }) => status === 0)).toHaveLength(1);
    for (const { status, err } of ran.filter((one) => one.status !== 0)) {
      expect(status).toBe(3);
      expect(err).toMatch(
        /nothing was issued: .*(?:is in use by another issue|was withdrawn before|was amended before|this is report TH-0412-2, not TH-0412-1|there is no issued report)/s,
      );
    }
    const lines = (await readFile(join(place, 'issued.jsonl'), 'utf8')).trimEnd().split('\n');
    expect(lines.map((line) => JSON.parse(line).act)).toEqual([
      'issued',
      expect.stringMatching(/^(?:amended|withdrawn)$/),
    ]);
    const audited = await waysheet('audit', place, '--no-print');
    expect(audited.status, audited.out).toBe(0);
  }
}, 300_000);

describe.runIf(hasOpenssl)(`with a time stamp${needs('openssl', hasOpenssl)}`, () => {
  let office: Office;
  let service: StampingService;
  beforeAll(async () => {
    office = await newOffice();
    service = await stampingService(office);
  });
  afterAll(() => service.close());

  const stamped = (folder: string, url: string) =>
    issue(
      ...([folder, ...approver, '--timestamp', url, '--json'] as const),
      ...['--certificate', office.at('office.crt'), '--certificate-key', office.at('office.key')],
    );

  test('of a service that answers, of one that lies, of one that nobody reaches', async () => {
    const folder = await draft();
    service.answer = () => Buffer.from('hello');
    const lied = await stamped(folder, service.url);
    expect(lied).toMatchObject({ status: 3 });
    expect(lied.err).toMatch(/no response of RFC 3161/);
    expect(existsSync(log(folder))).toBe(false);
    service.answer = null;
    const ran = await stamped(folder, service.url);
    expect(ran).toMatchObject({ status: 0 });
    const { stampedAt } = JSON.parse(ran.out);
    expect(stampedAt).toMatch(/^\d{4}-/);
    const trusted = await temporary();
    await cp(office.at('ca.crt'), join(trusted, 'ca.crt'));
    const { issue: facts } = JSON.parse(await readFile(join(folder, 'results.json'), 'utf8'));
    const whole = await readFile(join(folder, 'report.pdf'));
    const { printed } = readReportPdf(whole);
    const checked = await checkSignature({ whole, printed }, facts, (await trustIn(trusted)).certificates);
    expect(checked.map(({ state }) => state)).toEqual(Array(5).fill('verified'));
    const alone = await draft();
    await rm(log(alone), { force: true });
    const unreached = await stamped(alone, 'http://127.0.0.1:9/');
    expect(unreached).toMatchObject({ status: 0 });
    expect(unreached.err).toMatch(/has no time stamp: .*cannot be reached/);
  }, 300_000);

  test('certificates in the wrong order, and one that is not there, are refused', async () => {
    const folder = await draft();
    const wrong = join(folder, '../wrong.crt');
    await writeFile(wrong, `${pem(office, 'ca.crt')}${pem(office, 'office.crt')}`);
    for (const [file, named] of [
      [wrong, /each certificate must be followed by the one that issued it/],
      [join(folder, '../none.crt'), /no such file/],
    ] as const) {
      const certified = ['--certificate', file, '--certificate-key', office.at('office.key')];
      const ran = await issue(folder, ...approver, ...certified);
      expect(ran).toMatchObject({ status: 3 });
      expect(ran.err).toMatch(named);
      expect(existsSync(log(folder))).toBe(false);
    }
  });

  test('without a certificate there is nothing to stamp', async () => {
    expect((await issue('x', '--timestamp', service.url)).status).toBe(2);
  });
});
