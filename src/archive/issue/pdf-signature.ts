/**
 * The office's electronic signature on the PDF: PAdES baseline B, a detached CMS over all bytes of the file, written on
 * top of the issued bytes, which stay as they are.
 *
 * The CMS is made by pkijs: `@signpdf` writes no attribute that names the signer's certificate by its hash, which
 * baseline B wants, and node-forge knows no other attributes than its own.
 *
 * @see ETSI EN 319 142-1 (PAdES), 6.3; EN 319 122-1 (CAdES), 5.2.2.3; ISO 32000-2, 12.8; RFC 5652; RFC 5035.
 */
import { createHash, webcrypto, X509Certificate, type KeyObject } from 'node:crypto';
import { privateKeyIn } from '../signing.js';

/** Room for the CMS in the file, bytes: an RSA signature with a chain of a few certificates. */
const ROOM = 16_384;

const OID = {
  data: '1.2.840.113549.1.7.1',
  signedData: '1.2.840.113549.1.7.2',
  contentType: '1.2.840.113549.1.9.3',
  messageDigest: '1.2.840.113549.1.9.4',
  signingCertificateV2: '1.2.840.113549.1.9.16.2.47',
};

export interface OfficeCertificate {
  /** The signer's first, then those that issued it; DER. */
  readonly chain: readonly Uint8Array[];
  readonly privateKey: KeyObject;
  /** Common names. */
  readonly subject: string;
  readonly issuer: string;
}

/**
 * @param certificates PEM, the signer's first.
 * @param key PEM (PKCS #8), RSA: its signatures over the same bytes are the same bytes.
 * @throws {Error} what is wrong with them; the message holds nothing of the key.
 */
