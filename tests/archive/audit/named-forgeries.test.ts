/**
 * Forgeries by somebody who has the source at hand, each of them once missed: none is proven, and what is wrong is named.
 * What cannot be told apart without a key, or without the version that made it, is not compared, and that is said.
 */
import { execFileSync } from 'node:child_process';
import { cp, mkdir, readFile, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { audit } from '../../../src/archive/audit/audit.js';
import { auditArchive, withLog } from '../../../src/archive/audit/audit-log.js';
import { findingText } from '../../../src/archive/audit/finding-words.js';
import { appendToLog, LOG, readLog } from '../../../src/archive/issue-log.js';
import { officeCertificate, signPdf } from '../../../src/archive/issue/pdf-signature.js';
import { signedAs } from '../../../src/archive/signature/pdf-signature.js';
import { readPdf } from '../../../src/pages/report/pdf-file/read-file.js';
import { readReportPdf } from '../../../src/pages/report/pdf-file/read-report-pdf.js';
import { writePdf } from '../../../src/pages/report/pdf-file/write-file.js';
import { sha256 } from '../../../src/pages/deliverables/manifest.js';
import { manifestOf, renewed, withManifest, type Files } from '../../support/forge-report.js';
import { forgeries } from '../../support/forge-pdf.js';
import { hasOpenssl, newOffice, pem } from '../../support/office.js';
import { temporary } from '../../support/folders.js';
import { seeded } from '../../support/jobs.js';
import {
  answer,
  archiveText,
  BY,
  copyOfOut,
  lie,
  made,
  newKit,
  NUMBER,
  ON,
  textIn,
  type Kit,
} from './kit.js';

let kit: Kit;
beforeAll(async () => {
  kit = await newKit();
});
afterAll(() => kit.printer.close());

const replaced = (files: Files, path: string, bytes: Uint8Array | string): Files =>
  new Map([...files, [path, Buffer.from(bytes as string)]]);
const folderOf = async (files: Files): Promise<string> => lie(files, join(await temporary(), 'TH-0412'));
const asWaysheetWrites = async (document: PDFDocument): Promise<Uint8Array> =>
  writePdf(readPdf(await document.save({ useObjectStreams: false, updateFieldAppearances: false })));
const glyphTaken = forgeries.find(({ name }) => name === 'a glyph taken for another')!;

describe.runIf(hasOpenssl)('honest reports are proven', () => {
  test('issued and signed: as a folder and as a PDF alone, with and without its log', async () => {
    const alone = join(await temporary(), 'report.pdf');
    await cp(join(kit.out, 'TH-0412/report.pdf'), alone);
    for (const path of [join(kit.out, 'TH-0412'), join(kit.out, 'TH-0412/report.pdf'), alone]) {
      const { grade, finding, text } = await answer(kit, path, { trust: kit.trust });
      expect(finding, text).toMatchObject({ figures: 'proven', pages: 'proven', vouched: 'proven' });
      // Without its log nobody can say whether it is still in force.
      const [state, said] = path === alone ? [null, 'not compared'] : ['in-force', 'proven'];
      expect(finding).toMatchObject({ state });
      expect(grade).toBe(said);
      expect(text).toMatch(
        path === alone ? /not compared: its state: .*--log PATH/ : /state: in force since/,
      );
    }
    expect(await answer(kit, alone, { trust: kit.trust, askLog: false })).toMatchObject({ grade: 'proven' });
  });

  test('a signature whose key nobody asked about is not compared', async () => {
    const { grade, text } = await answer(kit, join(kit.out, 'TH-0412'));
    expect(grade).toBe('not compared');
    expect(text).toMatch(/--trust DIR/);
  });
});

describe.runIf(hasOpenssl)('the signature on the PDF', () => {
  const printed = () => readReportPdf(kit.issued.get('report.pdf')!).printed;
  const withPdf = (pdf: Uint8Array): Promise<string> =>
    folderOf(renewed(replaced(kit.issued, 'report.pdf', pdf)));
  const corrupted = (): Uint8Array => {
    const pdf = Buffer.from(kit.issued.get('report.pdf')!);
    const at = pdf.indexOf('<3082') + 600;
    pdf[at] = pdf[at] === 0x30 ? 0x31 : 0x30;
    return pdf;
  };
  const cases: [string, () => Promise<Uint8Array> | Uint8Array, RegExp][] = [
    ['taken off', printed, /signed it, but the file carries no signature/],
    ['corrupted', corrupted, /signature/],
    [
      'bytes after it',
      () => Buffer.concat([kit.issued.get('report.pdf')!, Buffer.from('% seen\n')]),
      /the \d+ bytes after the printed ones are not exactly those that waysheet writes for a signature by/,
    ],
    [
      'glyphs changed below it',
      async () => {
        const document = await PDFDocument.load(printed(), { updateMetadata: false });
        await glyphTaken.forge(document, seeded(3));
        const base = await asWaysheetWrites(document);
        const top = Buffer.from(kit.issued.get('report.pdf')!).subarray(printed().length);
        return Buffer.concat([base, top]);
      },
      /signature/,
    ],
    [
      'its day changed',
      () => {
        const pdf = Buffer.from(kit.issued.get('report.pdf')!);
        pdf.write('20270902', pdf.lastIndexOf('/M (D:20270901') + 6, 'latin1');
        return pdf;
      },
      /not exactly those that waysheet writes for a signature by .* on 2027-09-01/,
    ],
    [
      'one more update between the pages and the signature',
      async () => {
        const document = await PDFDocument.load(printed(), {
          updateMetadata: false,
          forIncrementalUpdate: true,
        });
        document.addJavaScript('main', 'app.alert("x");');
        const more = await document.save({ updateFieldAppearances: false });
        return sign(more, kit.office);
      },
      /bytes after the printed ones are not exactly those that waysheet writes/,
    ],
  ];
  const sign = (pdf: Uint8Array, office: Kit['office']) => {
    const certificate = officeCertificate(pem(office, 'office.crt'), pem(office, 'office.key'));
    return signPdf(pdf, certificate, signedAs(certificate.subject, { number: NUMBER, on: ON }));
  };

  test.each(cases)('%s', async (_, forge, named) => {
    const folder = await withPdf(await forge());
    for (const path of [folder, join(folder, 'report.pdf')]) {
      const { grade, text } = await answer(kit, path, { trust: kit.trust });
      expect(grade, text).toBe('differs');
      expect(text).toMatch(named);
    }
  });

  test('by a certificate of one’s own making with the same name', async () => {
    const pdf = await sign(printed(), await newOffice());
    const folder = await withPdf(pdf);
    const asked = await answer(kit, join(folder, 'report.pdf'), { trust: kit.trust });
    expect(asked.grade).toBe('differs');
    expect(asked.text).toMatch(/no valid chain leads|not vouched for/);
    const unasked = await answer(kit, join(folder, 'report.pdf'));
    expect(unasked.grade).toBe('not compared');
    expect(unasked.text).toMatch(/anybody can make one with this name/);
  });

  test('taken off the manifest, while the line of the log is signed', async () => {
    const out = await copyOfOut(kit);
    await rm(join(out, 'TH-0412/manifest.dsse.json'));
    const { grade, text } = await answer(kit, join(out, 'TH-0412'));
    expect(grade).toBe('differs');
    expect(text).toMatch(/line 1: it is signed, but the manifest of report TH-0412-1 is not/);
  });
});

describe('another browser, said by whoever forged the pages', () => {
  test.each(['as a folder', 'as a PDF alone'])('%s: not compared, with the reason', async (how) => {
    const document = await PDFDocument.load(kit.draft.get('report.pdf')!, { updateMetadata: false });
    await glyphTaken.forge(document, seeded(5));
    document.setProducer('Skia/PDF m999; waysheet');
    const files = renewed(replaced(kit.draft, 'report.pdf', await asWaysheetWrites(document)));
    const folder = await folderOf(
      withManifest(files, { ...manifestOf(files), browser: '/opt/browser 999.0' }),
    );
    const { grade, text, finding } = await answer(
      kit,
      how === 'as a folder' ? folder : join(folder, 'report.pdf'),
      { draw: () => Promise.reject(new Error('it took longer than 25 s')) },
    );
    expect(text).toMatch(/not compared: pictures of the pages: none could be made: it took longer than 25 s/);
    expect(finding).toMatchObject({ pictures: [] });
    expect(finding).toMatchObject({ figures: 'proven', pages: 'not-compared' });
    expect(grade).toBe('not compared');
    expect(text).toMatch(/it was printed by another browser \(.*999.*\); here prints packed Chromium/);
  });
});

describe('another version, said by whoever forged the report', () => {
  const software = { name: 'waysheet', version: '9.9.9', method: '2026-12.2' } as const;
  /** The folder as if that version had made it. */
  const said = (change: (text: string) => string): Files => {
    const text = change(textIn(kit.draft, 'results.json'));
    const results = `${JSON.stringify({ ...(JSON.parse(text) as object), software }, null, 2)}\n`;
    // Without the PDF, which carries the true results.
    const files = new Map([...kit.draft].filter(([path]) => path !== 'report.pdf'));
    const manifest = manifestOf(kit.draft);
    const outputs = manifest.outputs.filter(({ path }) => path !== 'report.pdf');
    return renewed(
      withManifest(replaced(files, 'results.json', results), {
        ...manifest,
        software,
        outputs,
        browser: null,
      }),
    );
  };
  const job = async () => (await import('../../support/folders.js')).sample('TH-0412');

  test('its verdict turned: the figures differ', async () => {
    const files = said((text) => text.replaceAll('"verdict": "conforms"', '"verdict": "undecided"'));
    const { grade, text } = await answer(kit, await folderOf(files), { job: await job() });
    expect(grade).toBe('differs');
    expect(text).toMatch(/verdict: issued "undecided", recomputed "conforms"/);
  });

  test('a page, a chart, a table forged: not compared, each by name', async () => {
    const forged = renewed(
      replaced(
        said((text) => text),
        'report.html',
        '<p>The rails conform</p>',
      ),
    );
    const { grade, text, finding } = await answer(kit, await folderOf(forged), { job: await job() });
    expect(finding).toMatchObject({ figures: 'proven', pages: 'not-compared', differences: [] });
    expect(grade).toBe('not compared');
    expect(text).toMatch(/the pages \(.*report\.html.*\): they were made by version 9\.9\.9/);
    expect(text).toMatch(/charts\/.*\.svg/);
    expect(text).toMatch(/stations\.csv/);
  });

  test('the verdict of the manifest alone', async () => {
    const files = said((text) => text);
    const forged = withManifest(files, { ...manifestOf(files), verdict: 'undecided' });
    const { grade, text } = await answer(kit, await folderOf(forged), { job: await job() });
    expect(grade).toBe('differs');
    expect(text).toMatch(/manifest\.json says otherwise of verdict than results\.json does/);
  });
});

describe('files that are none of a report', () => {
  const listed = (files: Files, path: string): Files => {
    const bytes = Buffer.from('x');
    const manifest = manifestOf(files);
    const outputs = [...manifest.outputs, { path, bytes: bytes.length, sha256: sha256(bytes) }];
    return withManifest(replaced(files, path, bytes), { ...manifest, outputs });
  };
  const cases: [string, (folder: string) => Promise<unknown>, RegExp][] = [
    [
      'a file that the manifest lists',
      (f) => lie(listed(kit.draft, 'certificate-of-conformity.pdf'), f),
      /certificate-of-conformity\.pdf is no file of a report/,
    ],
    ['a hidden file', (f) => writeFile(join(f, '.note'), 'x'), /\.note is no file of a report/],
    ['a folder', (f) => mkdir(join(f, 'more')), /more is a folder/],
    [
      'a chart more',
      (f) => writeFile(join(f, 'charts/more.svg'), '<svg/>'),
      /charts\/more\.svg was not issued with this report/,
    ],
    [
      'a link in place of the PDF',
      async (f) => {
        await rename(join(f, 'report.pdf'), join(f, '../other.pdf'));
        await symlink(join(f, '../other.pdf'), join(f, 'report.pdf'));
      },
      /report\.pdf is a symbolic link/,
    ],
    [
      'a pipe in place of a file',
      async (f) => {
        await rm(join(f, 'stations.csv'));
        execFileSync('mkfifo', [join(f, 'stations.csv')]);
      },
      /stations\.csv is no regular file/,
    ],
    [
      'a pipe in place of the PDF',
      async (f) => {
        await rm(join(f, 'report.pdf'));
        execFileSync('mkfifo', [join(f, 'report.pdf')]);
      },
      /report\.pdf is no regular file/,
    ],
  ];
  test.skipIf(process.platform === 'win32').each(cases)('%s', async (_, put, named) => {
    const folder = await folderOf(kit.draft);
    await put(folder);
    const { grade, text } = await answer(kit, folder);
    expect(grade, text).toBe('differs');
    expect(text).toMatch(named);
  });

  const documents: [string, string, (text: string) => string | null, RegExp][] = [
    ['no manifest', 'manifest.json', () => null, /there is no manifest\.json that can be read/],
    ['a manifest of nothing', 'manifest.json', () => '{}', /manifest\.json is not a manifest that this/],
    [
      'a manifest that says more',
      'manifest.json',
      (text) => text.replace('{', '{ "approved": true,'),
      /manifest\.json is not a manifest that this version reads/,
    ],
    ['results that are no JSON', 'results.json', (text) => `${text}]`, /results\.json is not JSON/],
    [
      'results so deep that whoever walks through them has no stack left',
      'results.json',
      (text) => text.replace('{', `{ "x": ${'['.repeat(50_000)}${']'.repeat(50_000)},`),
      /results\.json is not JSON/,
    ],
    [
      'a method that this version has not',
      'results.json',
      (text) => text.replace(/"method": "[^"]+"/, '"method": "2001-01.1"'),
      /says that version [\d.]+ made it by method 2001-01\.1; that version has method/,
    ],
  ];
  test.each(documents)('%s', async (_, path, change, named) => {
    const folder = await folderOf(kit.draft);
    const text = change(textIn(kit.draft, path));
    await (text === null ? rm(join(folder, path)) : writeFile(join(folder, path), text));
    const { grade, text: said } = await answer(kit, folder);
    expect(grade, said).toBe('differs');
    expect(said).toMatch(named);
  });

  test('a job folder that is empty does not pass as held against', async () => {
    const { grade, text } = await answer(kit, await folderOf(kit.draft), { job: await temporary() });
    expect(grade).toBe('differs');
    expect(text).toMatch(/input job\.json cannot be read/);
  });
});

describe.runIf(hasOpenssl)('the log, and what lies next to the reports', () => {
  const rewritten = async (
    out: string,
    change: (entry: Record<string, unknown>) => Record<string, unknown>,
  ) => {
    const path = join(out, LOG);
    const entry = JSON.parse((await readFile(path, 'utf8')).trim()) as Record<string, unknown>;
    delete entry['signature'];
    await writeFile(path, `${JSON.stringify(change(entry))}\n`);
  };
  const facts: [string, Record<string, unknown>, RegExp][] = [
    ['who issued it', { by: 'N. Obody' }, /was issued by N\. Obody; the report itself says O\. Tressel/],
    ['the day', { on: '2026-01-01' }, /was issued on 2026-01-01; the report itself says 2027-09-01/],
    ['the job', { job: 'TH-9999' }, /is of job TH-9999; the report itself says TH-0412/],
    [
      'what it amends',
      { act: 'amended', amends: 'TH-0001-1', because: 'x' },
      /amends TH-0001-1; the report itself says no report/,
    ],
    ['its hash', { manifest: '0'.repeat(64) }, /is not the one that was issued/],
    ['its number', { number: 'TH-0412-7' }, /TH-0412-1, which the log does not know/],
  ];
  test.each(facts)('a line that says otherwise of %s', async (_, other, named) => {
    const out = await copyOfOut(kit);
    await rewritten(out, (entry) => ({ ...entry, ...other }));
    const { grade, text } = await answer(kit, join(out, 'TH-0412'));
    expect(grade).toBe('differs');
    expect(text).toMatch(named);
  });

  test('a chain that was written anew: what it proves and what not is said; a noted head and a key tell', async () => {
    const out = await copyOfOut(kit);
    await rewritten(out, (entry) => ({ ...entry }));
    expect(await archiveText(out)).toMatch(
      /Not proven: .*whoever can write the file can write all of it anew/,
    );
    expect(await archiveText(out, { head: kit.head })).toMatch(
      /differs: .*lines are missing, or it was written anew/,
    );
    expect(await archiveText(out, { trust: kit.trust })).toMatch(/line 1: it is not signed/);
    expect(await archiveText(kit.out, { head: kit.head, trust: kit.trust })).toMatch(
      /Proven: every line was written with a trusted key, and the last one/,
    );
  });

  test('a report that was withdrawn is said to be, from its day on', async () => {
    const out = await copyOfOut(kit);
    const log = readLog(out);
    const { manifest } = log.entries[0]!;
    const entry = {
      act: 'withdrawn' as const,
      number: NUMBER,
      job: 'TH-0412',
      on: '2027-10-01',
      by: BY,
      because: 'the wrong rail',
      manifest,
    };
    await appendToLog(out, log, entry, kit.key);
    const at = (day: string | null, path = 'TH-0412') =>
      answer(kit, join(out, path), { trust: kit.trust, day });
    expect((await at('2027-09-30')).finding).toMatchObject({ state: 'in-force' });
    for (const path of ['TH-0412', 'TH-0412/report.pdf']) {
      const { finding, text } = await at(null, path);
      expect(finding).toMatchObject({ state: 'withdrawn' });
      expect(text).toMatch(/withdrawn on 2027-10-01, because: the wrong rail: it is no longer in force/);
    }
  });

  test('a log that was emptied knows none of the reports; where there is no log, none is accused', async () => {
    const out = await copyOfOut(kit);
    await writeFile(join(out, LOG), '');
    expect(await archiveText(out)).toMatch(/differs: TH-0412: it says that it is report TH-0412-1, which/);
    await rm(join(out, LOG));
    expect(await archiveText(out)).not.toMatch(/differs/);
  });

  test('a report under the name of another job, and twice', async () => {
    const out = await copyOfOut(kit);
    await cp(join(out, 'TH-0412'), join(out, 'TH-9999'), { recursive: true });
    const text = await archiveText(out);
    expect(text).toMatch(/TH-9999: it is a report of TH-0412, under the name of another job/);
    expect(text).toMatch(/report TH-0412-1 lies there 2 times: TH-0412, TH-9999/);
  });

  test('a report in force that was put away, and under the name of another one', async () => {
    const out = await copyOfOut(kit);
    await mkdir(join(out, 'earlier-reports'));
    await rename(join(out, 'TH-0412'), join(out, 'earlier-reports/TH-0412-7'));
    const text = await archiveText(out);
    expect(text).toMatch(/TH-0412-7: it is report TH-0412-1, which is in force, but does not lie in TH-0412/);
    expect(text).toMatch(/TH-0412-7: it is report TH-0412-1, under the name of another one/);
  });

  test('a draft under another name, and an issued report among the drafts: each answer says it', async () => {
    const out = await copyOfOut(kit);
    await lie(kit.draft, join(out, '.TH-0412'));
    await mkdir(join(out, 'drafts'));
    await rename(join(out, 'TH-0412'), join(out, 'drafts/TH-0412'));
    const log = await auditArchive(out, { head: null, trust: null, day: null });
    const request = { job: null, tolerances: null, print: null, trust: null };
    const said = async (place: string) => findingText(withLog(await audit(join(out, place), request), log));
    expect(await said('.TH-0412')).toMatch(
      /differs: it is a report of TH-0412, under the name of another job/,
    );
    expect(await said('drafts/TH-0412')).toMatch(/differs: it is report TH-0412-1, which was issued, among/);
  });

  const logs: [string, string | Buffer, RegExp][] = [
    ['larger than any', Buffer.alloc(65 * 2 ** 20, '\n'), /cannot be read: .* bytes; at most \d+ are read/],
    ['of one endless line', '{'.repeat(1_000_000), /ends with half a line: it was cut off/],
    ['of lists within lists', `${'['.repeat(200_000)}\n`, /line 1: no entry that this version reads/],
    ['of bytes that are no text', Buffer.from([0xff, 0xfe, 0x0a]), /holds bytes that are no text/],
    ['that ends every line as another system does', '{}\r\n', /line 1: no entry that this version reads/],
  ];
  test.each(logs)('a log %s: named, and no report is in force by it', async (_, bytes, named) => {
    const out = await copyOfOut(kit);
    await writeFile(join(out, LOG), bytes);
    expect(await archiveText(out)).toMatch(named);
    const { grade, finding } = await answer(kit, join(out, 'TH-0412'), { print: false });
    expect(grade).not.toBe('proven');
    expect(finding).toMatchObject({ state: null });
  });

  test('loose PDFs, folders within folders, drafts without a manifest are listed', async () => {
    const out = await copyOfOut(kit);
    await writeFile(join(out, 'TH-0412.pdf'), 'x');
    await mkdir(join(out, 'old/TH-0412'), { recursive: true });
    await lie(
      new Map([...kit.draft].filter(([path]) => path !== 'manifest.json')),
      join(out, 'drafts/TH-0412'),
    );
    const text = await archiveText(out);
    expect(text).toMatch(/not compared: TH-0412\.pdf: a PDF outside of a report’s folder/);
    expect(text).toMatch(/not compared: old: a folder that is no report/);
    expect(text).toMatch(/not compared: drafts\/TH-0412: files of a report without a manifest\.json/);
  });

  test('files and folders that only have a name like those of waysheet are listed', async () => {
    const out = await copyOfOut(kit);
    await mkdir(join(out, 'changes.d'));
    await mkdir(join(out, 'register.html'));
    for (const name of ['.waysheet-certificate.pdf', 'register.docx', 'changes.html'])
      await writeFile(join(out, name), 'The rails conform.');
    const { notCompared } = await auditArchive(out, { head: null, trust: null, day: null });
    expect(notCompared.map(({ what }) => what)).toEqual([
      '.waysheet-certificate.pdf',
      'changes.d',
      'register.docx',
      'register.html',
    ]);
  });

  test('a signed line of the log that says a thing twice', async () => {
    const out = await copyOfOut(kit);
    const text = await readFile(join(out, LOG), 'utf8');
    await writeFile(join(out, LOG), text.replace('"by":', '"by":"N. N.","by":'));
    expect(await archiveText(out, { trust: kit.trust })).toMatch(
      /differs: issued\.jsonl, line 1: it is not written as waysheet writes a line/,
    );
  });

  test('more in the signed envelope than was signed', async () => {
    const envelope = JSON.parse(textIn(kit.issued, 'manifest.dsse.json')) as { signatures: unknown[] };
    const forged = [
      { ...envelope, note: 'Approved.' },
      { ...envelope, signatures: [...envelope.signatures, { keyid: 'N. N.', sig: 'AAAA' }] },
    ];
    for (const document of forged) {
      const out = await copyOfOut(kit);
      const place = join(out, 'TH-0412');
      await writeFile(join(place, 'manifest.dsse.json'), `${JSON.stringify(document, null, 2)}\n`);
      const { text, grade } = await answer(kit, place, { trust: kit.trust });
      expect(text).toMatch(/the signature is bad: manifest\.dsse\.json is not written as waysheet writes it/);
      expect(grade).toBe('differs');
    }
  });

  test('a report that does not say what its job lacks, or says that it lacks more', async () => {
    for (const without of [undefined, ['approver' as const, 'traceability' as const]]) {
      const facts = { number: NUMBER, on: ON, by: BY, ...(without && { without }) };
      const folder = await folderOf(await made('TH-0412', kit.printer, { facts, sign: null }));
      const { text, grade } = await answer(kit, folder);
      expect(text).toMatch(/issue\.without: it says that it was issued without .*; its job lacks approver/);
      expect(grade).toBe('differs');
    }
  });

  test.skipIf(process.platform === 'win32')('a pipe in place of the log', async () => {
    const out = await copyOfOut(kit);
    await rm(join(out, LOG));
    execFileSync('mkfifo', [join(out, LOG)]);
    expect(await archiveText(out)).toMatch(/issued\.jsonl cannot be read: .*is not a regular file/);
  });
});
