/**
 * Writes a folder of deliverables whole or not at all: everything goes into a folder beside, is flushed to the
 * disk, and takes the final name only when it is complete. Whoever looks sees the earlier folder or the new one.
 */
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { randomUUID } from 'node:crypto';

/** By path relative to the folder, `/` between its parts. */
export type Deliverables = ReadonlyMap<string, Uint8Array>;

const isTemporary = (name: string, of: string): boolean =>
  name.startsWith(`.${of}.`) && /\.(new|old)$/.test(name);

/**
 * @param parent The output folder, made when it is not there.
 * @param name The folder's final name below it.
 * @throws {Error} the disk refused; the earlier folder, if any, is then still in place.
 */
export async function writeWhole(parent: string, name: string, files: Deliverables): Promise<string> {
  await mkdir(parent, { recursive: true });
  const final = join(parent, name);
  const tag = randomUUID().slice(0, 8);
  const fresh = join(parent, `.${name}.${tag}.new`);
  const earlier = join(parent, `.${name}.${tag}.old`);
  try {
    for (const [path, bytes] of files) await writeDurably(join(fresh, path), bytes);
    if (await exists(final)) await rename(final, earlier);
    try {
      await rename(fresh, final);
    } catch (cause) {
      if (await exists(earlier)) await rename(earlier, final);
      throw cause;
    }
  } catch (cause) {
    await rm(fresh, { recursive: true, force: true });
    throw new Error(`could not write ${final}: ${(cause as Error).message}`, { cause });
  }
  await rm(earlier, { recursive: true, force: true });
  return final;
}

/**
 * Clears what an interrupted run left beside a folder. A run that died between its two renames left the earlier
 * folder under another name: it goes back into its place.
 */
export async function recover(parent: string, name: string): Promise<void> {
  const names = await readdir(parent).catch(() => [] as string[]);
  for (const left of names.filter((n) => isTemporary(n, name)).sort()) {
    const path = join(parent, left);
    if (left.endsWith('.old') && !(await exists(join(parent, name)))) await rename(path, join(parent, name));
    else await rm(path, { recursive: true, force: true });
  }
}

async function writeDurably(path: string, bytes: Uint8Array): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const file = await open(path, 'w');
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
}

const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );
