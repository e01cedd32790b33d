/** A report's way from draft to issued, amended and withdrawn, as an office goes it; and what a forger of the log may try. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cp, mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { trustIn } from '../../src/archive/signing.js';
import { auditArchive } from '../../src/archive/audit/audit-log.js';
import { changeJob, copyOf, root, temporary } from '../support/folders.js';
import { waysheet } from '../support/command.js';

const openssl = (...args: string[]) => execFileSync('openssl', args, { stdio: ['ignore', 'pipe', 'ignore'] });
const hasOpenssl = (() => {
  try {
    openssl('version');
    return true;
  } catch {
    return false;
  }
})();

/** The samples name nobody who approved them. */
const office = ['--by', 'O. Tressel', '--without', 'approver'];

/** Two reports issued, one of them amended; signed where openssl made a key. */
let archive: string;
let keys: string;
let head: string;

beforeAll(async () => {
  archive = await temporary();
  keys = await temporary();
  await mkdir(join(keys, 'public'));
  const key: string[] = [];
  if (hasOpenssl) {
    // An independent tool makes the key, so that ours are not only ours to read.
    openssl('genpkey', '-algorithm', 'ed25519', '-out', join(keys, 'office.pem'));
    openssl('pkey', '-in', join(keys, 'office.pem'), '-pubout', '-out', join(keys, 'public/office.pem'));
    key.push('--key', join(keys, 'office.pem'));
  }
  const [one, other] = [await copyOf('TH-0412'), await copyOf('TH-1175')];
  await waysheet('report', one, other, '--out', archive);
  const issue = (...args: string[]) => waysheet('issue', ...args, ...office, '--on', '2026-09-01', ...key);
  const first = await issue(join(archive, 'TH-0412'));
  expect(first).toMatchObject({ status: 0 });
  expect(first.err).toMatch(/not recorded in job\.json.*contacts\.issuer/);
  expect(await issue(join(archive, 'TH-1175'))).toMatchObject({ status: 0 });
  await changeJob(one, (job) => (job.customer = 'Bellbrook Gear Works (invented), second plant'));
  await waysheet('report', one, '--out', archive);
  const amended = await issue(
    join(archive, 'drafts/TH-0412'),
    '--amends',
    'TH-0412-1',
    '--because',
    'The customer was named wrongly',
  );
  expect(amended).toMatchObject({ status: 0 });
  head = /SHA-256 ([0-9a-f]{64})/.exec(amended.out)![1]!;
}, 300_000);

const copyOfArchive = async (): Promise<string> => {
  const out = join(await temporary(), 'out');
  await cp(archive, out, { recursive: true });
  return out;
};

const audit = (out: string, ...more: string[]) =>
  waysheet('audit', out, '--no-print', ...(hasOpenssl ? ['--trust', join(keys, 'public')] : []), ...more);

