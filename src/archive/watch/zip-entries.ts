/** Reasons not to unpack a zip, from its list of contents alone. Pure. */
import { capPerCode } from '../../base/diagnostics/cap.js';
import { Findings, type Diagnostic } from '../../base/diagnostics/diagnostic.js';

export interface ZipEntry {
  /** With `/` between parts; the name of a folder ends with `/`. */
  readonly name: string;
  /** Size when unpacked and when packed, bytes. */
  readonly size: number;
  readonly packed: number;
  readonly isEncrypted: boolean;
  /** Compression method. 0: stored, 8: deflated; others are not read. */
  readonly method: number;
  /** File type bits of a Unix mode; 0 where the zip has none. */
  readonly fileType: number;
}

export interface ZipLimits {
  readonly entries: number;
  /** Of all files together, unpacked. */
  readonly bytes: number;
  /** Greatest ratio of unpacked to packed size, for a zip that unpacks to more than `unsuspectedBytes`. */
  readonly ratio: number;
  readonly unsuspectedBytes: number;
}

export const ZIP_LIMITS: ZipLimits = {
  entries: 10_000,
  bytes: 2 ** 30,
  ratio: 200,
  unsuspectedBytes: 32 * 2 ** 20,
};

/** Files that desktops add to a zip; they are never unpacked. */
export const isLitter = (name: string): boolean =>
  /(?:^|\/)(?:__MACOSX\/|\.DS_Store$|Thumbs\.db$|desktop\.ini$)/i.test(name);

const REGULAR = 0o100000;
const FOLDER = 0o040000;

/** @param file The zip's name, for the messages. @returns Every problem; empty: it may be unpacked. */
export function checkEntries(
  entries: readonly ZipEntry[],
  file: string,
  limits: ZipLimits = ZIP_LIMITS,
): readonly Diagnostic[] {
  const findings = new Findings();
  const at = { file };
  const seen = new Set<string>();
  for (const entry of entries) {
    const { name, method } = entry;
    if (!isPlainPath(name)) findings.error('ZIP_LEADS_OUT', { entry: name }, at);
    if (entry.isEncrypted) findings.error('ZIP_ENCRYPTED', { entry: name }, at);
    else if (method !== 0 && method !== 8) findings.error('ZIP_METHOD', { entry: name, method }, at);
    if (![0, REGULAR, FOLDER].includes(entry.fileType)) findings.error('ZIP_LINK', { entry: name }, at);
    if (seen.has(sameName(name))) findings.error('ZIP_REPEATED', { entry: name }, at);
    seen.add(sameName(name));
  }
  const files = new Set(entries.filter(({ name }) => !name.endsWith('/')).map(({ name }) => sameName(name)));
  for (const { name } of entries)
    for (const folder of foldersAbove(name))
      if (files.has(sameName(folder))) findings.error('ZIP_REPEATED', { entry: folder }, at);
  const bytes = entries.reduce((sum, { size }) => sum + size, 0);
  const packed = entries.reduce((sum, entry) => sum + entry.packed, 0);
  if (bytes > limits.bytes) findings.error('ZIP_TOO_LARGE', { bytes, limit: limits.bytes }, at);
  else if (bytes > limits.unsuspectedBytes && bytes > packed * limits.ratio)
    findings.error('ZIP_BOMB', { bytes, packed, limit: limits.ratio }, at);
  return capPerCode(findings.list).list;
}

/** Names that are the same on some file systems count as the same. */
const sameName = (name: string): string => name.replace(/\/$/, '').normalize('NFC').toLowerCase();

function foldersAbove(name: string): string[] {
  const parts = name.replace(/\/$/, '').split('/');
  return parts.slice(1).map((_, i) => parts.slice(0, i + 1).join('/'));
}

/** Relative, downwards only, and without characters that a file system reads in another way. */
function isPlainPath(name: string): boolean {
  const parts = name.replace(/\/$/, '').split('/');
  return (
    name.length <= 1_000 &&
    parts.length <= 40 &&
    !/^[A-Za-z]:|[\u0000-\u001f\u007f]/.test(name) &&
    parts.every((part) => part !== '' && part !== '.' && part !== '..' && Buffer.byteLength(part) <= 255)
  );
}
