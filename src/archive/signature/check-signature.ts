/** The electronic signature of a report's PDF: each fact by itself, verified or what is wrong with it. Pure. */
import { verify, X509Certificate } from 'node:crypto';
import type { Issue } from '../../results/results-schema.js';
import type { TrustedCertificate } from '../signing.js';
import { isChain, vouchedFor } from './chain.js';
import { decodeCms, sha256Of, signedAttributes, type CmsParts } from './cms.js';
import { findSignature, type FoundSignature } from './pdf-signature.js';
import { commonName, readTimeStamp, stampVouchedFor } from './time-stamp.js';

export interface SignatureFact {
  readonly of:
    /** The signature covers the whole file, and is one of our kind. */
    | 'file'
    /** It belongs to the bytes of the file, and was made with the key of the certificate. */
    | 'bytes'
    /** The names of signer and issuer are those that the report states. */
    | 'signer'
    /** The day that the signature states is the report's. */
    | 'day'
    /** Somebody who is trusted vouches for the certificate on that day. */
    | 'certificate'
    /** A service vouches for the time. */
    | 'time-stamp';
  readonly state: 'verified' | 'wrong' | 'not-asked' | 'absent';
  readonly words: string;
}

export interface SignatureCheck {
  /** Empty: the report states no signature and the file has none. */
  readonly facts: readonly SignatureFact[];
  /** DER, where a signature of our kind was found, whatever is wrong with it. */
  readonly cms: Uint8Array | null;
  /** Common names as the certificate says them. */
  readonly signer: { readonly subject: string; readonly issuer: string } | null;
  /** Time of a verified time stamp. */
  readonly stampedAt: Date | null;
}

/**
 * @param issue As the report's results state it; undefined: a draft.
 * @param trusted null: nobody asked who vouches for the certificates.
 */
export async function checkSignature(
  pdf: Uint8Array,
  issue: Issue | undefined,
  trusted: readonly TrustedCertificate[] | null,
): Promise<SignatureCheck> {
  const none = { cms: null, signer: null, stampedAt: null };
  const found = findSignature(pdf);
  const stated = issue?.certificate;
  if (found === null)
    return {
      ...none,
      facts:
        stated === undefined
          ? []
          : [
              wrong(
                'file',
                `its page says that ${stated.subject} signed it, but the file carries no signature`,
              ),
            ],
    };
  if (typeof found === 'string') return { ...none, facts: [wrong('file', found)] };
  const parts = await decodeCms(found.cms);
  if (parts === null || parts.chain.length === 0 || !isChain(parts.chain))
    return {
      ...none,
      cms: found.cms,
      facts: [wrong('file', 'its signature is not made as waysheet makes one')],
    };
  const certificate = new X509Certificate(parts.chain[0]!);
  const signer = { subject: commonName(certificate.subject), issuer: commonName(certificate.issuer) };
  const { fact, at: stampedAt } = await stampFact(parts, found.on, trusted);
  return {
    cms: found.cms,
    signer,
    stampedAt,
    facts: [
      verified('file', 'the signature covers the whole file'),
      await bytesFact(parts, found, certificate),
      signerFact(signer, issue),
      dayFact(found.on, issue),
      await certificateFact(parts, found.on, stampedAt, signer, trusted),
      fact,
    ],
  };
}

const verified = (of: SignatureFact['of'], words: string): SignatureFact => ({
  of,
  state: 'verified',
  words,
});
const wrong = (of: SignatureFact['of'], words: string): SignatureFact => ({ of, state: 'wrong', words });

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
    ? verified('bytes', 'the signature is over exactly these bytes')
    : wrong('bytes', 'the signature was not made with the key of its certificate');
}

function signerFact({ subject, issuer }: NonNullable<SignatureCheck['signer']>, issue: Issue | undefined) {
  const stated = issue?.certificate;
  if (stated === undefined)
    return wrong('signer', `the file is signed by ${subject}, which its page does not say`);
  return stated.subject === subject && stated.issuer === issuer
    ? verified('signer', `signed by ${subject}, certified by ${issuer}, as its page says`)
    : wrong(
        'signer',
        `signed by ${subject}, certified by ${issuer}; its page says ${stated.subject}, certified by ${stated.issuer}`,
      );
}

function dayFact(on: string | null, issue: Issue | undefined): SignatureFact {
  if (on === null) return wrong('day', 'the signature states no day');
  return issue !== undefined && issue.on === on
    ? verified('day', `signed on ${on}, the day of issue, as the signer states it`)
    : wrong(
        'day',
        `the signature says that it was made on ${on}; the report was issued on ${issue?.on ?? 'no day'}`,
      );
}

async function certificateFact(
  { chain }: CmsParts,
  on: string | null,
  stampedAt: Date | null,
  { subject, issuer }: NonNullable<SignatureCheck['signer']>,
  trusted: readonly TrustedCertificate[] | null,
): Promise<SignatureFact> {
  const of = 'certificate';
  if (trusted === null || trusted.length === 0)
    return {
      of,
      state: 'not-asked',
      words: `whether the certificate is that of ${subject} was not asked: anybody can make one with this name; --trust DIR, with the certificate of ${issuer} in it, asks`,
    };
  const found = await vouchedFor(chain, trusted, stampedAt === null ? momentsOf(on) : [stampedAt], 'signing');
  if (found.state === 'vouched')
    return verified(
      of,
      `the certificate is vouched for by ${found.by}${stampedAt === null ? ` on ${on}` : ' at the time of the time stamp'}; whether it was revoked is not known`,
    );
  return wrong(
    of,
    found.state === 'wrong'
      ? `${subject}: ${found.why}`
      : `the certificate of ${subject} is not vouched for by any trusted certificate`,
  );
}

/** Any part of the day counts. */
const momentsOf = (on: string | null): Date[] =>
  [0, 12, 24].map((hour) => new Date(Date.parse(on ?? '') + hour * 3_600_000));

async function stampFact(
  { timeStamp, signature }: CmsParts,
  on: string | null,
  trusted: readonly TrustedCertificate[] | null,
): Promise<{ readonly fact: SignatureFact; readonly at: Date | null }> {
  const of = 'time-stamp';
  const not = (fact: SignatureFact) => ({ fact, at: null });
  if (timeStamp === null)
    return not({ of, state: 'absent', words: 'no time stamp: the day is what the signer states' });
  const read = await readTimeStamp(timeStamp, signature);
  if (typeof read === 'string') return not(wrong(of, read));
  const time = read.at.toISOString();
  const saying = `time stamp of ${read.subject}: ${time}`;
  if (!isSameDay(read.at, on)) return not(wrong(of, `${saying}; the signature says ${on ?? 'no day'}`));
  if (trusted === null || trusted.length === 0)
    return not({
      of,
      state: 'not-asked',
      words: `${saying}; who vouches for it was not asked (--trust DIR)`,
    });
  const found = await stampVouchedFor(read, trusted);
  if (found.state === 'vouched')
    return { fact: verified(of, `${saying}, vouched for by ${found.by}`), at: read.at };
  return not(
    wrong(of, `${saying}: ${found.state === 'wrong' ? found.why : 'no trusted certificate vouches for it'}`),
  );
}

/** Somewhere on earth it is that day: local time is up to 14 hours ahead of UTC and 12 behind. */
export function isSameDay(at: Date, day: string | null): boolean {
  const hours = (at.getTime() - Date.parse(day ?? '')) / 3_600_000;
  return hours >= -14 && hours < 24 + 12;
}
