import type { Stats } from 'node:fs';
import { chmod, lstat, mkdir, realpath, stat } from 'node:fs/promises';
import { homedir, tmpdir } from 'node:os';
import { dirname, isAbsolute, join } from 'node:path';

/** Write permission of the group and of others. */
const WRITABLE_BY_OTHERS = 0o022;
/** In a sticky folder (such as the temporary one) only an entry's owner may rename or delete it. */
const STICKY = 0o1000;
const WORLD_WRITABLE = 0o002;

/**
 * Where a program of this user may be kept, best first. The temporary folder is shared, so the name
 * in it carries the user's number and openPrivateFolder() refuses it when somebody else made it.
 *
 * @see XDG Base Directory Specification: a relative XDG_CACHE_HOME is to be ignored.
 */
export function privateFolders(env: NodeJS.ProcessEnv): string[] {
  const xdg = env['XDG_CACHE_HOME'];
  const caches = xdg !== undefined && isAbsolute(xdg) ? [xdg] : [];
  const home = env['HOME'] ?? homedir();
  if (isAbsolute(home)) caches.push(join(home, '.cache'));
  return [...caches.map((cache) => join(cache, 'waysheet')), join(tmpdir(), `waysheet-${ownUser()}`)];
}

/**
 * Makes the folder when it is missing (mode 0700) and makes sure that nobody else can change what is
 * in it, nor put another folder in its place.
 *
 * @throws {Error} It cannot be made, is a link, belongs to somebody else, or is in a folder that
 *   everybody may write to.
 */
export async function openPrivateFolder(path: string): Promise<void> {
  await mkdir(path, { recursive: true, mode: 0o700 }).catch((error: unknown) => {
    throw new Error(`${path} cannot be made`, { cause: error });
  });
  const found = await lstat(path);
  const wrong = whyNotOwn(found, 'folder');
  if (wrong !== undefined && wrong !== 'is writable by others') throw new Error(`${path} ${wrong}`);
  if ((found.mode & 0o077) !== 0) await chmod(path, 0o700);
  await assertNobodyCanReplace(await realpath(path));
}

/** Why an entry is not safely this user's own; nothing when it is. Never follows a link. */
export function whyNotOwn(found: Stats, kind: 'file' | 'folder'): string | undefined {
  if (found.isSymbolicLink()) return 'is a link';
  if (kind === 'file' ? !found.isFile() : !found.isDirectory()) return `is not a ${kind}`;
  if (found.uid !== ownUser()) return `belongs to user ${found.uid}`;
  if ((found.mode & WRITABLE_BY_OTHERS) !== 0) return 'is writable by others';
  return undefined;
}

/** Who may write to a parent folder may rename what is in it, unless the folder is sticky. */
async function assertNobodyCanReplace(path: string): Promise<void> {
  for (let at = dirname(path); ; at = dirname(at)) {
    const { mode } = await stat(at);
    if ((mode & WORLD_WRITABLE) !== 0 && (mode & STICKY) === 0) {
      throw new Error(`${path} is not safe: everybody may change ${at}`);
    }
    if (at === dirname(at)) return;
  }
}

/** @throws {Error} On Windows, which has no user numbers; the packed browser is for Linux. */
function ownUser(): number {
  if (process.getuid === undefined) throw new Error('this system has no user numbers');
  return process.getuid();
}
