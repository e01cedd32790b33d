/**
 * Time stamps: a service signs a hash with the time. Request, response and token of RFC 3161, with pkijs.
 *
 * @see RFC 3161; RFC 5816 (certificate named by another hash than SHA-1).
 */
import { randomBytes, X509Certificate, createHash } from 'node:crypto';
import type * as Asn1 from 'asn1js';
import type * as Pkijs from 'pkijs';
import type { TrustedCertificate } from '../signing.js';
import { loadPki, sha256Of } from './cms.js';
import { issuedBy, vouchedFor, type Vouched } from './chain.js';
import { OID } from './oids.js';

export interface StampRequest {
  /** DER, for a service. */
  readonly request: Uint8Array;
  readonly nonce: Uint8Array;
}

/** A request for the SHA-256 of some bytes. Its nonce is random, so no old answer matches. */
export async function timeStampRequest(of: Uint8Array): Promise<StampRequest> {
  const { pkijs, asn1 } = await loadPki();
  const nonce = new Uint8Array(randomBytes(8));
  // A positive number without leading zeros.
  nonce[0] = (nonce[0]! & 0x7f) | 0x40;
  const request = new pkijs.TimeStampReq({
    version: 1,
    messageImprint: new pkijs.MessageImprint({
      hashAlgorithm: new pkijs.AlgorithmIdentifier({
        algorithmId: OID.sha256,
        algorithmParams: new asn1.Null(),
      }),
      hashedMessage: new asn1.OctetString({ valueHex: Uint8Array.from(sha256Of(of)).buffer }),
    }),
    nonce: new asn1.Integer({ valueHex: Uint8Array.from(nonce).buffer }),
    certReq: true,
  });
  return { request: new Uint8Array(request.toSchema().toBER(false)), nonce };
}

/**
 * The token in the answer of a service.
 *
 * @returns The reason why the answer is not a time stamp for these bytes, in words.
 */
export async function tokenOf(
  response: Uint8Array,
  of: Uint8Array,
  nonce: Uint8Array,
): Promise<Uint8Array | string> {
  const { pkijs } = await loadPki();
  let answer: Pkijs.TimeStampResp;
  try {
    answer = pkijs.TimeStampResp.fromBER(response);
  } catch {
    return 'the answer is no response of RFC 3161';
  }
  const { status, statusStrings } = answer.status;
  // granted, grantedWithMods
  if (status !== 0 && status !== 1)
    return `the service refused (status ${status}${statusStrings ? `: ${statusStrings.map(({ valueBlock }) => valueBlock.value).join('; ')}` : ''})`;
  if (answer.timeStampToken === undefined) return 'the answer holds no time stamp';
  const token = new Uint8Array(answer.timeStampToken.toSchema().toBER(false));
  const read = await readTimeStamp(token, of);
  if (typeof read === 'string') return read;
  const same = read.nonce !== null && Buffer.from(read.nonce).equals(nonce);
  return same ? token : 'the answer belongs to another request (nonce)';
}

export interface TimeStamp {
  readonly at: Date;
  /** DER: the certificate of the service, then those of its issuers. */
  readonly chain: readonly Uint8Array[];
  readonly subject: string;
  readonly nonce: Uint8Array | null;
}

/**
 * Reads a token and verifies its signature. Whether the service is trusted is not verified here.
 *
 * @returns The reason why it is not a time stamp for these bytes, in words.
 */
