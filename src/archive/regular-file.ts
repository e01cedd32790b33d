/** Reads files that somebody else may have put there: pipes, devices and links are refused without waiting. */
import { closeSync, constants, fstatSync, openSync, readFileSync, statSync } from 'node:fs';

/** Larger than any file of a report or of a log, bytes. */
const MAX_BYTES = 128 * 2 ** 20;

/** @throws {Error} in words: it does not exist, is no regular file, or is too large. */
export function readRegularFile(path: string, most = MAX_BYTES): Buffer {
  // Windows does not have these flags, and it has no named pipes in a folder.
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

/** null: it cannot be read; whoever needs it says so. */
export function readQuietly(path: string): Buffer | null {
  try {
    return readRegularFile(path);
  } catch {
    return null;
  }
}

/** What is at a path, links followed; null: nothing. */
export function kindAt(path: string): 'folder' | 'other' | null {
  try {
    return statSync(path).isDirectory() ? 'folder' : 'other';
  } catch {
    return null;
  }
}
