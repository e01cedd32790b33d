/** A drop as job folders: as it is, or unpacked into a folder next to the reports. */
import { randomUUID } from 'node:crypto';
import { cp, readlink, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { reasonOf } from '../../survey/job/input-file.js';
import { findJobs } from '../batch/find-jobs.js';
import { planBatch, type Plan } from '../batch/plan.js';
import { SHARED, type Drop } from './drops.js';
import { MAX_ENTRIES, type Listing } from './listing.js';
import { unzip, type Unzipped } from './unzip.js';

/** The jobs of a drop, folders relative to `root`. */
export interface Opened {
  readonly root: string;
  readonly plan: Plan;
  /** Removes what was unpacked. */
  readonly close: () => Promise<void>;
}

export type Opening = { readonly opened: Opened } | { readonly refused: Unzipped };

export interface Places {
  readonly inbox: string;
  /** Where zips are unpacked. */
  readonly scratch: string;
  /** true: in the output folder, names that differ only in capitals are the same. */
  readonly foldCase: boolean;
}

/** @throws {Error} the disk, or the drive. */
export async function openDrop(
  drop: Drop,
  { isTooLarge }: Pick<Listing, 'isTooLarge'>,
  places: Places,
): Promise<Opening> {
  const at = { file: drop.name };
  if (isTooLarge)
    return refuse({ code: 'DROP_TOO_LARGE', severity: 'error', data: { limit: MAX_ENTRIES }, at });
  if (drop.kind === 'other') {
    const isLink = (await readlink(drop.path).catch(() => null)) !== null;
    const found = isLink ? 'a link to something elsewhere' : 'a file by itself';
    return refuse({ code: 'DROP_NOT_TAKEN', severity: 'error', data: { found }, at });
  }
  return drop.kind === 'folder'
    ? openFolder(drop, drop.path, places, async () => undefined)
    : openZip(drop, places);
}

async function openZip(drop: Drop, places: Places): Promise<Opening> {
  const room = join(places.scratch, randomUUID());
  // What cannot be removed now is removed when the next watch begins.
  const close = () => rm(room, { recursive: true, force: true, maxRetries: 3 }).catch(() => undefined);
  const content = join(room, 'content');
  try {
    const unzipped = await unzip(drop.path, drop.name, content);
    if (unzipped.problems.length > 0) {
      await close();
      return { refused: unzipped };
    }
    // A job finds the shared tolerance sets in the same place as in a dropped folder.
    for (const folder of [room, content]) await share(places.inbox, folder);
    return await openFolder(drop, content, places, close);
  } catch (error) {
    await close();
    throw error;
  }
}

/** Copies the shared tolerance sets; files that exist stay, because a zip may have its own. */
const share = (inbox: string, folder: string): Promise<void> =>
  cp(join(inbox, SHARED), join(folder, SHARED), {
    recursive: true,
    dereference: true,
    force: false,
  }).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'ENOENT') throw error;
  });

async function openFolder(
  { name, kind }: Drop,
  root: string,
  { foldCase }: Places,
  close: Opened['close'],
): Promise<Opening> {
  const at = { file: name };
  try {
    const found = await findJobs(root);
    if (found.folders.length + found.unreadable.length > 0)
      return { opened: { root, plan: await planBatch(root, found, null, foldCase), close } };
    await close();
    const data = { drop: kind };
    return refuse({ code: 'DROP_NO_JOB', severity: 'error', data, at }, true);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code !== 'EACCES' && code !== 'EPERM') throw error;
    const data = { path: name, reason: reasonOf(code) };
    return refuse({ code: 'FILE_UNREADABLE', severity: 'error', data, at }, true);
  }
}

const refuse = (problem: Diagnostic, mayBecomeWhole = false): Opening => ({
  refused: { problems: [problem], mayBecomeWhole },
});
