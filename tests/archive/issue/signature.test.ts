/**
 * The signature on the PDF: what is verified of it, and what a forger may try. Each forgery is named by the fact that it makes
 * wrong.
 */
import { execFileSync } from 'node:child_process';
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { PDFDocument } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, test } from 'vitest';
import { checkSignature, type SignatureFact } from '../../../src/archive/signature/check-signature.js';
import { decodeCms, encodeCms, type CmsParts } from '../../../src/archive/signature/cms.js';
import {
  completeSignature,
  prepareSignature,
  signatureOn,
  signedAs,
} from '../../../src/archive/signature/pdf-signature.js';
import { timeStampRequest, tokenOf } from '../../../src/archive/signature/time-stamp.js';
import { trustIn, type Trust } from '../../../src/archive/signing.js';
import { officeCertificate, signPdf } from '../../../src/archive/issue/pdf-signature.js';
import { temporary } from '../../support/folders.js';
import {
  hasOpenssl,
  hasProgram,
  needs,
  newOffice,
  openssl,
  pem,
  stampingService,
  type Office,
} from '../../support/office.js';

const today = new Date().toISOString().slice(0, 10);
const issue = {
  number: 'GM-1-1',
  on: today,
  by: 'O. Tressel',
  certificate: { subject: 'Alignment office (invented)', issuer: 'Test authority (invented)' },
};
const as = signedAs(issue.certificate.subject, issue);

async function printedPdf(): Promise<Uint8Array> {
  const document = await PDFDocument.create();
  document.addPage([400, 300]);
  document.setCreationDate(new Date(0));
  document.setModificationDate(new Date(0));
  return document.save({ useObjectStreams: false });
}

const facts = (found: readonly SignatureFact[], state: SignatureFact['state']) =>
  found.filter((fact) => fact.state === state).map(({ of }) => of);