export function officeCertificate(certificates: string, key: string): OfficeCertificate {
  const blocks = certificates.match(/-----BEGIN CERTIFICATE-----[^-]+-----END CERTIFICATE-----/g) ?? [];
  if (blocks.length === 0) throw new Error('the certificate file holds no certificate in PEM');
  const chain = blocks.map((pem) => new X509Certificate(pem));
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

const commonName = (name: string): string => /^CN=(.+)$/m.exec(name)?.[1] ?? name.replaceAll('\n', ', ');

/** Whether it may sign on a day, ISO 8601. */
export function isValidOn({ chain }: OfficeCertificate, day: string): boolean {
  const { validFrom, validTo } = new X509Certificate(chain[0]!);
  const at = Date.parse(day);
  // A day counts as within where any part of it is.
  return at + 86_400_000 > Date.parse(validFrom) && at < Date.parse(validTo);
}

/**
 * @param pdf As it was printed and finished.
 * @param on Day of signing, ISO 8601.
 * @returns The same bytes with the signature behind them; the same arguments give the same bytes.
 */
export async function signPdf(
  pdf: Uint8Array,
  certificate: OfficeCertificate,
  on: string,
  reason: string,
): Promise<Uint8Array> {
  const prepared = Buffer.from(await withPlaceholder(pdf, certificate, on, reason));
  const mark = `<${'0'.repeat(2 * ROOM)}>`;
  const at = prepared.lastIndexOf(mark);
  const range = [0, at, at + mark.length, prepared.length - at - mark.length];
  const old = /\/ByteRange \[ 0 9{10} 9{10} 9{10} \]/.exec(prepared.toString('latin1'))!;
  const text = `/ByteRange [ ${range.join(' ')} ]`.padEnd(old[0].length);
  prepared.write(text, old.index, 'latin1');
  const signed = Buffer.concat([prepared.subarray(0, at), prepared.subarray(at + mark.length)]);
  const cms = Buffer.from(await detachedCms(signed, certificate)).toString('hex');
  if (cms.length > 2 * ROOM) throw new Error('the chain of certificates is too long for the signature');
  prepared.write(cms, at + 1, 'latin1');
  return new Uint8Array(prepared);
}

/** A signature field without a picture: what a reader should know of it stands among the signatures of the report. */
async function withPlaceholder(
  pdf: Uint8Array,
  { subject }: OfficeCertificate,
  on: string,
  reason: string,
): Promise<Uint8Array> {
  const { PDFDocument, PDFHexString, PDFName, PDFNumber, PDFString, PDFArray } =
    await import('@cantoo/pdf-lib');
  const document = await PDFDocument.load(pdf, { updateMetadata: false, forIncrementalUpdate: true });
  const { context, catalog } = document;
  const range = PDFArray.withContext(context);
  range.push(PDFNumber.of(0));
  for (let k = 0; k < 3; k++) range.push(PDFNumber.of(9_999_999_999));
  const signature = context.register(
    context.obj({
      Type: 'Sig',
      Filter: 'Adobe.PPKLite',
      SubFilter: 'ETSI.CAdES.detached',
      ByteRange: range,
      Contents: PDFHexString.of('0'.repeat(2 * ROOM)),
      Name: PDFHexString.fromText(subject),
      Reason: PDFHexString.fromText(reason),
      M: PDFString.of(`D:${on.replaceAll('-', '')}000000Z`),
    }),
  );
  const page = document.getPage(0);
  const field = context.register(
    context.obj({
      Type: 'Annot',
      Subtype: 'Widget',
      FT: 'Sig',
      Rect: [0, 0, 0, 0],
      V: signature,
      T: PDFString.of('Signature1'),
      // Print, and locked.
      F: 132,
      P: page.ref,
    }),
  );
  page.node.addAnnot(field);
  catalog.set(PDFName.of('AcroForm'), context.obj({ SigFlags: 3, Fields: [field] }));
  return document.save({ updateFieldAppearances: false, useObjectStreams: false });
}

async function detachedCms(
  content: Uint8Array,
  { chain, privateKey }: OfficeCertificate,
): Promise<ArrayBuffer> {
  const [pkijs, asn1] = await Promise.all([import('pkijs'), import('asn1js')]);
  const crypto = new pkijs.CryptoEngine({ crypto: webcrypto as never, name: 'node' });
  const certificates = chain.map((der) => pkijs.Certificate.fromBER(der));
  const signer = certificates[0]!;
  const octets = (bytes: Uint8Array) => new asn1.OctetString({ valueHex: Uint8Array.from(bytes).buffer });
  const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest();
  const attribute = (type: string, value: unknown) => new pkijs.Attribute({ type, values: [value] });
  // ESSCertIDv2 with SHA-256, its default, so that the algorithm is left out.
  const named = new asn1.Sequence({
    value: [new asn1.Sequence({ value: [new asn1.Sequence({ value: [octets(sha256(chain[0]!))] })] })],
  });
  const signedData = new pkijs.SignedData({
    version: 1,
    encapContentInfo: new pkijs.EncapsulatedContentInfo({ eContentType: OID.data }),
    signerInfos: [
      new pkijs.SignerInfo({
        version: 1,
        sid: new pkijs.IssuerAndSerialNumber({ issuer: signer.issuer, serialNumber: signer.serialNumber }),
        signedAttrs: new pkijs.SignedAndUnsignedAttributes({
          type: 0,
          attributes: [
            attribute(OID.contentType, new asn1.ObjectIdentifier({ value: OID.data })),
            attribute(OID.messageDigest, octets(sha256(content))),
            attribute(OID.signingCertificateV2, named),
          ],
        }),
      }),
    ],
    certificates,
  });
  const key = await webcrypto.subtle.importKey(
    'pkcs8',
    privateKey.export({ type: 'pkcs8', format: 'der' }),
    { name: 'RSASSA-PKCS1-v1_5', hash: 'SHA-256' },
    false,
    ['sign'],
  );
  await signedData.sign(key as never, 0, 'SHA-256', Uint8Array.from(content).buffer, crypto);
  return new pkijs.ContentInfo({
    contentType: OID.signedData,
    content: signedData.toSchema(true),
  })
    .toSchema()
    .toBER(false);
}