export async function readTimeStamp(token: Uint8Array, of: Uint8Array): Promise<TimeStamp | string> {
  const { pkijs, engine } = await loadPki();
  try {
    const data = new pkijs.SignedData({ schema: pkijs.ContentInfo.fromBER(token).content });
    const info = data.encapContentInfo;
    if (info.eContentType !== OID.timeStampInfo || info.eContent === undefined)
      return 'what lies there is no time stamp';
    const stamp = pkijs.TSTInfo.fromBER(info.eContent.getValue());
    const { hashAlgorithm } = stamp.messageImprint;
    if (!([OID.sha256, OID.sha384, OID.sha512] as string[]).includes(hashAlgorithm.algorithmId))
      return 'the time stamp names the signature by a hash that is no longer safe';
    const signer = data.signerInfos[0];
    if (data.signerInfos.length !== 1 || signer?.signedAttrs === undefined)
      return 'the time stamp is not signed as RFC 3161 wants it';
    const { signatureVerified, signerCertificate } = await data.verify(
      { signer: 0, data: Uint8Array.from(of).buffer, extendedMode: true },
      engine,
    );
    if (signatureVerified !== true || !signerCertificate) return 'the signature of the time stamp is bad';
    const own = derOf(signerCertificate);
    if (!namesCertificate(signer.signedAttrs.attributes, own))
      return 'the time stamp names another certificate than the one that signed it';
    const others = (data.certificates ?? []).map((one) => derOf(one as Pkijs.Certificate));
    return {
      at: stamp.genTime,
      chain: [own, ...inOrder(own, others)],
      subject: commonName(new X509Certificate(own).subject),
      nonce: stamp.nonce === undefined ? null : new Uint8Array(stamp.nonce.valueBlock.valueHexView),
    };
  } catch {
    return 'the time stamp does not belong to this signature, or is damaged';
  }
}

/** The trusted certificate to which the service leads, at the time that it states. */
export const stampVouchedFor = (
  { chain, at }: TimeStamp,
  trusted: readonly TrustedCertificate[],
): Promise<Vouched> => vouchedFor(chain, trusted, [at], 'time-stamping');

const derOf = (certificate: Pkijs.Certificate): Uint8Array =>
  new Uint8Array(certificate.toSchema().toBER(false));

/** The chain of issuers of the first certificate; a token has them in any order. */
function inOrder(own: Uint8Array, others: readonly Uint8Array[]): Uint8Array[] {
  const line: Uint8Array[] = [];
  const left = new Set(others.filter((der) => !Buffer.from(der).equals(own)));
  for (let last = new X509Certificate(own); ;) {
    const issuer = [...left].find((der) => issuedBy(last, new X509Certificate(der)));
    if (issuer === undefined) return line;
    left.delete(issuer);
    line.push(issuer);
    last = new X509Certificate(issuer);
  }
}

/** @see RFC 2634, 5.4 (ESSCertID, SHA-1); RFC 5035 (ESSCertIDv2). */
function namesCertificate(attributes: readonly Pkijs.Attribute[], der: Uint8Array): boolean {
  const first = (type: string): Asn1.BaseBlock[] | null => {
    const value = attributes.find((one) => one.type === type)?.values[0] as Asn1.Sequence | undefined;
    const certificates = value?.valueBlock.value[0] as Asn1.Sequence | undefined;
    return (certificates?.valueBlock.value[0] as Asn1.Sequence | undefined)?.valueBlock.value ?? null;
  };
  const octets = (block: Asn1.BaseBlock | undefined) =>
    (block as Asn1.OctetString | undefined)?.valueBlock.valueHexView ?? new Uint8Array();
  const v2 = first(OID.signingCertificateV2);
  if (v2 !== null) {
    // The algorithm is absent if it is SHA-256.
    const named = v2[0]!.idBlock.tagNumber === 16 ? (v2[0] as Asn1.Sequence).valueBlock.value[0] : null;
    const id = named === null ? OID.sha256 : (named as Asn1.ObjectIdentifier).valueBlock.toString();
    const hash = { [OID.sha256]: 'sha256', [OID.sha384]: 'sha384', [OID.sha512]: 'sha512' }[id];
    if (hash === undefined) return false;
    return createHash(hash)
      .update(der)
      .digest()
      .equals(octets(v2[named === null ? 0 : 1]));
  }
  const v1 = first(OID.signingCertificate);
  return v1 !== null && createHash('sha1').update(der).digest().equals(octets(v1[0]));
}

/** @param name A distinguished name as Node writes it: one part per line. */
export const commonName = (name: string): string =>
  /^CN=(.+)$/m.exec(name)?.[1] ?? name.replaceAll('\n', ', ');
