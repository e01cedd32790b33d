/**
 * The CMS of the office's signature: detached, one signer, RSA with SHA-256 (PKCS #1 v1.5), the signer's certificate named by
 * its hash, and at most one time stamp over the signature.
 *
 * It is made with pkijs. `@signpdf` does not write the attribute with the hash of the signer's certificate, which PAdES
 * baseline B requires, and node-forge supports only its own attributes.
 *
 * `encodeCms` makes the same bytes from the same parts. So a CMS of unknown origin is accepted only if its parts give its bytes.
 *
 * @see ETSI EN 319 122-1 (CAdES), 5.2.2.3 and 5.3; RFC 5652; RFC 5035; RFC 3161, appendix A.
 */
import { createHash, webcrypto } from 'node:crypto';
import type * as Asn1 from 'asn1js';
import type * as Pkijs from 'pkijs';
import { OID } from './oids.js';

export interface CmsParts {
  /** DER; the signer's first, then those that issued it, in their order. */
  readonly chain: readonly Uint8Array[];
  /** SHA-256 of the signed bytes. */
  readonly digest: Uint8Array;
  /** RSA, over the signed attributes. */
  readonly signature: Uint8Array;
  /** RFC 3161 token (DER) over `signature`; null: none. */
  readonly timeStamp: Uint8Array | null;
}

export const loadPki = async () => {
  const [pkijs, asn1] = await Promise.all([import('pkijs'), import('asn1js')]);
  const engine = new pkijs.CryptoEngine({ crypto: webcrypto as never, name: 'node' });
  return { pkijs, asn1, engine };
};

export type Pki = Awaited<ReturnType<typeof loadPki>>;

export const sha256Of = (bytes: Uint8Array): Buffer => createHash('sha256').update(bytes).digest();

/** DER of SET OF signed attributes: what the signer's key signs. @see RFC 5652, 5.4. */
export async function signedAttributes(signer: Uint8Array, digest: Uint8Array): Promise<Uint8Array> {
  const { pkijs, asn1 } = await loadPki();
  const set = new asn1.Set({
    value: attributesOf({ pkijs, asn1 }, signer, digest).map((one) => one.toSchema()),
  });
  return new Uint8Array(set.toBER(false));
}

/** In the order of DER, which is by length here. @see ITU-T X.690, 11.6. */
function attributesOf(
  { pkijs, asn1 }: Pick<Pki, 'pkijs' | 'asn1'>,
  signer: Uint8Array,
  digest: Uint8Array,
): Pkijs.Attribute[] {
  const attribute = (type: string, value: unknown) => new pkijs.Attribute({ type, values: [value] });
  // ESSCertIDv2 with SHA-256, its default, so that the algorithm is left out.
  const named = new asn1.Sequence({
    value: [new asn1.Sequence({ value: [new asn1.Sequence({ value: [octets(asn1, sha256Of(signer))] })] })],
  });
  return [
    attribute(OID.contentType, new asn1.ObjectIdentifier({ value: OID.data })),
    attribute(OID.messageDigest, octets(asn1, digest)),
    attribute(OID.signingCertificateV2, named),
  ];
}

/** DER of the whole CMS (ContentInfo). */
export async function encodeCms({ chain, digest, signature, timeStamp }: CmsParts): Promise<Uint8Array> {
  const { pkijs, asn1 } = await loadPki();
  const certificates = chain.map((der) => pkijs.Certificate.fromBER(der));
  const signer = certificates[0]!;
  const sha256 = () =>
    new pkijs.AlgorithmIdentifier({ algorithmId: OID.sha256, algorithmParams: new asn1.Null() });
  const unsigned = timeStamp && {
    unsignedAttrs: new pkijs.SignedAndUnsignedAttributes({
      type: 1,
      attributes: [
        new pkijs.Attribute({ type: OID.timeStampToken, values: [asn1.fromBER(timeStamp).result] }),
      ],
    }),
  };
  const signedData = new pkijs.SignedData({
    version: 1,
    digestAlgorithms: [sha256()],
    encapContentInfo: new pkijs.EncapsulatedContentInfo({ eContentType: OID.data }),
    signerInfos: [
      new pkijs.SignerInfo({
        version: 1,
        sid: new pkijs.IssuerAndSerialNumber({ issuer: signer.issuer, serialNumber: signer.serialNumber }),
        digestAlgorithm: sha256(),
        signedAttrs: new pkijs.SignedAndUnsignedAttributes({
          type: 0,
          attributes: attributesOf({ pkijs, asn1 }, chain[0]!, digest),
        }),
        // sha256WithRSAEncryption
        signatureAlgorithm: new pkijs.AlgorithmIdentifier({
          algorithmId: '1.2.840.113549.1.1.11',
          algorithmParams: new asn1.Null(),
        }),
        signature: octets(asn1, signature),
        ...unsigned,
      }),
    ],
    certificates,
  });
  const content = new pkijs.ContentInfo({ contentType: OID.signedData, content: signedData.toSchema(true) });
  return new Uint8Array(content.toSchema().toBER(false));
}

/**
 * The parts of a CMS.
 *
 * @param cms DER, nothing after it.
 * @returns null: `encodeCms` does not make the same bytes from its parts.
 */
export async function decodeCms(cms: Uint8Array): Promise<CmsParts | null> {
  try {
    const { pkijs } = await loadPki();
    const content = pkijs.ContentInfo.fromBER(cms);
    const data = new pkijs.SignedData({ schema: content.content });
    const [signer] = data.signerInfos;
    const digest = signer?.signedAttrs?.attributes.find(({ type }) => type === OID.messageDigest);
    const token = signer?.unsignedAttrs?.attributes[0];
    const parts: CmsParts = {
      chain: (data.certificates ?? []).map(
        (one) => new Uint8Array((one as Pkijs.Certificate).toSchema().toBER(false)),
      ),
      digest: contentOf(digest!.values[0] as Asn1.OctetString),
      signature: contentOf(signer!.signature),
      timeStamp: token === undefined ? null : new Uint8Array((token.values[0] as Asn1.Sequence).toBER(false)),
    };
    return Buffer.from(await encodeCms(parts)).equals(cms) ? parts : null;
  } catch {
    // pkijs throws if it cannot read the bytes.
    return null;
  }
}

const octets = (asn1: Pki['asn1'], bytes: Uint8Array): Asn1.OctetString =>
  new asn1.OctetString({ valueHex: Uint8Array.from(bytes).buffer });

const contentOf = (value: Asn1.OctetString): Uint8Array => new Uint8Array(value.valueBlock.valueHexView);
