/** Unpacks a zip into a folder of its own, after its whole list of contents was checked. */
import { createWriteStream } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { crc32 } from 'node:zlib';
import { getFileNameLowLevel, openPromise, type Entry, type ZipFile } from 'yauzl';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { checkEntries, isLitter, ZIP_LIMITS, type ZipEntry, type ZipLimits } from './zip-entries.js';

/** Why a zip was not unpacked. */
export interface Unzipped {
  /** Empty: the zip is unpacked. */
  readonly problems: readonly Diagnostic[];
  /** true: the copy of the zip may not be complete yet. */
  readonly mayBecomeWhole: boolean;
}

/**
 * @param file The zip's name, for the messages.
 * @param target A new folder that holds nothing else.
 * @throws {Error} the zip could not be opened, or the disk could not be written.
 */
export async function unzip(
  path: string,
  file: string,
  target: string,
  limits: ZipLimits = ZIP_LIMITS,
): Promise<Unzipped> {
  try {
    // It is closed here only, whatever happens before.
    const zip = await openPromise(path, { autoClose: false, decodeStrings: false });
    try {
      const listed = await listEntries(zip, limits);
      if (listed === null) {
        const data = { count: zip.entryCount, limit: limits.entries };
        return refused({ code: 'ZIP_TOO_MANY', severity: 'error', data, at: { file } });
      }
      const problems = checkEntries(
        listed.map(({ about }) => about),
        file,
        limits,
      );
      if (problems.length > 0) return { problems, mayBecomeWhole: false };
      await mkdir(target, { recursive: true });
      for (const { entry, about } of listed) await unpack(zip, entry, about.name, target);
      return { problems: [], mayBecomeWhole: false };
    } finally {
      zip.close();
    }
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    // Errors of the library have no code; those of streams and of zlib have one with a _.
    if (code !== undefined && !code.includes('_')) throw error;
    const isCutOff = /end of central directory/i.test(message);
    const problem: Diagnostic = isCutOff
      ? { code: 'ZIP_CUT_OFF', severity: 'error', data: {}, at: { file } }
      : { code: 'ZIP_DAMAGED', severity: 'error', data: { reason: message }, at: { file } };
    return { problems: [problem], mayBecomeWhole: true };
  }
}

const refused = (problem: Diagnostic): Unzipped => ({ problems: [problem], mayBecomeWhole: false });

interface Listed {
  readonly entry: Entry;
  readonly about: ZipEntry;
}

/** null: more entries than are read. */
async function listEntries(zip: ZipFile, limits: ZipLimits): Promise<Listed[] | null> {
  const listed: Listed[] = [];
  if (zip.entryCount > limits.entries) return null;
  for await (const entry of zip.eachEntry()) {
    const about = aboutEntry(entry);
    if (about.name !== '' && !isLitter(about.name)) listed.push({ entry, about });
  }
  return listed;
}

/** Makers of a zip whose attributes hold a Unix mode: Unix and OS X. */
const UNIX = new Set([3, 19]);

function aboutEntry(entry: Entry): ZipEntry {
  return {
    name: plainName(nameOf(entry)),
    size: entry.uncompressedSize,
    packed: entry.compressedSize,
    isEncrypted: entry.isEncrypted(),
    method: entry.compressionMethod,
    fileType: UNIX.has(entry.versionMadeBy >> 8) ? (entry.externalFileAttributes >>> 16) & 0o170000 : 0,
  };
}

/** Names are in UTF-8 if the zip says so, and often if it does not; else in the old code page. */
function nameOf({ generalPurposeBitFlag: flag, fileNameRaw, extraFields }: Entry): string {
  const declared = getFileNameLowLevel(flag, fileNameRaw, extraFields, false);
  if ((flag & 0x800) !== 0 || extraFields.some(({ id }) => id === 0x7075)) return declared;
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(fileNameRaw).replaceAll('\\', '/');
  } catch {
    return declared;
  }
}

/** Without `.` steps. An absolute path stays as it is, and is refused. */
const plainName = (name: string): string =>
  name.startsWith('/')
    ? name
    : name
        .split('/')
        .filter((part, i, all) => part !== '.' && (part !== '' || (i > 0 && i === all.length - 1)))
        .join('/');

/** The library checks that a file is not larger than the list says; the check sum is checked here. */
async function unpack(zip: ZipFile, entry: Entry, name: string, target: string): Promise<void> {
  const path = join(target, name);
  if (name.endsWith('/')) return void (await mkdir(path, { recursive: true }));
  await mkdir(dirname(path), { recursive: true });
  let sum = 0;
  const summed = new Transform({
    transform(chunk: Buffer, _, done) {
      sum = crc32(chunk, sum);
      done(null, chunk);
    },
  });
  const source = await zip.openReadStreamPromise(entry);
  await pipeline(source, summed, createWriteStream(path, { flags: 'wx', mode: 0o600 }));
  if (sum !== entry.crc32) throw new Error(`${name} is not what was packed: its check sum differs`);
}
