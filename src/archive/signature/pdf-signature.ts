/**
 * The office's electronic signature as bytes of the PDF: PAdES baseline B (with a time stamp: T), a signature field without a
 * picture, written after the printed bytes, which stay as they are.
 *
 * @see ETSI EN 319 142-1 (PAdES), 6.3; ISO 32000-2, 12.8.
 */

/** Room for the CMS in the file, bytes: an RSA signature, a chain of a few certificates and a time stamp with its own. */
const ROOM = 16_384;

/** Content of the signature field. */
export interface SignedAs {
  /** Common name of the signer. */
  readonly subject: string;
  /** Day of signing, ISO 8601. */
  readonly on: string;
  readonly reason: string;
}

/** The content of the field for an issued report. */
export const signedAs = (
  subject: string,
  issue: { readonly number: string; readonly on: string },
): SignedAs => ({
  subject,
  on: issue.on,
  reason: `Report ${issue.number} issued`,
});

export interface Prepared {
  /** The complete file, with zeros instead of the CMS. */
  readonly bytes: Buffer;
  /** Offset of the digits of the CMS. */
  readonly at: number;
  /** The signed bytes: all except the CMS and its brackets. */
  readonly content: Uint8Array;
}

/**
 * @param printed The printed and finished PDF.
 * @returns The same arguments give the same bytes.
 */
export async function prepareSignature(printed: Uint8Array, as: SignedAs): Promise<Prepared> {
  const bytes = Buffer.from(await withPlaceholder(printed, as));
  const mark = `<${'0'.repeat(2 * ROOM)}>`;
  const at = bytes.lastIndexOf(mark);
  const range = [0, at, at + mark.length, bytes.length - at - mark.length];
  const old = '/ByteRange [ 0 9999999999 9999999999 9999999999 ]';
  const place = bytes.lastIndexOf(old);
  bytes.write(`/ByteRange [ ${range.join(' ')} ]`.padEnd(old.length), place, 'latin1');
  const content = Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + mark.length)]);
  return { bytes, at: at + 1, content };
}

/** @throws {Error} the CMS is longer than its reserved space. */
export function completeSignature({ bytes, at }: Prepared, cms: Uint8Array): Uint8Array {
  if (cms.length > ROOM)
    throw new Error(
      `the signature with its certificates and time stamp has ${cms.length} bytes; there is room for ${ROOM}`,
    );
  const whole = new Uint8Array(bytes);
  Buffer.from(whole.buffer).write(Buffer.from(cms).toString('hex'), at, 'latin1');
  return whole;
}

export interface FoundSignature {
  /** DER, without the zeros that fill its reserved space. */
  readonly cms: Uint8Array;
  /** All bytes except the CMS and its brackets. */
  readonly content: Uint8Array;
}

/**
 * The signature of a file. After the printed bytes only the bytes that signing writes for the found CMS are permitted: they are
 * written again and compared. So range, name, day and reason do not have to be read.
 *
 * @param as The required content of the field.
 * @returns null: there are other bytes.
 */
export async function signatureOn(
  printed: Uint8Array,
  whole: Uint8Array,
  as: SignedAs,
): Promise<FoundSignature | null> {
  const prepared = await prepareSignature(printed, as).catch(() => null);
  if (prepared === null) return null;
  const digits = Buffer.from(whole).toString('latin1', prepared.at, prepared.at + 2 * ROOM);
  const padded = Buffer.from(digits, 'hex');
  const cms = padded.subarray(0, derLength(padded) ?? 0);
  return Buffer.from(completeSignature(prepared, cms)).equals(whole) && cms.length > 0
    ? { cms: new Uint8Array(cms), content: prepared.content }
    : null;
}

/** Length of the first DER value, its head included; null: none. @see ITU-T X.690, 8.1.3. */
function derLength(bytes: Buffer): number | null {
  if (bytes[0] !== 0x30 || bytes.length < 4) return null;
  const first = bytes[1]!;
  if (first < 0x80) return 2 + first;
  const count = first & 0x7f;
  if (count < 1 || count > 3) return null;
  const length = 2 + count + bytes.readUIntBE(2, count);
  return length <= bytes.length ? length : null;
}

async function withPlaceholder(pdf: Uint8Array, { subject, on, reason }: SignedAs): Promise<Uint8Array> {
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
