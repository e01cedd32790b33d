/** Moves a drop out of the inbox, under a name that is free. */
import { lstat, rename } from 'node:fs/promises';
import { dirname, join, parse } from 'node:path';
import { flushFolder } from '../write-whole.js';
import type { Drop } from './drops.js';
import { digestOf, listDrop } from './listing.js';

export interface Place {
  readonly folder: string;
  readonly name: string;
  /** Name of the problem page next to it. */
  readonly page: string;
  /** Ends the reservation. */
  readonly free: () => void;
}

const pageName = (name: string): string => `${name}.problems.html`;

/**
 * The drop's own name, or `name (2)`, `name (3)` … if earlier drops have it.
 *
 * @param reserved Places to which other drops are being moved; the place of this one is added.
 */
export async function placeFor(
  folder: string,
  { name, kind }: Pick<Drop, 'name' | 'kind'>,
  reserved: Set<string>,
): Promise<Place> {
  const { name: stem, ext } = kind === 'folder' ? { name, ext: '' } : parse(name);
  for (let n = 1; ; n++) {
    const tried = n === 1 ? name : `${stem} (${n})${ext}`;
    const page = pageName(tried);
    const key = join(folder, tried).toLowerCase();
    // An interrupted run may leave a page without its drop. A drop that is named like a page has a page of its own.
    if ((await exists(join(folder, tried))) || (await exists(join(folder, pageName(page))))) continue;
    if (reserved.has(key)) continue;
    reserved.add(key);
    return { folder, name: tried, page, free: () => void reserved.delete(key) };
  }
}

/**
 * @param digest Of the drop's bytes as they were reported.
 * @returns false: the drop changed while it was moved, and is in the inbox again.
 * @throws {Error} the drop could not be moved, and is where it was; or could not be moved back.
 */
export async function putAway({ path }: Drop, target: string, digest: string): Promise<boolean> {
  await rename(path, target).catch((cause: Error) => {
    throw new Error(`it cannot be moved to ${target}: ${cause.message}`, { cause });
  });
  for (const folder of [dirname(target), dirname(path)]) await flushFolder(folder);
  if ((await digestAt(target)) === digest) return true;
  // Somebody may have started the copy again; then both stay.
  if (await exists(path))
    throw new Error(`${target} changed while it was moved there, and ${path} exists again: check both`);
  await rename(target, path);
  return false;
}

/** null: it does not exist. */
export async function digestAt(path: string): Promise<string | null> {
  const listing = await listDrop(path);
  return listing === null ? null : digestOf(path, listing);
}

const exists = (path: string): Promise<boolean> =>
  lstat(path).then(
    () => true,
    (error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return false;
      throw error;
    },
  );