describe('issued', () => {
  test('the archive stands: log, reports, the amended one, signatures, the last hash', async () => {
    const ran = await waysheet(
      'audit',
      archive,
      '--head',
      head,
      ...(hasOpenssl ? ['--trust', join(keys, 'public')] : []),
    );
    expect(ran.status).toBe(0);
    expect(ran.out).toMatch(/3 lines, the last has the SHA-256 [0-9a-f]{64}\. Proven: every line/);
    expect(ran.out).toMatch(/report TH-0412-2 of TH-0412, .*state: in force since 2026-09-01/);
    expect(ran.out).toMatch(
      /earlier-reports\/TH-0412-1: report TH-0412-1 .*state: amended on 2026-09-01 by report TH-0412-2/,
    );
    if (hasOpenssl) expect(ran.out.match(/signed by office/g)).toHaveLength(3);
  });

  test('its number, day, who issued it and what it amends stand on its pages; a draft says that it is one', async () => {
    const page = async (path: string) =>
      (await readFile(join(archive, path, 'report.html'), 'utf8')).replace(/base64,[\w+/=]+/g, '');
    const amended = await page('TH-0412');
    expect(amended).toMatch(/TH-0412-2/);
    expect(amended).toMatch(/Issued 2026-09-01 by O\. Tressel/);
    expect(amended).toMatch(/takes the place of report TH-0412-1, because: The customer was named wrongly/);
    expect(amended).not.toMatch(/draft, not approved"|Draft:/);
    const out = await temporary();
    await waysheet('report', await copyOf('TH-0412'), '--out', out, '--no-pdf');
    const draft = await readFile(join(out, 'TH-0412/report.html'), 'utf8');
    expect(draft).toMatch(/@top-left \{ content: "Acceptance report TH-0412[^"]*draft, not approved"/);
    expect(draft).toMatch(/Draft: not issued/);
  });

  test('an issued report is never written over, by report or by batch', async () => {
    const out = await copyOfArchive();
    const before = await readFile(join(out, 'TH-1175/report.pdf'));
    const jobs = await temporary();
    const job = join(jobs, 'TH-1175');
    await cp(join(root, 'samples/TH-1175'), job, { recursive: true });
    await changeJob(job, (j) => (j.title = 'Another title'));
    const ran = await waysheet('report', job, '--out', out, '--no-pdf');
    expect(ran.out).toMatch(/stays as it is; this is a draft next to it/);
    expect((await waysheet('batch', jobs, '--out', out, '--no-pdf')).status).toBe(0);
    expect(await readFile(join(out, 'TH-1175/report.pdf'))).toEqual(before);
    expect(existsSync(join(out, 'drafts/TH-1175/report.html'))).toBe(true);
    const register = JSON.parse(await readFile(join(out, 'register.json'), 'utf8'));
    expect(register.jobs[0].links.html).toBe('drafts/TH-1175/report.html');
    expect(register.jobs[0].issue).toBeUndefined();
    // The draft has no PDF that would carry its inputs: it is not said to differ.
    const ran2 = await audit(out);
    expect(ran2.status).toBe(5);
    expect(ran2.out).toMatch(/4 reports: 3 proven, 1 not compared/);
  });

  test.each([
    [['TH-0412'], /this is report TH-0412-2, issued on 2026-09-01/],
    [['TH-0412', '--amends', 'TH-0412-1', '--because', 'x'], /this is report TH-0412-2/],
  ])('%j is refused, and nothing is written', async ([job, ...args], reason) => {
    const out = await copyOfArchive();
    const log = await readFile(join(out, 'issued.jsonl'), 'utf8');
    const ran = await waysheet('issue', join(out, job!), ...office, ...args);
    expect(ran.status).toBe(3);
    expect(ran.err).toMatch(reason);
    expect(await readFile(join(out, 'issued.jsonl'), 'utf8')).toBe(log);
  });

  test('a draft of a job that has an issued report says what it amends, why, and which', async () => {
    const out = await copyOfArchive();
    await waysheet('report', await copyOf('TH-1175'), '--out', out);
    const draft = join(out, 'drafts/TH-1175');
    const issue = (...args: string[]) => waysheet('issue', draft, ...office, ...args);
    expect((await issue()).err).toMatch(/with --amends TH-1175-1 --because/);
    expect((await issue('--amends', 'TH-0412-1', '--because', 'x')).err).toMatch(
      /is TH-1175-1, not TH-0412-1/,
    );
    expect((await issue('--amends', 'TH-1175-1')).err).toMatch(/say why with --because/);
    const taken = await issue('--amends', 'TH-1175-1', '--because', 'x', '--number', 'TH-0412-1');
    expect(taken.err).toMatch(/TH-0412-1 is taken/);
  });

  test('a draft that was changed by hand is not issued', async () => {
    const out = await temporary();
    await waysheet('report', await copyOf('TH-0412'), '--out', out);
    const path = join(out, 'TH-0412/report.html');
    await writeFile(path, (await readFile(path, 'utf8')).replace('conform', 'confirm'));
    const ran = await waysheet('issue', join(out, 'TH-0412'), ...office);
    expect(ran.status).toBe(4);
    expect(ran.err).toMatch(/report\.html is not the file that was issued/);
    expect(existsSync(join(out, 'issued.jsonl'))).toBe(false);
  });

  test('withdrawn: the log and the register say so', async () => {
    const out = await copyOfArchive();
    const jobs = await temporary();
    await cp(join(root, 'samples/TH-1175'), join(jobs, 'TH-1175'), { recursive: true });
    const key = hasOpenssl ? ['--key', join(keys, 'office.pem')] : [];
    const withdraw = (...args: string[]) =>
      waysheet('issue', join(out, 'TH-1175'), '--by', 'me', ...key, ...args);
    expect((await withdraw('--withdraw')).status).toBe(2);
    expect(await withdraw('--withdraw', '--because', 'The machine was moved')).toMatchObject({ status: 0 });
    expect((await withdraw('--withdraw', '--because', 'again')).err).toMatch(/was withdrawn before/);
    expect((await audit(out)).status).toBe(0);
    await waysheet('batch', jobs, '--out', out, '--no-pdf');
    expect(existsSync(join(out, 'drafts/TH-1175'))).toBe(false);
    expect(await readFile(join(out, 'register.html'), 'utf8')).toMatch(/withdrawn: TH-1175-1/);
  });

  test('a run that was cut off before the log is finished by the next', async () => {
    const out = await copyOfArchive();
    const path = join(out, 'issued.jsonl');
    const lines = (await readFile(path, 'utf8')).trimEnd().split('\n');
    await writeFile(path, `${lines.slice(0, 2).join('\n')}\n`);
    expect(await troublesOf(out)).toMatch(/says that it is report TH-0412-2, which the log does not know/);
    const again = (...args: string[]) => waysheet('issue', join(out, 'TH-0412'), ...args);
    const amends = ['--amends', 'TH-0412-1', '--because', 'The customer was named wrongly'];
    const key = hasOpenssl ? ['--key', join(keys, 'office.pem')] : [];
    const before = await readFile(path, 'utf8');
    for (const [args, reason] of [
      [[...office, ...key], /--amends is not given, the report says TH-0412-1/],
      [
        ['--by', 'N. Obody', '--without', 'approver', ...amends, ...key],
        /--by says N\. Obody, the report says O\. Tressel/,
      ],
      [
        [...office, ...amends, ...key, '--on', '2026-09-02'],
        /--on says 2026-09-02, the report says 2026-09-01/,
      ],
      [
        [...office, ...amends, ...key, '--number', 'TH-0412-3'],
        /--number says TH-0412-3, the report says TH-0412-2/,
      ],
      ...(hasOpenssl ? [[[...office, ...amends], /its manifest is signed: name the key/]] : []),
    ] as [string[], RegExp][]) {
      const refused = await again(...args);
      expect(refused).toMatchObject({ status: 3 });
      expect(refused.err).toMatch(reason);
      expect(await readFile(path, 'utf8')).toBe(before);
    }
    expect(await again(...office, ...amends, ...key)).toMatchObject({ status: 0 });
    expect(await readFile(path, 'utf8')).toBe(await readFile(join(archive, 'issued.jsonl'), 'utf8'));
    expect((await audit(out)).status).toBe(0);
  });
});

test('an amended report in two languages, cut off before the log, is finished with what it says', async () => {
  const [job, out] = [await copyOf('TH-0412'), join(await temporary(), 'out')];
  const issue = (folder: string, ...args: string[]) =>
    waysheet('issue', join(out, folder), ...office, '--job', job, '--on', '2026-09-01', ...args);
  await changeJob(job, (document) => (document.language = ['de', 'fr']));
  await waysheet('report', job, '--out', out, '--no-pdf');
  expect(await issue('TH-0412')).toMatchObject({ status: 0 });
  await changeJob(job, (document) =>
    document.tolerances.forEach((one: { limit: number }) => (one.limit *= 2)),
  );
  await waysheet('report', job, '--out', out, '--no-pdf');
  const amends = ['--amends', 'TH-0412-1', '--because', 'The drawing has other limits'];
  expect(await issue('drafts/TH-0412', ...amends)).toMatchObject({ status: 0 });
  // results.json has what changed as figures; the page says it in both languages.
  const { issue: issued } = JSON.parse(await readFile(join(out, 'TH-0412/results.json'), 'utf8'));
  expect(issued.amends.changes[0]).toMatchObject({ before: { limit: 12 }, after: { limit: 24 } });
  const page = (await readFile(join(out, 'TH-0412/report.html'), 'utf8')).replace(/<[^>]*>/g, ' ');
  expect(page).toMatch(/vorher [^;]*Grenze[^;]*; jetzt [^;]*Grenze/);
  const path = join(out, 'issued.jsonl');
  const log = await readFile(path, 'utf8');
  await writeFile(path, `${log.split('\n')[0]!}\n`);
  expect(await issue('TH-0412', ...amends)).toMatchObject({ status: 0 });
  expect(await readFile(path, 'utf8')).toBe(log);
});

const sha = (text: string) => createHash('sha256').update(text).digest('hex');

/** Renews number and hash of each line, as a forger does who knows the format. */
const chained = (lines: readonly string[]): string => {
  let previous = '';
  return lines
    .map((line, i) => {
      const text = JSON.stringify({ ...JSON.parse(line), line: i + 1, previous });
      previous = sha(text);
      return `${text}\n`;
    })
    .join('');
};

const troublesOf = async (out: string, noted: string | null = null): Promise<string> => {
  const trust = hasOpenssl ? await trustIn(join(keys, 'public')) : null;
  const { troubles } = await auditArchive(out, { head: noted, trust, day: null });
  return troubles.map(({ what }) => what).join('\n');
};

describe('the log forged', () => {
  const forgeries: [string, (lines: string[]) => string, RegExp][] = [
    ['a line taken out', (l) => `${[l[0], l[2]].join('\n')}\n`, /does not follow the line before/],
    [
      'two lines in another order',
      (l) => `${[l[1], l[0], l[2]].join('\n')}\n`,
      /does not follow the line before/,
    ],
    [
      'a word changed',
      (l) => `${l.join('\n').replace('O. Tressel', 'N. Obody')}\n`,
      /does not follow|signature is bad/,
    ],
    ['the last line cut', (l) => l.join('\n').slice(0, -20), /cut off|no entry/],
    ['no JSON', (l) => `${l[0]}\nnonsense\n`, /no entry that this version reads/],
    [
      'the first line taken out, all hashes renewed',
      (l) => chained(l.slice(1)),
      /signature is bad|which was never issued/,
    ],
    ['the last line taken out', (l) => `${l.slice(0, 2).join('\n')}\n`, /which the log does not know/],
    [
      'the name changed, all hashes renewed',
      (l) => chained(l.map((t) => t.replace('O. Tressel', 'N. Obody'))),
      /signature is bad|lines are missing/,
    ],
  ];
  test.each(forgeries)('%s', async (_, change, reason) => {
    const out = await copyOfArchive();
    const path = join(out, 'issued.jsonl');
    const lines = (await readFile(path, 'utf8')).trimEnd().split('\n');
    await writeFile(path, change(lines));
    expect(await troublesOf(out, head)).toMatch(reason);
  });

  test('a report that is missing; the amended one put back in its place', async () => {
    const missing = await copyOfArchive();
    await rm(join(missing, 'TH-1175'), { recursive: true });
    expect(await troublesOf(missing)).toMatch(/report TH-1175-1 is missing/);
    const back = await copyOfArchive();
    await rm(join(back, 'TH-0412'), { recursive: true });
    await rename(join(back, 'earlier-reports/TH-0412-1'), join(back, 'TH-0412'));
    const troubles = await troublesOf(back);
    expect(troubles).toMatch(/it is report TH-0412-1, which was amended/);
    expect(troubles).toMatch(/report TH-0412-2 is missing/);
    expect((await audit(back)).status).toBe(4);
  });

  test('its end cut off after a withdrawal: a noted hash tells; without one it is said that nothing tells', async () => {
    const out = await copyOfArchive();
    const path = join(out, 'issued.jsonl');
    const before = await readFile(path);
    const key = hasOpenssl ? ['--key', join(keys, 'office.pem')] : [];
    const because = ['--withdraw', '--because', 'The machine was moved'];
    const ran = await waysheet('issue', join(out, 'TH-1175'), '--by', 'me', ...because, ...key, '--json');
    const { head: noted } = JSON.parse(ran.out);
    const report = join(out, 'TH-1175');
    await writeFile(path, before);
    const cut = await audit(report, '--head', noted);
    expect(cut.status).toBe(4);
    expect(cut.out).toMatch(/differs: .*lines are missing, or it was written anew/);
    // A folder, and a PDF alone.
    const unnoted = await audit(report, join(report, 'report.pdf'), '--json');
    for (const { log } of JSON.parse(unnoted.out)) expect(log.proven).toMatch(/Not proven: .*--head HASH/);
  });

  test('a PDF alone: its state where its log is given; not known where none is', async () => {
    const alone = join(await temporary(), 'report.pdf');
    await cp(join(archive, 'earlier-reports/TH-0412-1/report.pdf'), alone);
    const asked = (...args: string[]) => waysheet('audit', alone, '--json', ...args);
    const log = ['--log', join(archive, 'issued.jsonl')];
    const state = async (...args: string[]) => {
      const ran = await asked(...args);
      const [entry] = JSON.parse(ran.out);
      return [ran.status, entry.state, entry.stateWords] as const;
    };
    expect(await state(...log)).toEqual([
      0,
      'amended',
      expect.stringMatching(/by report TH-0412-2, because: The customer was named wrongly/),
    ]);
    const unknown = expect.stringMatching(/whether it was amended or withdrawn since is not known/);
    expect(await state('--no-print')).toEqual([5, null, unknown]);
    expect(await state('--no-log', '--no-print')).toEqual([0, null, unknown]);
  });

  test('the log deleted: no report is said to be in force', async () => {
    const out = await copyOfArchive();
    await rm(join(out, 'issued.jsonl'));
    const ran = await audit(join(out, 'TH-1175'));
    expect(ran.status).toBe(5);
    expect(ran.out).toMatch(/not compared: its state: there is no issued\.jsonl/);
    expect(ran.out).toMatch(/Not proven: .*whether 1 report was amended or withdrawn since \(--log PATH\)/);
  });

  test('--json names report, job and number of what is wrong', async () => {
    const out = await copyOfArchive();
    await rename(join(out, 'TH-1175'), join(out, 'TH-9999'));
    await rm(join(out, 'earlier-reports'), { recursive: true });
    const entries = JSON.parse((await audit(out, '--json')).out) as Record<string, unknown>[];
    const of = (report: string) => entries.find((entry) => entry['report'] === join(out, report));
    expect(of('TH-9999')).toMatchObject({ job: 'TH-1175', number: 'TH-1175-1', vouched: 'differs' });
    expect(entries.find(({ number }) => number === 'TH-0412-1')).toMatchObject({
      ...{ job: 'TH-0412', vouched: 'differs' },
      differences: [{ what: expect.stringMatching(/report TH-0412-1 is missing/) }],
    });
  });
});

describe.runIf(hasOpenssl)('the PDF signed by the office’s certificate (PAdES baseline B)', () => {
  let place: string;
  let folder: string;
  const args = [...office, '--on', '2026-09-01'];
  const certified = () => [
    '--certificate',
    join(place, 'office.crt'),
    '--certificate-key',
    join(place, 'office.key'),
  ];

  beforeAll(async () => {
    place = await temporary();
    openssl(
      ...[
        'req',
        '-x509',
        '-newkey',
        'rsa:2048',
        '-nodes',
        '-days',
        '36500',
        '-subj',
        '/CN=Alignment office (invented)',
      ],
      ...['-keyout', join(place, 'office.key'), '-out', join(place, 'office.crt')],
    );
    folder = join(place, 'out/TH-0412');
    await waysheet('report', await copyOf('TH-0412'), '--out', join(place, 'out'));
    expect(await waysheet('issue', folder, ...args, ...certified(), '--on', '2027-09-01')).toMatchObject({
      status: 0,
    });
  });

  /** Bytes that are signed, and the CMS. */
  async function parts(): Promise<{ pdf: Buffer; signed: Buffer; cms: Buffer }> {
    const pdf = await readFile(join(folder, 'report.pdf'));
    const [, a, b, c, d] = /ByteRange \[ (\d+) (\d+) (\d+) (\d+)/.exec(pdf.toString('latin1'))!.map(Number);
    const cms = Buffer.from(pdf.subarray(b! + 1, c! - 1).toString('latin1'), 'hex');
    return { pdf, signed: Buffer.concat([pdf.subarray(a, a! + b!), pdf.subarray(c, c! + d!)]), cms };
  }

  test('openssl cms verifies it over the whole file but itself', async () => {
    const { pdf, signed, cms } = await parts();
    expect(pdf.length - signed.length).toBe(2 * 16_384 + 2);
    await writeFile(join(place, 'cms'), cms);
    await writeFile(join(place, 'content'), signed);
    const verify = () =>
      openssl(
        ...[
          'cms',
          '-verify',
          '-binary',
          '-inform',
          'DER',
          '-in',
          join(place, 'cms'),
          '-content',
          join(place, 'content'),
        ],
        ...[
          '-CAfile',
          join(place, 'office.crt'),
          '-purpose',
          'any',
          '-cades',
          '-out',
          join(place, 'verified'),
        ],
      );
    expect(() => verify()).not.toThrow();
    signed[1000] = signed[1000]! ^ 1;
    await writeFile(join(place, 'content'), signed);
    expect(() => verify()).toThrow();
  });

  test('pdfsig verifies it', (context) => {
    let said: string;
    try {
      said = execFileSync('pdfsig', [join(folder, 'report.pdf')], {
        encoding: 'utf8',
        stdio: ['ignore', 'pipe', 'ignore'],
      });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT')
        return context.skip('pdfsig (poppler-utils) is not installed');
      said = String((error as { stdout?: string }).stdout);
    }
    expect(said).toMatch(/Signature is Valid/);
    expect(said).toMatch(/Total document signed/);
    expect(said).toMatch(/ETSI\.CAdES\.detached/);
  });

  test('the audit verifies the signature against the trusted certificate; the page names the signer', async () => {
    const trust = join(place, 'trust');
    await mkdir(trust);
    await cp(join(place, 'office.crt'), join(trust, 'office.crt'));
    const ran = await waysheet('audit', folder, join(folder, 'report.pdf'), '--trust', trust);
    expect(ran).toMatchObject({ status: 0 });
    expect(ran.out.match(/Who vouches for it: proven .*the signature covers the whole file/g)).toHaveLength(
      2,
    );
    expect(await readFile(join(folder, 'report.html'), 'utf8')).toMatch(
      /Signed electronically by Alignment office \(invented\)/,
    );
  });

  test('the same inputs, key and day give the same bytes', async () => {
    const other = join(await temporary(), 'TH-0412');
    await waysheet('report', await copyOf('TH-0412'), '--out', join(other, '..'));
    await waysheet('issue', other, ...args, ...certified(), '--on', '2027-09-01');
    expect(await readFile(join(other, 'report.pdf'))).toEqual(await readFile(join(folder, 'report.pdf')));
  });

  test('a certificate of another day, a key of another certificate', async () => {
    const out = await temporary();
    await waysheet('report', await copyOf('TH-0412'), '--out', out);
    const issue = (...more: string[]) => waysheet('issue', join(out, 'TH-0412'), ...args, ...more);
    expect((await issue(...certified(), '--on', '2001-01-01')).err).toMatch(/is not valid on 2001-01-01/);
    openssl('genpkey', '-algorithm', 'RSA', '-out', join(out, 'other.key'));
    const foreign = await issue(
      ...['--certificate', join(place, 'office.crt'), '--certificate-key', join(out, 'other.key')],
    );
    expect(foreign.err).toMatch(/does not belong to the first certificate/);
    expect(foreign.status).not.toBe(0);
  });
});

describe.runIf(hasOpenssl)('signed', () => {
  test('openssl verifies the envelope as we do', async () => {
    const place = await temporary();
    const { payloadType, payload, signatures } = JSON.parse(
      await readFile(join(archive, 'TH-0412/manifest.dsse.json'), 'utf8'),
    );
    const body = Buffer.from(payload, 'base64');
    expect(body).toEqual(await readFile(join(archive, 'TH-0412/manifest.json')));
    // DSSE, "PAE": written out here once more, so that the two can differ.
    await writeFile(
      join(place, 'signed'),
      Buffer.concat([Buffer.from(`DSSEv1 ${payloadType.length} ${payloadType} ${body.length} `), body]),
    );
    await writeFile(join(place, 'sig'), Buffer.from(signatures[0].sig, 'base64'));
    const said = openssl(
      ...['pkeyutl', '-verify', '-pubin', '-inkey', join(keys, 'public/office.pem'), '-rawin'],
      ...['-in', join(place, 'signed'), '-sigfile', join(place, 'sig')],
    );
    expect(String(said)).toMatch(/Verified Successfully/);
  });

  test('another key, a manifest that was changed, no signature', async () => {
    const others = await temporary();
    openssl('genpkey', '-algorithm', 'ed25519', '-out', join(others, 'x'));
    openssl('pkey', '-in', join(others, 'x'), '-pubout', '-out', join(others, 'other.pem'));
    const foreign = await waysheet('audit', join(archive, 'TH-0412'), '--no-print', '--trust', others);
    expect(foreign.status).toBe(4);
    expect(foreign.out).toMatch(/signed by a key that is not among the trusted ones/);
    const out = await copyOfArchive();
    const manifest = join(out, 'TH-0412/manifest.json');
    await writeFile(manifest, (await readFile(manifest, 'utf8')).replace('"browser"', '"browser" '));
    expect((await audit(out)).out).toMatch(/the signature is bad: manifest\.json is not what was signed/);
    await rm(join(out, 'TH-0412/manifest.dsse.json'));
    expect((await audit(out)).out).toMatch(/it is not signed/);
  });

  test.each([
    ['a public key', () => join(keys, 'public/office.pem'), /no private key in PEM/],
    ['no key', () => join(root, 'package.json'), /no private key in PEM/],
  ])('signing with %s is refused, and nothing of the file is printed', async (_, file, reason) => {
    const ran = await waysheet('issue', join(archive, 'TH-1175'), ...office, '--key', file());
    expect(ran.status).not.toBe(0);
    expect(ran.err).toMatch(reason);
  });

  test('a private key in the folder of trusted keys is said, not used', async () => {
    const folder = await temporary();
    await cp(join(keys, 'office.pem'), join(folder, 'office.pem'));
    const ran = await waysheet('audit', join(archive, 'TH-0412'), '--trust', folder);
    expect(ran.status).not.toBe(0);
    expect(ran.err).toMatch(/is a private key/);
  });
});

describe('the audit’s own report', () => {
  test('a sample of the archive, what differs, and what the sample says', async () => {
    const out = await copyOfArchive();
    const page = join(out, '../audit.html');
    const ran = await audit(out, '--sample', '--seed', '7', '--report', page);
    expect(ran.status).toBe(0);
    expect(ran.out).toMatch(/A sample of 2 of 3 reports, drawn with seed 7/);
    expect(ran.out).toMatch(/With 95 % confidence, at most \d of the 3 reports differ/);
    const path = join(out, 'TH-1175/report.html');
    await writeFile(path, (await readFile(path, 'utf8')).replace('± 0.12', '± 0.02'));
    expect((await audit(out, '--report', page)).status).toBe(4);
    const text = (await readFile(page, 'utf8')).replace(/base64,[\w+/=]+/g, '');
    expect(text).toMatch(/3 reports: 2 proven, 1 differs/);
    expect(text).toMatch(/report\.html is not what these inputs make, byte for byte/);
    expect(text).not.toMatch(/undefined|NaN/);
  });
});
