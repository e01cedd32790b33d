import { lstatSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const PREFIX = 'waysheet-browser-';
const DAY_MS = 86_400_000;

const open = new Set<string>();

/**
 * A new folder that only this user can enter (mkdtemp: mode 0700, a name nobody can guess), removed at
 * the end of the process. After a kill, the next run removes it.
 */
export function temporaryFolder(): string {
  if (open.size === 0) {
    process.once('exit', removeAll);
    removeLeftovers();
  }
  const path = mkdtempSync(join(tmpdir(), `${PREFIX}${process.pid}-`));
  open.add(path);
  return path;
}

/**
 * To be called when a browser has been started. puppeteer ends it at the end of the process, too, and a
 * folder can only be removed after that.
 */
export function removeAfterBrowser(): void {
  process.off('exit', removeAll);
  process.once('exit', removeAll);
}

/** Browser processes may still be writing while they end, hence the retries. */
export async function removeTemporaryFolder(path: string): Promise<void> {
  await rm(path, { recursive: true, force: true, maxRetries: 5, retryDelay: 50 }).catch(() => undefined);
  open.delete(path);
  if (open.size === 0) process.off('exit', removeAll);
}

function removeAll(): void {
  for (const path of open) removeQuietly(path);
}

/**
 * Folders of processes that were killed. The process number alone proves nothing where containers
 * share a temporary folder, so a leftover must also be a day old.
 */
function removeLeftovers(): void {
  for (const name of readdirSync(tmpdir())) {
    const pid = /^waysheet-browser-(\d+)-/.exec(name)?.[1];
    if (pid === undefined || isAlive(Number(pid))) continue;
    const path = join(tmpdir(), name);
    const found = lstatSync(path, { throwIfNoEntry: false });
    const isOurs =
      found?.isDirectory() === true && (process.getuid === undefined || found.uid === process.getuid());
    if (isOurs && Date.now() - found.mtimeMs > DAY_MS) removeQuietly(path);
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'; // somebody else's process
  }
}

/** At the end of the process nobody can be told of a file that cannot be removed. */
function removeQuietly(path: string): void {
  try {
    rmSync(path, { recursive: true, force: true, maxRetries: 3 });
  } catch {
    return;
  }
}
