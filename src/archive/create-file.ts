import { link, rm, writeFile } from 'node:fs/promises';

/**
 * Makes a file that several processes may try to make at the same time: it appears complete, or not at all.
 *
 * @param own Where the text is written first; a name on the same file system that nobody else uses.
 * @returns false: there is one already.
 */
export async function createFile(path: string, own: string, text: string): Promise<boolean> {
  await writeFile(own, text, { flag: 'wx' });
  try {
    return await isFirst(link(own, path), () =>
      // No hard links on this file system: the file is seen before all of it is written.
      isFirst(writeFile(path, text, { flag: 'wx' })),
    );
  } finally {
    await rm(own, { force: true });
  }
}

/** @param otherwise Called if it fails for another reason than that the file exists. */
async function isFirst(made: Promise<void>, otherwise?: () => Promise<boolean>): Promise<boolean> {
  try {
    await made;
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    if (otherwise !== undefined) return otherwise();
    throw error;
  }
}
