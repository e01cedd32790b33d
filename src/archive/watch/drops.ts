/** The entries of an inbox: what was dropped, and what is not a drop. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';

export interface Drop {
  readonly name: string;
  readonly path: string;
  /** `other`: neither a folder nor a file named .zip. Links are `other`, wherever they lead. */
  readonly kind: 'folder' | 'zip' | 'other';
}

/** Folders of the inbox that are never drops. */
export const DONE = 'done';
export const REFUSED = 'refused';
/** Tolerance sets that many jobs share: a job in the inbox names them as `../tolerances/…`. */
export const SHARED = 'tolerances';

/**
 * Hidden files, files that desktops make, and names under which browsers and copying programs write files that are not
 * complete yet.
 */
const NOT_DROPPED =
  /^(?:\.|~\$|desktop\.ini$|thumbs\.db$)|\.(?:part|partial|filepart|crdownload|download|tmp|temp)$/i;

/**
 * Sorted by name.
 *
 * @param leaveOut Further names that are no drops, such as the output folder inside the inbox.
 * @throws {Error} the folder cannot be read.
 */
export async function dropsIn(inbox: string, leaveOut: readonly string[] = []): Promise<Drop[]> {
  const kept = new Set([DONE, REFUSED, SHARED, ...leaveOut].map((name) => name.toLowerCase()));
  const drops: Drop[] = [];
  for (const entry of await readdir(inbox, { withFileTypes: true })) {
    const { name } = entry;
    if (NOT_DROPPED.test(name) || kept.has(name.toLowerCase())) continue;
    const isZip = entry.isFile() && /\.zip$/i.test(name);
    drops.push({
      name,
      path: join(inbox, name),
      kind: entry.isDirectory() ? 'folder' : isZip ? 'zip' : 'other',
    });
  }
  return drops.sort((a, b) => (a.name < b.name ? -1 : 1));
}
