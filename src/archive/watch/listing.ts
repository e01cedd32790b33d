/** The content of a drop at one moment, by its directory entries and by its bytes. */
import { createHash, type Hash } from 'node:crypto';
import { constants } from 'node:fs';
import { lstat, open, readdir, readlink } from 'node:fs/promises';
import { join } from 'node:path';

export interface Listing {
  /** Names, kinds and sizes of everything in it. */
  readonly shape: string;
  /** Times of last change. They are compared with each other only, never with a clock: they may be wrong or coarse. */
  readonly stamps: string;
  /** Its files, relative to the drop, '' for a drop that is a file; sorted. */
  readonly files: readonly string[];
  /** It has more entries than are listed. */
  readonly isTooLarge: boolean;
}

/** A drop with more files and folders than this is an archive: the command batch reports it. */
export const MAX_ENTRIES = 20_000;

/** @returns null: it does not exist (any more). @throws {Error} it cannot be read. */
export async function listDrop(path: string): Promise<Listing | null> {
  const shape: string[] = [];
  const stamps: string[] = [];
  const files: string[] = [];
  const waiting = [''];
  for (let inside = waiting.pop(); inside !== undefined; inside = waiting.pop()) {
    const full = join(path, inside);
    const stat = await lstat(full).catch(orNull);
    if (stat === null) {
      if (inside === '') return null;
      continue; // it was removed just now: the next listing will differ
    }
    if (stat.isDirectory()) {
      const names = await readdir(full).catch(orReason);
      if (typeof names === 'string') shape.push(`${inside}\0${names}`);
      else {
        shape.push(`${inside}\0folder`);
        for (const name of names) waiting.push(inside === '' ? name : `${inside}/${name}`);
      }
    } else {
      const kind = stat.isFile() ? 'file' : stat.isSymbolicLink() ? 'link' : 'other';
      shape.push(`${inside}\0${kind}\0${stat.size}`);
      stamps.push(`${inside}\0${stat.mtimeMs}`);
      if (kind === 'file') files.push(inside);
    }
    if (shape.length + waiting.length > MAX_ENTRIES)
      return { shape: 'too large', stamps: '', files: [], isTooLarge: true };
  }
  return {
    shape: shape.sort().join('\n'),
    stamps: stamps.sort().join('\n'),
    files: files.sort(),
    isTooLarge: false,
  };
}

/** Of larger files only both ends are hashed: a copy is written from one end to the other. */
const WHOLE_BYTES = 16 * 2 ** 20;
const END_BYTES = 2 ** 20;

/**
 * SHA-256 over the bytes. Each file is opened again, because network file systems then ask the server. For a file that
 * cannot be read, the reason is hashed instead.
 */
export async function digestOf(path: string, { shape, files }: Listing): Promise<string> {
  const hash = createHash('sha256').update(shape);
  for (const inside of files) {
    hash.update(`\0${inside}\0`);
    try {
      await addFile(hash, join(path, inside));
    } catch (error) {
      hash.update(`\0${(error as NodeJS.ErrnoException).code ?? ''}\0`);
    }
  }
  // The link itself, never what it leads to.
  if (files.length === 0) hash.update(await readlink(path).catch(() => ''));
  return hash.digest('hex');
}

/** Does not wait if it is no file any more: opening a pipe would block. */
async function addFile(hash: Hash, path: string): Promise<void> {
  const flags = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOFOLLOW ?? 0);
  const file = await open(path, flags);
  try {
    const { size } = await file.stat();
    hash.update(`${size}\0`);
    const parts =
      size <= WHOLE_BYTES
        ? [[0, size]]
        : [
            [0, END_BYTES],
            [size - END_BYTES, size],
          ];
    const buffer = Buffer.alloc(Math.min(size, END_BYTES));
    for (const [from, to] of parts as [number, number][])
      for (let at = from; at < to;) {
        const { bytesRead } = await file.read(buffer, 0, Math.min(buffer.length, to - at), at);
        if (bytesRead === 0) break;
        hash.update(buffer.subarray(0, bytesRead));
        at += bytesRead;
      }
  } finally {
    await file.close();
  }
}

/** A missing right stays until somebody changes it; any other error is one of the drive. */
function orReason(error: NodeJS.ErrnoException): string {
  if (['ENOENT', 'ENOTDIR', 'EACCES', 'EPERM'].includes(error.code ?? '')) return error.code!;
  throw error;
}

function orNull(error: NodeJS.ErrnoException): null {
  if (error.code === 'ENOENT' || error.code === 'ENOTDIR') return null;
  throw error;
}
