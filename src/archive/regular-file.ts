/** Reading files that somebody else may have put there: a pipe, a device or a link is not opened to be waited for. */
import { closeSync, constants, fstatSync, openSync, readFileSync, statSync } from 'node:fs';

/** Larger than any file of a report or of a log, bytes. */
export const MOST_BYTES = 128 * 2 ** 20;

/** @throws {Error} In words: not there, no regular file, or too large. */
export function readRegularFile(path: string, most = MOST_BYTES): Buffer {
  // Windows has neither of these flags, and neither named pipes nor links that open() follows in a folder of a report.
  const { O_RDONLY, O_NONBLOCK = 0, O_NOFOLLOW = 0 } = constants;
  let file: number;
  try {
    file = openSync(path, O_RDONLY | O_NONBLOCK | O_NOFOLLOW);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ELOOP') throw new Error(`${path} is a symbolic link, not a file`, { cause: error });
    if (code === 'ENXIO') throw new Error(`${path} is not a regular file`, { cause: error });
    throw error;
  }
  try {
    const found = fstatSync(file);
    if (!found.isFile()) throw new Error(`${path} is not a regular file`);
    if (found.size > most) throw new Error(`${path} has ${found.size} bytes; at most ${most} are read`);
    return readFileSync(file);
  } finally {
    closeSync(file);
  }
}

/** What lies at a path, links followed; null: nothing. */
export function kindAt(path: string): 'folder' | 'other' | null {
  try {
    return statSync(path).isDirectory() ? 'folder' : 'other';
  } catch {
    return null;
  }
}
