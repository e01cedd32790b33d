/**
 * Writes a folder of deliverables whole or not at all: everything is written to a temporary folder next to it and flushed to the
 * disk, and gets the final name only when it is complete. A reader sees the earlier folder or the new one.
 *
 * A file is on the disk when the file and its folder were flushed: otherwise a new name can be lost in a power cut.
 * `write-file-atomic` was looked at for single files: it does not flush the folder, and does not write folders of several files. @see POSIX.1-2017, fsync and rename.
 */
import { cp, lstat, mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { randomUUID } from 'node:crypto';
import { jsonOf } from '../base/input/json-of.js';
import type { Deliverables } from '../pages/deliverables/deliverables.js';

/** `.<final name>.<tag>.new` is being written, `.<final name>.<tag>.old` was set aside. */
const TEMPORARY = /^\.(.+)\.[0-9a-f]{8}\.(?:new|old)$/s;

const temporaryNames = (parent: string, name: string): { fresh: string; earlier: string } => {
  const tag = randomUUID().slice(0, 8);
  return { fresh: join(parent, `.${name}.${tag}.new`), earlier: join(parent, `.${name}.${tag}.old`) };
};

/**
 * @param parent The output folder; it is made if it does not exist.
 * @param name The folder's final name below it.
 * @param keepAs Where the earlier folder is moved with all its files; null: it is replaced, and files that somebody added to
 *   it (a signed copy, a note) are copied. An issued report is never replaced.
 * @param mayReplace Called with the earlier folder when nobody can write into it by its name any more; returns in words why not.
 *
 * @throws {Error} the disk refused, or something that waysheet did not write has the name; the earlier folder is then unchanged.
 */
export async function writeWhole(
  parent: string,
  name: string,
  files: Deliverables,
  keepAs: string | null = null,
  mayReplace: (earlier: string) => Promise<string | null> = () => Promise.resolve(null),
): Promise<string> {
  const final = join(parent, name);
  const { fresh, earlier: replaced } = temporaryNames(parent, name);
  const earlier = keepAs ?? replaced;
  try {
    await makeFolder(parent);
    await assertReplaceable(final);
    const foreign = keepAs === null ? await foreignFilesIn(final, files) : [];
    await mkdir(fresh);
    for (const folder of foldersOf(files)) await mkdir(join(fresh, folder), { recursive: true });
    await inGroups([...files], ([path, bytes]) => writeDurably(join(fresh, path), bytes));
    for (const path of foreign) {
      await mkdir(dirname(join(fresh, path)), { recursive: true });
      await cp(join(final, path), join(fresh, path), { recursive: true, preserveTimestamps: true });
      await flushCopy(join(fresh, path));
    }
    await flushFolders(fresh);
    const isReplaced = await exists(final);
    if (isReplaced) {
      await makeFolder(dirname(earlier));
      await rename(final, earlier);
    }
    try {
      const reason = isReplaced
        ? ((keepAs === null ? await issuedReason(earlier) : null) ?? (await mayReplace(earlier)))
        : null;
      if (reason !== null) throw new Error(reason);
      await rename(fresh, final);
    } catch (cause) {
      if (isReplaced) await rename(earlier, final);
      throw cause;
    }
    await flushFolder(dirname(earlier));
    await flushFolder(parent);
  } catch (cause) {
    await rm(fresh, { recursive: true, force: true }).catch(() => undefined);
    throw new Error(`could not write ${final}: ${diskWords(cause, parent)}`, { cause });
  }
  if (keepAs === null) await rm(earlier, { recursive: true, force: true });
  return final;
}

/** The same by the path of the file. */
export const writeFileAt = (path: string, bytes: Uint8Array): Promise<void> =>
  writeFileWhole(dirname(path), basename(path), bytes);

/** Writes one file by the same rule: the earlier one or the new one, never a part. */
export const writeFileWhole = (parent: string, name: string, bytes: Uint8Array): Promise<void> =>
  writeFilesWhole(parent, new Map([[name, bytes]]));

/**
 * Writes files that belong together: each is written and flushed under another name before the first of them is renamed, so that
 * a full disk leaves all of them as they were. They are renamed in their order.
 */
export async function writeFilesWhole(parent: string, files: Deliverables): Promise<void> {
  const written = [...files].map(([name, bytes]) => ({ name, bytes, ...temporaryNames(parent, name) }));
  let name = [...files.keys()][0] ?? '';
  try {
    await makeFolder(parent);
    for (const one of written) {
      name = one.name;
      await writeDurably(one.fresh, one.bytes);
    }
    for (const one of written) {
      name = one.name;
      await rename(one.fresh, join(parent, name));
    }
    await flushFolder(parent);
  } catch (cause) {
    for (const { fresh } of written) await rm(fresh, { force: true }).catch(() => undefined);
    throw new Error(`could not write ${join(parent, name)}: ${diskWords(cause, parent)}`, { cause });
  }
}

/**
 * Removes what an interrupted run left next to a folder. If the run died between its two renames, the earlier folder has
 * another name: it gets its name back.
 */
export async function recover(parent: string, name: string): Promise<void> {
  await recoverAll(parent, (of) => of === name);
}

/** The same for many names in one folder. @param isOurs true: the final name belongs to this run. */
export async function recoverAll(parent: string, isOurs: (name: string) => boolean): Promise<void> {
  const names = await readdir(parent).catch(() => [] as string[]);
  for (const left of names.sort()) {
    const name = TEMPORARY.exec(left)?.[1];
    if (name === undefined || !isOurs(name)) continue;
    const path = join(parent, left);
    if (left.endsWith('.old') && !(await exists(join(parent, name)))) {
      await rename(path, join(parent, name));
      await flushFolder(parent);
    } else await rm(path, { recursive: true, force: true });
  }
}

/** Raw readings are never replaced: if the output folder is the folder of jobs, a report would replace a job folder. */
async function assertReplaceable(final: string): Promise<void> {
  const found = await lstat(final).catch(() => null);
  if (found !== null && !found.isDirectory() && !found.isSymbolicLink())
    throw new Error(
      'a file has this name, and a folder is to be written; move the file, or choose another output folder',
    );
  if (await exists(join(final, 'job.json')))
    throw new Error('a job folder has this name; choose another output folder');
}

/**
 * Files in the folder that its manifest does not list, and that the new ones do not replace.
 *
 * @throws {Error} the folder has no manifest, so waysheet did not write it.
 */
async function foreignFilesIn(final: string, files: Deliverables): Promise<string[]> {
  const found = await readdir(final, { recursive: true, withFileTypes: true }).catch(() => []);
  const paths = found
    .filter((entry) => !entry.isDirectory())
    .map((entry) => relative(final, join(entry.parentPath, entry.name)).split(sep).join('/'));
  if (paths.length === 0) return [];
  const listed = await listedIn(final);
  if (listed === null)
    throw new Error(
      `the folder holds files that waysheet did not write (${paths.slice(0, 3).join(', ')}${paths.length > 3 ? ' …' : ''}); move them, or choose another output folder`,
    );
  return paths.filter((path) => path !== 'manifest.json' && !listed.has(path) && !files.has(path)).sort();
}

/** The outputs that a folder's manifest names; null: it has none. */
async function listedIn(final: string): Promise<ReadonlySet<string> | null> {
  const text = await readFile(join(final, 'manifest.json'), 'utf8').catch(() => null);
  if (text === null) return namedLikeOurs(final);
  try {
    const { format, outputs } = JSON.parse(text) as { format?: string; outputs?: { path?: string }[] };
    if (!String(format).startsWith('waysheet-manifest/')) return null;
    return new Set((outputs ?? []).map(({ path }) => String(path)));
  } catch {
    // Cut off or damaged: it is not known what it listed, so all files are copied that are not replaced.
    return new Set();
  }
}

/** For a report without its manifest: the names of a report's files. null: it is no report. */
async function namedLikeOurs(final: string): Promise<ReadonlySet<string> | null> {
  const results = await readFile(join(final, 'results.json'), 'utf8').catch(() => '');
  if (!results.slice(0, 200).includes('"waysheet-results/')) return null;
  const charts = await readdir(join(final, 'charts')).catch(() => []);
  return new Set([
    ...['report.pdf', 'report.html', 'results.json', 'stations.csv'],
    ...['corrections.csv', 'corrections.html', 'corrections.pdf'],
    ...charts.filter((name) => /\.(?:svg|vl\.json)$/.test(name)).map((name) => `charts/${name}`),
  ]);
}

const foldersOf = (files: Deliverables): Set<string> =>
  new Set([...files.keys()].map((path) => dirname(path)));

/** Number of files that are written at the same time: flushing takes most of the time, and several take as long as one. */
const AT_ONCE = 4;

async function inGroups<T>(items: readonly T[], action: (item: T) => Promise<void>): Promise<void> {
  const rest = [...items];
  const work = async () => {
    for (let item = rest.shift(); item !== undefined; item = rest.shift()) await action(item);
  };
  // All must end before anything is removed.
  const ends = await Promise.allSettled(Array.from({ length: AT_ONCE }, work));
  const failed = ends.find((end) => end.status === 'rejected');
  if (failed !== undefined) throw failed.reason;
}

async function writeDurably(path: string, bytes: Uint8Array): Promise<void> {
  const file = await open(path, 'w');
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** What the system refuses, by its error code, with what a person can do about it. */
const REFUSALS: Readonly<Record<string, string>> = {
  EROFS: 'the disk may only be read; choose another output folder',
  EACCES: 'this user may not write there; choose another output folder, or ask for the right to write',
  EPERM: 'this user may not write there; choose another output folder, or ask for the right to write',
  ENOSPC: 'the disk is full; make room, or choose another output folder',
  EDQUOT: 'this user has no more room on the disk; make room, or choose another output folder',
  EFBIG: 'a file would be larger than is allowed here; raise the limit, or choose another output folder',
  ENOTDIR: 'there is a file where a folder is needed; name another output folder, or move the file',
  EEXIST: 'there is a file where a folder is needed; name another output folder, or move the file',
  EISDIR: 'there is a folder where a file is to be written; name a file in it, or move the folder',
  ENAMETOOLONG: 'the name is too long; choose a shorter output folder',
};

/** Why something could not be written, in words; unknown reasons as the system states them. */
export function diskWords(cause: unknown, folder: string): string {
  const { code, message } = cause as NodeJS.ErrnoException;
  const words = code === undefined ? undefined : REFUSALS[code];
  return words === undefined ? message : `${words} (${folder}: ${code})`;
}

const isFolder = (path: string): Promise<boolean> =>
  stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );

/**
 * Makes a folder and its missing parents, and flushes them, so that they are not lost in a power cut. One by one, because on a
 * disk that may only be read `mkdir` with `recursive` says that the folder is missing.
 */
export async function makeFolder(path: string): Promise<void> {
  if (await isFolder(path)) return;
  const parent = dirname(resolve(path));
  if (parent !== resolve(path)) await makeFolder(parent);
  await mkdir(path).catch(async (error: unknown) => {
    if (!(await isFolder(path))) throw error;
  });
  await flushFolder(parent);
}

/** Flushes the names in a folder to the disk. Windows does not open folders; it writes names at once. */
export async function flushFolder(path: string): Promise<void> {
  if (process.platform === 'win32') return;
  const folder = await open(path, 'r');
  try {
    await folder.sync();
  } catch (error) {
    // Some network file systems cannot flush a folder.
    if (!['EINVAL', 'ENOTSUP', 'EISDIR'].includes(String((error as NodeJS.ErrnoException).code))) throw error;
  } finally {
    await folder.close();
  }
}

async function flushFolders(path: string): Promise<void> {
  const entries = await readdir(path, { withFileTypes: true });
  for (const entry of entries) if (entry.isDirectory()) await flushFolders(join(path, entry.name));
  await flushFolder(path);
}

/** Flushes a copied file; a link has nothing to flush. */
async function flushCopy(path: string): Promise<void> {
  if (!(await lstat(path)).isFile()) return;
  const file = await open(path, 'r+');
  try {
    await file.sync();
  } finally {
    await file.close();
  }
}

/** Why a report that was issued in the meantime is not replaced; null: it was not issued. */
async function issuedReason(folder: string): Promise<string | null> {
  const manifest = jsonOf(await readFile(join(folder, 'manifest.json')).catch(() => '')) as
    { issue?: unknown } | null | undefined;
  return typeof manifest?.issue === 'string'
    ? `report ${manifest.issue} was issued there, and an issued report is never written over`
    : null;
}

const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );
