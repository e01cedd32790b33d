/** Every job folder below a folder. */
import { readdir, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { reasonOf } from '../../survey/job/input-file.js';
import { JOB_FILE } from '../../survey/job/job-paths.js';

export interface FoundJobs {
  /** Relative to the folder that was searched, `/` between parts, sorted; '.' for that folder itself. */
  readonly folders: readonly string[];
  /** Folders that could not be read. */
  readonly unreadable: readonly { readonly folder: string; readonly reason: string }[];
}

/**
 * A folder with a job.json is a job, and is not searched further. Links are not followed. Folders whose
 * names begin with a point are left out.
 *
 * @param leaveOut Folders that are not searched, such as an output folder inside `root`.
 * @throws {Error} `root` itself cannot be read.
 */
export async function findJobs(root: string, leaveOut: readonly string[] = []): Promise<FoundJobs> {
  const base = await realpath(root);
  const passed = new Set(
    (await Promise.all(leaveOut.map((path) => realpath(path).catch(() => null)))).filter((p) => p !== null),
  );
  const folders: string[] = [];
  const unreadable: { folder: string; reason: string }[] = [];
  const waiting = [''];
  for (let inside = waiting.pop(); inside !== undefined; inside = waiting.pop()) {
    const full = join(base, inside);
    if (inside !== '' && passed.has(full)) continue;
    const entries = await readdir(full, { withFileTypes: true }).catch(
      (error: NodeJS.ErrnoException) => error,
    );
    if (entries instanceof Error) {
      if (inside === '') throw entries;
      // A folder that was removed during the search does no harm.
      if (entries.code !== 'ENOENT')
        unreadable.push({ folder: inside, reason: reasonOf(entries.code ?? entries.message) });
    } else if (entries.some(({ name }) => name === JOB_FILE)) {
      folders.push(inside === '' ? '.' : inside);
    } else {
      for (const entry of entries)
        if (entry.isDirectory() && !entry.name.startsWith('.'))
          waiting.push(inside === '' ? entry.name : `${inside}/${entry.name}`);
    }
  }
  const byFolder = (a: { folder: string }, b: { folder: string }) => (a.folder < b.folder ? -1 : 1);
  return { folders: folders.sort(), unreadable: unreadable.sort(byFolder) };
}
