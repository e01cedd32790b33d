/**
 * Ed25519 signatures in the open envelope DSSE (Dead Simple Signing Envelope, version 1: the signed bytes are the type and the
 * content, each with its length). Node's crypto signs. The encoding is one line, so no library is used for it.
 */
import {
  createHash,
  createPrivateKey,
  createPublicKey,
  sign,
  verify,
  X509Certificate,
  type KeyObject,
} from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import * as z from 'zod';
import { jsonOf } from '../base/input/json-of.js';

/** Next to manifest.json, which it contains and signs. */
export const SIGNATURE_FILE = 'manifest.dsse.json';
export const MANIFEST_TYPE = 'application/vnd.waysheet.manifest+json';
export const LOG_LINE_TYPE = 'application/vnd.waysheet.issued+json';

const envelopeSchema = z.object({
  payloadType: z.string(),
  payload: z.base64(),
  signatures: z.array(z.object({ keyid: z.string(), sig: z.base64() })).length(1),
});

export interface SigningKey {
  readonly privateKey: KeyObject;
  /** SHA-256 of the public key (SPKI, DER), hexadecimal. */
  readonly keyid: string;
}

export interface TrustedKey {
  /** The name of its file, without the ending. */
  readonly name: string;
  readonly publicKey: KeyObject;
  readonly keyid: string;
}

/** @see DSSE protocol, "PAE(type, body)". */
function preAuthEncoding(type: string, body: Uint8Array): Buffer {
  const head = `DSSEv1 ${Buffer.byteLength(type)} ${type} ${body.length} `;
  return Buffer.concat([Buffer.from(head), body]);
}

const keyIdOf = (publicKey: KeyObject): string =>
  createHash('sha256')
    .update(publicKey.export({ type: 'spki', format: 'der' }))
    .digest('hex');

/**
 * @param pem PKCS #8.
 * @param whose "the signing key"
 * @throws {Error} no private key of that type; the message contains nothing of the key.
 */
export function privateKeyIn(pem: string, whose: string, type: 'ed25519' | 'rsa'): KeyObject {
  let key: KeyObject;
  try {
    key = createPrivateKey(pem);
  } catch {
    throw new Error(`${whose} is no private key in PEM (PKCS #8), or has a passphrase`);
  }
  if (key.asymmetricKeyType !== type)
    throw new Error(`${whose} is ${key.asymmetricKeyType ?? 'of another kind'}; wanted is ${type}`);
  return key;
}

/** @param pem Ed25519, PKCS #8. @throws {Error} it is none. */
export function signingKey(pem: string): SigningKey {
  const privateKey = privateKeyIn(pem, 'the signing key', 'ed25519');
  return { privateKey, keyid: keyIdOf(createPublicKey(privateKey)) };
}

export interface TrustedCertificate {
  /** The name of its file, without the ending. */
  readonly name: string;
  readonly der: Uint8Array;
}

export interface Trust {
  /** Ed25519, for manifests and lines of the log. */
  readonly keys: readonly TrustedKey[];
  /** For PDF signatures and time stamps: certificates of the signers or of their issuers. */
  readonly certificates: readonly TrustedCertificate[];
}

/**
 * The keys and certificates that an auditor trusts: a folder of PEM files. Other files are not read.
 *
 * @throws {Error} the folder cannot be read, contains none, or contains a private key.
 */
export async function trustIn(folder: string): Promise<Trust> {
  const names = (await readdir(folder)).filter((name) => /\.(pem|pub|crt|cer)$/i.test(name)).sort();
  const keys: TrustedKey[] = [];
  const certificates: TrustedCertificate[] = [];
  for (const file of names) {
    const text = await readFile(join(folder, file), 'utf8');
    const name = file.replace(/\.[^.]+$/, '');
    if (text.includes('PRIVATE KEY'))
      throw new Error(`${join(folder, file)} is a private key: keep it elsewhere; here belong public keys`);
    try {
      const found = certificatesIn(text);
      certificates.push(...found.map((der) => ({ name, der })));
      if (found.length > 0) continue;
      const publicKey = createPublicKey(text);
      keys.push({ name, publicKey, keyid: keyIdOf(publicKey) });
    } catch {
      throw new Error(`${join(folder, file)} is no public key and no certificate in PEM`);
    }
  }
  if (keys.length + certificates.length === 0)
    throw new Error(`${folder} holds no public keys and no certificates (*.pem, *.pub, *.crt, *.cer)`);
  return { keys, certificates };
}

/** DER of the certificates in a PEM file, in its order. @throws {Error} one of them is none. */
export const certificatesIn = (pem: string): Uint8Array[] =>
  (pem.match(/-----BEGIN CERTIFICATE-----[^-]+-----END CERTIFICATE-----/g) ?? []).map(
    (block) => new Uint8Array(new X509Certificate(block).raw),
  );

/** Signature of a body of that type, in base64. @see DSSE, protocol.md (pre-authentication encoding). */
export const signatureOf = (type: string, body: Uint8Array, key: SigningKey): string =>
  sign(null, preAuthEncoding(type, body), key.privateKey).toString('base64');

/** The bytes of an envelope. */
export function envelope(type: string, body: Uint8Array, key: SigningKey): Uint8Array {
  const document = {
    payloadType: type,
    payload: Buffer.from(body).toString('base64'),
    signatures: [{ keyid: key.keyid, sig: signatureOf(type, body, key) }],
  };
  return bytesOf(document);
}

const bytesOf = (document: z.infer<typeof envelopeSchema>): Uint8Array =>
  new TextEncoder().encode(`${JSON.stringify(document, null, 2)}\n`);

export type SignatureState =
  | { readonly state: 'good'; readonly by: string }
  | { readonly state: 'unknown-key'; readonly keyid: string }
  | { readonly state: 'bad'; readonly why: string };

/** Exactly as the named key would write it, because nothing else in it is signed. */
export function checkSignature(
  type: string,
  body: Uint8Array,
  { keyid, sig }: { readonly keyid: string; readonly sig: string },
  trusted: readonly TrustedKey[],
): SignatureState {
  const key = trusted.find((one) => one.keyid === keyid);
  if (key === undefined) return { state: 'unknown-key', keyid };
  const bytes = Buffer.from(sig, 'base64');
  return bytes.toString('base64') === sig && verify(null, preAuthEncoding(type, body), key.publicKey, bytes)
    ? { state: 'good', by: key.name }
    : { state: 'bad', why: 'it does not belong to what it is said to sign' };
}

/** @param body The expected content of the envelope. */
export function checkEnvelope(
  bytes: Uint8Array,
  type: string,
  body: Uint8Array,
  trusted: readonly TrustedKey[],
): SignatureState {
  const parsed = envelopeSchema.safeParse(jsonOf(bytes)).data;
  // Other text in the file is not signed, and a person may read it.
  if (parsed === undefined || !Buffer.from(bytes).equals(bytesOf(parsed)))
    return { state: 'bad', why: `${SIGNATURE_FILE} is not written as waysheet writes it` };
  const { payloadType, payload, signatures } = parsed;
  if (payloadType !== type) return { state: 'bad', why: `it signs ${payloadType}, not a manifest` };
  if (!Buffer.from(payload, 'base64').equals(body))
    return { state: 'bad', why: 'manifest.json is not what was signed' };
  return checkSignature(type, body, signatures[0]!, trusted);
}