describe.runIf(hasOpenssl)(`a signature on the PDF${needs('openssl', hasOpenssl)}`, () => {
  let office: Office;
  let printed: Uint8Array;
  let signed: Uint8Array;
  let stamped: Uint8Array;
  let trust: Trust;
  const certificate = (of: Office) => officeCertificate(pem(of, 'office.crt'), pem(of, 'office.key'));
  const trusting = async (of: Office, ...files: string[]): Promise<Trust> => {
    const folder = await temporary();
    for (const file of files) copyFileSync(of.at(file), `${folder}/${file}`);
    return trustIn(folder);
  };

  beforeAll(async () => {
    office = await newOffice();
    trust = await trusting(office, 'ca.crt');
    printed = await printedPdf();
    signed = await signPdf(printed, certificate(office), as);
    const service = await stampingService(office);
    stamped = await signPdf(printed, certificate(office), as, async (signature) => {
      const { request, nonce } = await timeStampRequest(signature);
      const answer = await fetch(service.url, { method: 'POST', body: Buffer.from(request) });
      const token = await tokenOf(new Uint8Array(await answer.arrayBuffer()), signature, nonce);
      if (typeof token === 'string') throw new Error(token);
      return token;
    });
    await service.close();
  });

  const ofFile = (whole: Uint8Array) => ({ whole, printed: whole.subarray(0, printed.length) });
  const check = (pdf: Uint8Array, by: Trust | null = trust) =>
    checkSignature(ofFile(pdf), issue, by === null ? null : by.certificates);
  const found = async (pdf: Uint8Array, said = as) => (await signatureOn(printed, pdf, said))!;
  const withSignature = async (cms: Uint8Array) =>
    completeSignature(await prepareSignature(printed, as), cms);

  test('every fact is verified against the authority, and against the certificate itself', async () => {
    for (const by of [trust, await trusting(office, 'office.crt')]) {
      const all = await check(signed, by);
      expect(facts(all, 'verified')).toEqual(['file', 'bytes', 'signer', 'certificate']);
      expect(facts(all, 'absent')).toEqual(['time-stamp']);
    }
  });

  test('with a time stamp, the time is verified too; without --trust neither is', async () => {
    const all = await check(stamped);
    expect(facts(all, 'verified')).toEqual(['file', 'bytes', 'signer', 'certificate', 'time-stamp']);
    const [, time] = /: (\S+Z), vouched for by/.exec(all.at(-1)!.words)!;
    expect(Math.abs(Date.parse(time!) - Date.now())).toBeLessThan(600_000);
    const unasked = await check(stamped, null);
    expect(facts(unasked, 'not-asked')).toEqual(['certificate', 'time-stamp']);
    expect(facts(unasked, 'verified')).toEqual(['file', 'bytes', 'signer']);
  });

  test('a stamping service that nobody trusts', async () => {
    const all = await check(stamped, await trusting(office, 'office.crt'));
    expect(facts(all, 'wrong')).toEqual(['time-stamp']);
  });

  test('for the CMS that a file carries, the bytes on top are made again, with and without a time stamp', async () => {
    for (const pdf of [signed, stamped]) {
      const { cms } = await found(pdf);
      expect(Buffer.from(await withSignature(cms)).equals(pdf)).toBe(true);
    }
  });

  test('a draft without a signature states nothing; a page that names a signer of an unsigned file is wrong', async () => {
    expect(await checkSignature(ofFile(printed), undefined, null)).toEqual([]);
    const all = await check(printed);
    expect(facts(all, 'wrong')).toEqual(['file']);
    expect(all[0]!.words).toMatch(/the file carries no signature/);
  });

  test('a signed file whose page names no signer', async () => {
    const { number, on, by } = issue;
    const all = await checkSignature(ofFile(signed), { number, on, by }, trust.certificates);
    expect(facts(all, 'wrong')).toEqual(['file']);
  });

  test('a self-made certificate of the same names', async () => {
    const other = await newOffice();
    const forged = await signPdf(printed, certificate(other), as);
    expect(facts(await check(forged), 'wrong')).toEqual(['certificate']);
    // Nobody asked: it is said that anybody can make one.
    expect((await check(forged, null)).find(({ of }) => of === 'certificate')!.words).toMatch(
      /anybody can make one/,
    );
  });

  const replaceOnce = (pdf: Uint8Array, from: string, to: string): Uint8Array => {
    const text = Buffer.from(pdf).toString('latin1');
    expect(text).toContain(from);
    return Buffer.from(text.replace(from, to), 'latin1');
  };

  const withCms = async (change: (parts: CmsParts) => Promise<CmsParts> | CmsParts): Promise<Uint8Array> => {
    const parts = (await decodeCms((await found(stamped)).cms))!;
    return withSignature(await encodeCms(await change(parts)));
  };

  const forgeries: [string, () => Promise<Uint8Array> | Uint8Array, SignatureFact['of'][]][] = [
    ['a byte of the page', () => replaceOnce(signed, '400', '401'), ['bytes']],
    ['bytes on top of it', () => Buffer.concat([signed, Buffer.from('\n%%EOF\n')]), ['file']],
    ['its day', () => replaceOnce(signed, `D:${today.replaceAll('-', '')}`, 'D:20200101'), ['file']],
    [
      'a range that ends before the file',
      () => replaceOnce(signed, '/ByteRange [ 0 ', '/ByteRange [ 1 '),
      ['file'],
    ],
    [
      'the CMS zeroed',
      () => {
        const text = Buffer.from(signed).toString('latin1');
        return Buffer.from(
          text.replace(/<30[0-9a-f]+>/, (m) => `<${'0'.repeat(m.length - 2)}>`),
          'latin1',
        );
      },
      ['file'],
    ],
    ['digits after the CMS', () => replaceOnce(signed, '0000>', '0001>'), ['file']],
    [
      'the RSA signature',
      () =>
        withCms((p) => ({ ...p, signature: Uint8Array.from(p.signature, (b, i) => (i === 9 ? b ^ 1 : b)) })),
      ['bytes', 'time-stamp'],
    ],
    [
      'the hash in the CMS',
      () => withCms((p) => ({ ...p, digest: Uint8Array.from(p.digest, (b) => b ^ 1) })),
      ['bytes'],
    ],
    [
      'another certificate of the same names in the CMS',
      async () => {
        const other = await newOffice();
        return withCms((p) => ({ ...p, chain: certificate(other).chain }));
      },
      ['bytes', 'certificate'],
    ],
    [
      'the time stamp of other bytes',
      async () => {
        const said = { ...as, reason: 'Another' };
        const other = await signPdf(printed, certificate(office), said);
        const parts = (await decodeCms((await found(other, said)).cms))!;
        return withCms((p) => ({ ...p, signature: parts.signature, digest: parts.digest }));
      },
      ['bytes', 'time-stamp'],
    ],
    [
      'a certificate more, which issued none of the others',
      () => withCms((p) => ({ ...p, chain: [...p.chain, ...p.chain] })),
      ['file'],
    ],
    [
      'a digit of the CMS in capitals',
      () => {
        const text = Buffer.from(signed).toString('latin1');
        return Buffer.from(
          text.replace(/(?<=<30[0-9a-f]+)[a-f]/, (m) => m.toUpperCase()),
          'latin1',
        );
      },
      ['file'],
    ],
  ];
  test.each(forgeries)('forged: %s', async (_, forge, wanted) => {
    expect(facts(await check(await forge()), 'wrong')).toEqual(wanted);
  });

  test('a CMS that carries more than ours does is not of our kind', async () => {
    // Another signer's CMS over the right bytes, made by openssl: its content, attributes and order are its own.
    writeFileSync(office.at('content'), (await found(signed)).content);
    openssl(
      ...['cms', '-sign', '-binary', '-in', office.at('content'), '-signer', office.at('office.crt')],
      ...['-inkey', office.at('office.key'), '-outform', 'DER', '-out', office.at('other.cms'), '-cades'],
    );
    const all = await check(await withSignature(readFileSync(office.at('other.cms'))));
    expect(all).toHaveLength(1);
    expect(all[0]!.words).toMatch(/not made as waysheet makes one/);
  });

  test('openssl cms verifies what is signed, its time stamp too', async () => {
    const { cms, content } = await found(stamped);
    writeFileSync(office.at('cms'), cms);
    writeFileSync(office.at('content'), content);
    const verify = () =>
      openssl(
        ...['cms', '-verify', '-binary', '-inform', 'DER', '-in', office.at('cms')],
        ...['-content', office.at('content'), '-CAfile', office.at('ca.crt'), '-purpose', 'any', '-cades'],
        ...['-out', office.at('verified')],
      );
    expect(verify).not.toThrow();
    const parts = (await decodeCms(cms))!;
    writeFileSync(office.at('token'), parts.timeStamp!);
    writeFileSync(office.at('rsa'), parts.signature);
    expect(
      String(
        openssl(
          ...['ts', '-verify', '-in', office.at('token'), '-token_in', '-data', office.at('rsa')],
          ...['-CAfile', office.at('ca.crt')],
        ),
      ),
    ).toMatch(/Verification: OK/);
    writeFileSync(office.at('content'), Buffer.from(content).fill('x', 0, 9));
    expect(verify).toThrow();
  });

  const hasPdfsig = hasProgram('pdfsig', '-v');
  test.runIf(hasPdfsig)(
    `pdfsig agrees on what is signed${needs('pdfsig (poppler-utils)', hasPdfsig)}`,
    () => {
      for (const [pdf, isValid] of [
        [signed, true],
        [stamped, true],
        [replaceOnce(signed, '400', '401'), false],
      ] as const) {
        writeFileSync(office.at('x.pdf'), pdf);
        // Its own store of authorities does not know ours: it says so, and ends with another status than 0.
        const said = (() => {
          try {
            return execFileSync('pdfsig', [office.at('x.pdf')], {
              encoding: 'utf8',
              stdio: ['ignore', 'pipe', 'ignore'],
            });
          } catch (error) {
            return String((error as { stdout?: string }).stdout);
          }
        })();
        expect(said).toMatch(/ETSI\.CAdES\.detached/);
        expect(said).toMatch(/Total document signed/);
        expect(/Signature is Valid/.test(said)).toBe(isValid);
      }
    },
  );

  const hasQpdf = hasProgram('qpdf', '--version');
  test.runIf(hasQpdf)(`qpdf finds nothing wrong with the file${needs('qpdf', hasQpdf)}`, () => {
    for (const pdf of [signed, stamped]) {
      writeFileSync(office.at('x.pdf'), pdf);
      expect(String(execFileSync('qpdf', ['--check', office.at('x.pdf')]))).toMatch(
        /No syntax or stream encoding errors/,
      );
    }
  });

  test('a stamping service that answers another request, other bytes or nothing', async () => {
    const service = await stampingService(office);
    const signature = new Uint8Array(256).fill(7);
    const ask = async (change: ((request: Buffer, genuine: Buffer) => Buffer) | null) => {
      service.answer = change;
      const { request, nonce } = await timeStampRequest(signature);
      const answer = await fetch(service.url, { method: 'POST', body: Buffer.from(request) });
      return tokenOf(new Uint8Array(await answer.arrayBuffer()), signature, nonce);
    };
    let earlier = Buffer.alloc(0);
    expect(await ask((_, genuine) => (earlier = Buffer.from(genuine)))).toBeInstanceOf(Uint8Array);
    expect(await ask(() => earlier)).toMatch(/another request/);
    expect(await ask(() => Buffer.from('hello'))).toMatch(/no response of RFC 3161/);
    expect(
      await ask((_, genuine) => Buffer.concat([genuine.subarray(0, -1), Buffer.from([genuine.at(-1)! ^ 1])])),
    ).toMatch(/signature of the time stamp is bad|damaged/);
    const { request, nonce } = await timeStampRequest(signature);
    service.answer = null;
    const answer = await fetch(service.url, { method: 'POST', body: Buffer.from(request) });
    expect(
      await tokenOf(new Uint8Array(await answer.arrayBuffer()), new Uint8Array(256).fill(8), nonce),
    ).toMatch(/does not belong to this signature/);
    await service.close();
  });
});
