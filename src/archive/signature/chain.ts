/**
 * Verifies that a certificate leads to a certificate that the auditor trusts, on a day. Uses the engine of pkijs (RFC 5280, 6.1),
 * without a network: whether a certificate was revoked is not known.
 */
import { X509Certificate } from 'node:crypto';
import type { TrustedCertificate } from '../signing.js';
import { OID } from './oids.js';
import { loadPki } from './cms.js';

/** Greatest length of a chain. */
const LONGEST = 8;

/** true: the key of the second certificate signed the first. */
export const issuedBy = (one: X509Certificate, issuer: X509Certificate): boolean =>
  one.checkIssued(issuer) && one.verify(issuer.publicKey);

/** true: each certificate was issued by the next. An additional certificate between them would not be verified. */
export function isChain(ders: readonly Uint8Array[]): boolean {
  const chain = ders.map((der) => new X509Certificate(der));
  return chain.every((one, i) => i === chain.length - 1 || issuedBy(one, chain[i + 1]!));
}

export type Vouched =
  { readonly state: 'vouched'; readonly by: string } | { readonly state: 'wrong'; readonly why: string };

/**
 * @param chain DER: the certificate first, then those that issued it (isChain).
 * @param at Moments, at least one of which must be within its validity.
 * @param purpose Required purpose of the certificate.
 */
export async function vouchedFor(
  chain: readonly Uint8Array[],
  trusted: readonly TrustedCertificate[],
  at: readonly Date[],
  purpose: 'signing' | 'time-stamping',
): Promise<Vouched> {
  if (chain.length > LONGEST) return { state: 'wrong', why: `it carries ${chain.length} certificates` };
  const line = chain.map((der) => new X509Certificate(der));
  const own = line[0]!;
  const trouble = await purposeTrouble(chain[0]!, purpose);
  if (trouble !== null) return { state: 'wrong', why: trouble };
  const day = at.find((moment) => isWithin(own, moment));
  if (day === undefined)
    return {
      state: 'wrong',
      why: `the certificate is valid from ${dayOf(own.validFrom)} to ${dayOf(own.validTo)}, not on ${dayOf(at[0]!)}`,
    };
  const pinned = trusted.find(({ der }) => Buffer.from(der).equals(own.raw));
  if (pinned !== undefined) return { state: 'vouched', by: pinned.name };
  const { pkijs, engine } = await loadPki();
  const anchors = trusted.map((one) => ({ ...one, parsed: pkijs.Certificate.fromBER(one.der) }));
  const validation = new pkijs.CertificateChainValidationEngine({
    trustedCerts: anchors.map(({ parsed }) => parsed),
    // The engine verifies the last certificate of the list.
    certs: line.map(({ raw }) => pkijs.Certificate.fromBER(raw)).reverse(),
    checkDate: day,
  });
  const result = await validation.verify({ passedWhenNotRevValues: true }, engine).catch(() => null);
  const root = result?.certificatePath?.at(-1);
  if (result?.result === true && root !== undefined) {
    const by = anchors.find(({ parsed }) => parsed === root || equals(parsed.tbsView, root.tbsView));
    if (by !== undefined) return { state: 'vouched', by: by.name };
  }
  const why = result?.resultMessage ? ` (${result.resultMessage})` : '';
  return { state: 'wrong', why: `no valid chain leads from it to a trusted certificate${why}` };
}

const equals = (a: Uint8Array, b: Uint8Array): boolean => Buffer.from(a).equals(b);

const dayOf = (date: string | Date): string => new Date(date).toISOString().slice(0, 10);

const isWithin = ({ validFrom, validTo }: X509Certificate, moment: Date): boolean =>
  moment >= new Date(validFrom) && moment <= new Date(validTo);

/** @see RFC 5280, 4.2.1.3 and 4.2.1.12; RFC 3161, 2.3. */
async function purposeTrouble(der: Uint8Array, purpose: 'signing' | 'time-stamping'): Promise<string | null> {
  const { pkijs } = await loadPki();
  const extensions = pkijs.Certificate.fromBER(der).extensions ?? [];
  const usage = extensions.find(({ extnID }) => extnID === OID.keyUsage)?.parsedValue as
    { valueBlock: { valueHexView: Uint8Array } } | undefined;
  // Bits 0 and 1: digitalSignature, nonRepudiation.
  if (usage !== undefined && ((usage.valueBlock.valueHexView[0] ?? 0) & 0xc0) === 0)
    return 'the certificate is not meant for signing (key usage)';
  if (purpose === 'signing') return null;
  const extended = extensions.find(({ extnID }) => extnID === OID.extendedKeyUsage);
  const purposes = (extended?.parsedValue as { keyPurposes?: string[] } | undefined)?.keyPurposes ?? [];
  return extended?.critical === true && purposes.length === 1 && purposes[0] === OID.timeStamping
    ? null
    : 'the certificate is not meant for time stamps alone (extended key usage)';
}
