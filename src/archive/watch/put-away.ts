/** Moves a drop out of the inbox, under a name that nothing there has. */
import { lstat, rename } from 'node:fs/promises';
import { dirname, join, parse } from 'node:path';
import { flushFolder } from '../write-whole.js';
import type { Drop } from './drops.js';
import { digestOf, listDrop } from './listing.js';

export interface Place {
  readonly folder: string;
  readonly name: string;
  /** Name of the problem page beside it. */
  readonly page: string;
  /** Ends the reservation. */
  readonly free: () => void;
}

const pageName = (name: string): string => `${name}.problems.html`;

/**
 * The drop's own name, or `name (2)`, `name (3)` … where earlier ones lie.
 *
 * @param reserved Where other drops are on their way to; this one's place is added.
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
    // A page without its drop was left by a run that was interrupted; a drop that is called like a page has its own.
    if ((await exists(join(folder, tried))) || (await exists(join(folder, pageName(page))))) continue;
    if (reserved.has(key)) continue;
    reserved.add(key);
    return { folder, name: tried, page, free: () => void reserved.delete(key) };
  }
}

/**
 * @param digest Of the drop's bytes as they were reported.
 * @returns false: the drop changed as it was moved, and lies in the inbox again.
 * @throws {Error} the drop could not be moved, and lies where it was; or could not be moved back.
 */
export async function putAway({ path }: Drop, target: string, digest: string): Promise<boolean> {
  await rename(path, target).catch((cause: Error) => {
    throw new Error(`it cannot be moved to ${target}: ${cause.message}`, { cause });
  });
  for (const folder of [dirname(target), dirname(path)]) await flushFolder(folder);
  if ((await digestAt(target)) === digest) return true;
  // Whoever copies it may have begun it anew; then both stay.
  if (await exists(path))
    throw new Error(`${target} changed as it was moved there, and ${path} is there again: look at both`);
  await rename(target, path);
  return false;
}

/** null: nothing is there. */
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
