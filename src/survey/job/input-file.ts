/** Reading one input file safely: only where a job may read, only up to a stated size, with its hash. */
import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import { open, realpath } from 'node:fs/promises';
import { join, sep } from 'node:path';
import { JOB_FILE } from './job-paths.js';
import type { Diagnostic, Outcome, Place } from '../../base/diagnostics/diagnostic.js';

export interface FileBytes {
  readonly bytes: Uint8Array;
  /** Lower-case hexadecimal. */
  readonly sha256: string;
}

/** Largest job or tolerance file, and largest readings file, in bytes. */
export const MAX_JSON_BYTES = 16 * 2 ** 20;
export const MAX_READINGS_BYTES = 128 * 2 ** 20;

const refuse = (diagnostic: Diagnostic): Outcome<never> => ({ ok: false, diagnostics: [diagnostic] });

/**
 * The bytes of `path`, a path relative to `folder` that was checked by job-paths.ts.
 *
 * @param root The folder, relative to `folder`, in which the file must be after symbolic links are resolved.
 * @param place Where the input names the file, for the messages.
 * @returns Fails: FILE_MISSING; FILE_OUTSIDE_JOB if a link leads out of `root`; FILE_UNREADABLE for
 *   folders, devices, pipes and files that the system refuses; FILE_TOO_LARGE, before anything is read.
 */
export async function readInputFile(
  folder: string,
  path: string,
  root: string,
  limit: number,
  place: Place,
): Promise<Outcome<FileBytes>> {
  const error = <C extends Diagnostic['code']>(code: C, data: Diagnostic<C>['data']): Outcome<never> =>
    refuse({ code, severity: 'error', at: place, data } as Diagnostic);
  try {
    const [real, realRoot] = await Promise.all([realpath(join(folder, path)), realpath(join(folder, root))]);
    if (!isWithin(real, realRoot)) return error('FILE_OUTSIDE_JOB', { path });
    const bytes = await readWhole(real, limit);
    if (bytes === 'no file') return error('FILE_UNREADABLE', { path, reason: 'it is not a file' });
    if (typeof bytes === 'number') return error('FILE_TOO_LARGE', { bytes, limit });
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    return { ok: true, value: { bytes, sha256 }, diagnostics: [] };
  } catch (thrown) {
    const code = (thrown as NodeJS.ErrnoException).code;
    if (code === undefined) throw thrown;
    return code === 'ENOENT' || (code === 'ENOTDIR' && path !== JOB_FILE)
      ? error('FILE_MISSING', { path })
      : error('FILE_UNREADABLE', { path, reason: reasonOf(code) });
  }
}

const isWithin = (file: string, folder: string): boolean =>
  file.startsWith(folder.endsWith(sep) ? folder : folder + sep);

/** Opens the file once, so that the size that is checked is the size of the bytes that are read. With `O_NONBLOCK`, opening a pipe does not wait. */
async function readWhole(path: string, limit: number): Promise<Uint8Array | number | 'no file'> {
  const handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  try {
    const stat = await handle.stat();
    if (!stat.isFile()) return 'no file';
    if (stat.size > limit) return stat.size;
    const bytes = await handle.readFile();
    return bytes.length > limit ? bytes.length : bytes;
  } finally {
    await handle.close();
  }
}

const NOT_ALLOWED =
  'it may not be read by this user; close it where it is open, or give this user the right to read it';
/** By the system's code. */
export const fileReasons: Readonly<Record<string, string>> = {
  EACCES: NOT_ALLOWED,
  EPERM: NOT_ALLOWED,
  EBUSY: 'another program keeps it locked; close it there',
  EISDIR: 'it is a folder',
  ENOTDIR: 'a file was named in place of the job folder; name the folder that it is in',
  ELOOP: 'its symbolic links lead round in a circle',
  EMFILE: 'too many files are open',
  ENAMETOOLONG: 'its name is too long',
};
/** Why the system refuses, in words. @param code Its error code, such as EACCES. */
export const reasonOf = (code: string): string => fileReasons[code] ?? `the system says ${code}`;
