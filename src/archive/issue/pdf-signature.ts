/** Signs the PDF of a report: PAdES baseline B, or T with a time stamp. */
import { sign, X509Certificate, type KeyObject } from 'node:crypto';
import { certificatesIn, privateKeyIn } from '../signing.js';
import { isChain } from '../signature/chain.js';
import { encodeCms, sha256Of, signedAttributes } from '../signature/cms.js';
import { completeSignature, prepareSignature, type SignedAs } from '../signature/pdf-signature.js';
import { commonName } from '../signature/time-stamp.js';

export interface OfficeCertificate {
  /** The signer's certificate, then those of its issuers; DER. */
  readonly chain: readonly Uint8Array[];
  readonly privateKey: KeyObject;
  /** Common names. */
  readonly subject: string;
  readonly issuer: string;
}

/**
 * @param certificates PEM, the signer's first.
 * @param key PEM (PKCS #8), RSA: its signatures over the same bytes are the same bytes.
 * @throws {Error} what is wrong with them; the message contains nothing of the key.
 */
export function officeCertificate(certificates: string, key: string): OfficeCertificate {
  const chain = certificatesIn(certificates).map((der) => new X509Certificate(der));
  if (chain.length === 0) throw new Error('the certificate file holds no certificate in PEM');
  if (!isChain(chain.map(({ raw }) => raw)))
    throw new Error('in the certificate file, each certificate must be followed by the one that issued it');
  const privateKey = privateKeyIn(key, 'the key of the certificate', 'rsa');
  const signer = chain[0]!;
  if (!signer.checkPrivateKey(privateKey))
    throw new Error('the key does not belong to the first certificate of the file');
  return {
    chain: chain.map(({ raw }) => new Uint8Array(raw)),
    privateKey,
    subject: commonName(signer.subject),
    issuer: commonName(signer.issuer),
  };
}

/** true: it may sign on this day, ISO 8601. */
export function isValidOn({ chain }: OfficeCertificate, day: string): boolean {
  const { validFrom, validTo } = new X509Certificate(chain[0]!);
  const at = Date.parse(day);
  // A day is valid if any part of it is.
  return at + 86_400_000 > Date.parse(validFrom) && at < Date.parse(validTo);
}

/**
 * @param pdf The printed and finished PDF.
 * @param stamp Requests a time stamp (RFC 3161 token, DER) for the signature; null: not requested, or not available.
 * @returns The same bytes with the signature after them; without a time stamp the same arguments give the same bytes.
 * @throws {Error} the certificates and the time stamp are longer than their reserved space.
 */
export async function signPdf(
  pdf: Uint8Array,
  { chain, privateKey }: OfficeCertificate,
  as: SignedAs,
  stamp: ((signature: Uint8Array) => Promise<Uint8Array | null>) | null = null,
): Promise<Uint8Array> {
  const prepared = await prepareSignature(pdf, as);
  const digest = sha256Of(prepared.content);
  const signature = sign('sha256', await signedAttributes(chain[0]!, digest), privateKey);
  const timeStamp = (await stamp?.(signature)) ?? null;
  return completeSignature(prepared, await encodeCms({ chain, digest, signature, timeStamp }));
}
