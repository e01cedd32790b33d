/** Verifies the electronic signature of a report's PDF, fact by fact. Pure. */
import { verify, X509Certificate } from 'node:crypto';
import type { Issue } from '../../results/results-schema.js';
import type { TrustedCertificate } from '../signing.js';
import { isChain, vouchedFor } from './chain.js';
import { decodeCms, sha256Of, signedAttributes, type CmsParts } from './cms.js';
import { signatureOn, signedAs, type FoundSignature } from './pdf-signature.js';
import { commonName, readTimeStamp, stampVouchedFor } from './time-stamp.js';

export interface SignatureFact {
  readonly of:
    /** After the printed bytes there is only a signature of our kind, and it states the day of issue. */
    | 'file'
    /** It is a signature of the bytes of the file by the key of the certificate. */
    | 'bytes'
    /** Signer and issuer are those that the report states. */
    | 'signer'
    /** The certificate leads to a trusted one on that day. */
    | 'certificate'
    /** A service confirms the time. */
    | 'time-stamp';
  readonly state: 'verified' | 'wrong' | 'not-asked' | 'absent';
  readonly words: string;
  /** Time of signing, confirmed by a trusted service. */
  readonly at?: Date;
}

/** A file, and its bytes as they were printed. */
export interface SignedFile {
  readonly printed: Uint8Array;
  readonly whole: Uint8Array;
}

/**
 * @param issue From the report's results; undefined: a draft.
 * @param trusted null: trust is not verified.
 * @returns Empty: the report states no signature and the file has none.
 */
export async function checkSignature(
  { printed, whole }: SignedFile,
  issue: Issue | undefined,
  trusted: readonly TrustedCertificate[] | null,
): Promise<readonly SignatureFact[]> {
  const stated = issue?.certificate;
  const onTop = whole.length - printed.length;
  if (stated === undefined)
    return onTop === 0
      ? []
      : [
          wrong(
            'file',
            `${onTop} bytes were added after the printed ones, which are no signature that waysheet wrote`,
          ),
        ];
  if (onTop === 0)
    return [
      wrong('file', `its page says that ${stated.subject} signed it, but the file carries no signature`),
    ];
  const found = await signatureOn(printed, whole, signedAs(stated.subject, issue!));
  if (found === null)
    return [
      wrong(
        'file',
        `the ${onTop} bytes after the printed ones are not exactly those that waysheet writes for a signature by ${stated.subject} on ${issue!.on}`,
      ),
    ];
  const parts = await decodeCms(found.cms);
  if (parts === null || parts.chain.length === 0 || !isChain(parts.chain))
    return [wrong('file', 'its signature is not made as waysheet makes one')];
  const certificate = new X509Certificate(parts.chain[0]!);
  const stamp = await stampFact(parts, issue!.on, trusted);
  return [
    fact('file', 'verified', `the signature covers the whole file, and says ${issue!.on}, the day of issue`),
    await bytesFact(parts, found, certificate),
    signerFact(certificate, stated),
    await certificateFact(parts, issue!.on, stamp.at, trusted),
    stamp,
  ];
}

const fact = (of: SignatureFact['of'], state: SignatureFact['state'], words: string): SignatureFact => ({
  of,
  state,
  words,
});
const wrong = (of: SignatureFact['of'], words: string) => fact(of, 'wrong', words);

async function bytesFact(
  { chain, digest, signature }: CmsParts,
  { content }: FoundSignature,
  { publicKey }: X509Certificate,
): Promise<SignatureFact> {
  if (!sha256Of(content).equals(digest))
    return wrong('bytes', 'the file was changed after it was signed: the signature is over other bytes');
  const isGood =
    publicKey.asymmetricKeyType === 'rsa' &&
    verify('sha256', await signedAttributes(chain[0]!, digest), publicKey, signature);
  return isGood
    ? fact('bytes', 'verified', 'the signature is over exactly these bytes')
    : wrong('bytes', 'the signature was not made with the key of its certificate');
}

function signerFact({ subject, issuer }: X509Certificate, stated: NonNullable<Issue['certificate']>) {
  const [by, from] = [commonName(subject), commonName(issuer)];
  return stated.subject === by && stated.issuer === from
    ? fact('signer', 'verified', `signed by ${by}, certified by ${from}, as its page says`)
    : wrong(
        'signer',
        `signed by ${by}, certified by ${from}; its page says ${stated.subject}, certified by ${stated.issuer}`,
      );
}

async function certificateFact(
  { chain }: CmsParts,
  on: string,
  stampedAt: Date | undefined,
  trusted: readonly TrustedCertificate[] | null,
): Promise<SignatureFact> {
  const of = 'certificate';
  const names = new X509Certificate(chain[0]!);
  const [subject, issuer] = [commonName(names.subject), commonName(names.issuer)];
  if (trusted === null || trusted.length === 0)
    return fact(
      of,
      'not-asked',
      `whether the certificate is that of ${subject} was not asked: anybody can make one with this name; --trust DIR, with the certificate of ${issuer} in it, asks`,
    );
  const [moments, when] = stampedAt
    ? [[stampedAt], 'at the time of the time stamp']
    : [momentsOf(on), `on ${on}`];
  const found = await vouchedFor(chain, trusted, moments, 'signing');
  return found.state === 'vouched'
    ? fact(
        of,
        'verified',
        `the certificate is vouched for by ${found.by} ${when}; whether it was revoked is not known`,
      )
    : wrong(of, `the certificate of ${subject} is not vouched for: ${found.why}`);
}

/** Validity at any moment of the day is enough. */
const momentsOf = (on: string): Date[] =>
  [0, 12, 24].map((hour) => new Date(Date.parse(on) + hour * 3_600_000));

async function stampFact(
  { timeStamp, signature }: CmsParts,
  on: string,
  trusted: readonly TrustedCertificate[] | null,
): Promise<SignatureFact> {
  const of = 'time-stamp';
  if (timeStamp === null) return fact(of, 'absent', 'no time stamp: the day is what the signer states');
  const read = await readTimeStamp(timeStamp, signature);
  if (typeof read === 'string') return wrong(of, read);
  const saying = `time stamp of ${read.subject}: ${read.at.toISOString()}`;
  if (!isSameDay(read.at, on)) return wrong(of, `${saying}; the report was issued on ${on}`);
  if (trusted === null || trusted.length === 0)
    return fact(of, 'not-asked', `${saying}; who vouches for it was not asked (--trust DIR)`);
  const found = await stampVouchedFor(read, trusted);
  return found.state === 'vouched'
    ? { ...fact(of, 'verified', `${saying}, vouched for by ${found.by}`), at: read.at }
    : wrong(of, `${saying}: ${found.why}`);
}

/** true: it is that day somewhere on earth. Local time is up to 14 hours ahead of UTC and up to 12 hours behind it. */
export function isSameDay(at: Date, day: string): boolean {
  const hours = (at.getTime() - Date.parse(day)) / 3_600_000;
  return hours >= -14 && hours < 24 + 12;
}
