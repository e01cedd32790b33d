/**
 * One batch or watch at a time in an output folder. The lock is a file that names its holder. The lock of a holder that has
 * died is taken over.
 *
 * On the same machine, the process number and the start time of the process say whether the holder still runs. On another
 * machine (or in another container, which has its own process numbers) this cannot be asked. Then the file is watched: a
 * holder that runs changes it every few seconds. No clocks are compared.
 *
 * Own code: proper-lockfile, which was looked at, compares the file's time with the local clock, so it needs equal clocks on a
 * shared drive; it does not notice a dead process at once; and it has no parts of one archive that share a folder.
 */
import { createHash, randomUUID } from 'node:crypto';
import { execFile } from 'node:child_process';
import { open, readdir, readFile, readlink, rm, stat, utimes } from 'node:fs/promises';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { createFile } from '../create-file.js';
import { diskWords, makeFolder } from '../write-whole.js';
import { shardText, type Shard } from '../shard.js';

/** How often a holder changes its lock, and how long the lock of another machine is watched, ms. */
const BEAT_MS = 5_000;
const WATCHED_MS = 30_000;

interface Holder {
  readonly token: string;
  readonly host: string;
  /** Boot and process-number space; null if the system does not tell them. */
  readonly space: string | null;
  readonly pid: number;
  /** When the process started, in the system's own terms. */
  readonly started: string | null;
  readonly shard: string | null;
  /** What the holder does there; left out: a batch. */
  readonly by?: Occupation;
}

export type Occupation = 'batch' | 'watch' | 'issue';

export interface Lock {
  readonly path: string;
  /** false: the file was removed or taken over; another batch may be running. */
  readonly isHeld: () => boolean;
  release(): Promise<void>;
}

/** Another batch or watch uses the folder. */
export class FolderLocked extends Error {}

export interface LockOptions {
  /** Parts of one archive with the same `of` and different numbers may share a folder. */
  readonly shard?: Shard | null;
  readonly by?: Occupation;
  /** Called before a lock of another machine is watched. */
  readonly onWait?: (host: string, ms: number) => void;
  readonly watchedMs?: number;
  readonly beatMs?: number;
}

const lockName = (shard: Shard | null): string =>
  shard === null ? '.waysheet-batch.lock' : `.waysheet-batch-${shard.index}-of-${shard.of}.lock`;

/**
 * @param folder It is made if it does not exist.
 * @throws {FolderLocked} another batch is running there. {Error} the folder cannot be written to.
 */
export async function lockFolder(folder: string, options: LockOptions = {}): Promise<Lock> {
  const { shard = null, by = 'batch' } = options;
  const path = join(folder, lockName(shard));
  const me: Holder = { token: randomUUID(), ...(await thisProcess()), shard: shard && shardText(shard), by };
  try {
    await makeFolder(folder);
    await takeFile(folder, path, me, options);
  } catch (cause) {
    if (cause instanceof FolderLocked) throw cause;
    throw new Error(`could not write to ${folder}: ${diskWords(cause, folder)}`, { cause });
  }
  try {
    for (const other of await otherLocks(folder, shard)) {
      const holder = await readHolder(other);
      if (holder !== null && (await isAlive(other, holder, options))) throw locked(folder, holder);
    }
  } catch (error) {
    await rm(path, { force: true });
    throw error;
  }
  return keep(path, me, options.beatMs ?? BEAT_MS);
}

/** true: for the file system of the lock, names that differ only in capitals are the same. */
export const foldsCase = ({ path }: Lock): Promise<boolean> =>
  stat(join(dirname(path), basename(path).toUpperCase())).then(
    () => true,
    () => false,
  );

/** Locks of batches that may not run at the same time as this one. */
async function otherLocks(folder: string, shard: Shard | null): Promise<string[]> {
  return (await readdir(folder))
    .filter((name) => {
      const match = /^\.waysheet-batch(?:-(\d+)-of-(\d+))?\.lock$/.exec(name);
      if (match === null || name === lockName(shard)) return false;
      return shard === null || match[2] === undefined || Number(match[2]) !== shard.of;
    })
    .map((name) => join(folder, name));
}

async function takeFile(folder: string, path: string, me: Holder, options: LockOptions): Promise<void> {
  for (let attempt = 1; attempt <= 5; attempt++) {
    if (await createFile(path, `${path}.${me.token}`, `${JSON.stringify(me)}\n`)) return;
    const holder = await readHolder(path);
    if (holder !== null && (await isAlive(path, holder, options))) throw locked(folder, holder);
    await removeDeadLock(folder, path, holder, me, options);
  }
  throw new FolderLocked(`${folder} is claimed by several batches at the same time; run one of them.`);
}

/**
 * If several find the same dead lock, only the one that holds a claim on it may remove it; without the claim, a slow one would
 * remove the new lock of a quick one. The claim is a lock too, so a claim of a dead process is taken over in the same way.
 */
async function removeDeadLock(
  folder: string,
  path: string,
  dead: Holder | null,
  me: Holder,
  options: LockOptions,
): Promise<void> {
  const claim = `${path}.${createHash('sha256')
    .update(dead?.token ?? '')
    .digest('hex')
    .slice(0, 12)}.claim`;
  await takeFile(folder, claim, me, options);
  try {
    // Without hard links a lock is seen before all of it is written.
    if (dead === null) await sleep(100);
    if ((await readHolder(path))?.token === dead?.token) await rm(path, { force: true });
  } finally {
    await rm(claim, { force: true });
  }
}

/** null: there is no lock, or it was left half-written by a machine that lost its power. */
async function readHolder(path: string): Promise<Holder | null> {
  const text = await readFile(path, 'utf8').catch(() => '');
  try {
    const holder = JSON.parse(text) as Partial<Holder>;
    return typeof holder.token === 'string' && typeof holder.pid === 'number' ? (holder as Holder) : null;
  } catch {
    return null;
  }
}

async function isAlive(path: string, holder: Holder, options: LockOptions): Promise<boolean> {
  const here = await thisProcess();
  if (holder.host === here.host && holder.space === here.space) {
    if (!exists(holder.pid)) return false;
    const started = await startOf(holder.pid);
    // Another process may have this number now.
    if (started !== null && holder.started !== null) return started === holder.started;
  }
  return beats(path, holder, options);
}

async function beats(path: string, holder: Holder, options: LockOptions): Promise<boolean> {
  const { watchedMs = WATCHED_MS, onWait } = options;
  const first = await stamp(path);
  onWait?.(holder.host, watchedMs);
  const step = Math.max(10, Math.min(1_000, watchedMs / 10));
  for (let waited = 0; waited < watchedMs; waited += step) {
    await sleep(step);
    const now = await stamp(path);
    if (now === null) return false;
    if (now !== first) return true;
  }
  return false;
}

/** Opened anew each time: network file systems then ask the server. */
async function stamp(path: string): Promise<string | null> {
  const file = await open(path, 'r').catch(() => null);
  if (file === null) return null;
  try {
    const { mtimeMs, ino } = await file.stat();
    return `${ino} ${mtimeMs}`;
  } finally {
    await file.close();
  }
}

function keep(path: string, me: Holder, beatMs: number): Lock {
  let held = true;
  let beat = 0;
  const timer = setInterval(() => {
    void (async () => {
      const holder = await readHolder(path);
      if (holder?.token !== me.token) held = false;
      // Any change of the time is enough, whatever the clock says. A network that fails now and then does no harm.
      else await utimes(path, new Date(), new Date(Date.now() + (beat++ % 2))).catch(() => undefined);
    })();
  }, beatMs);
  timer.unref();
  return {
    path,
    isHeld: () => held,
    async release() {
      clearInterval(timer);
      if ((await readHolder(path))?.token === me.token)
        await rm(path, { force: true }).catch(() => undefined);
    },
  };
}

async function thisProcess(): Promise<Pick<Holder, 'host' | 'space' | 'pid' | 'started'>> {
  const boot = await readFile('/proc/sys/kernel/random/boot_id', 'utf8').catch(() => null);
  const numbers = await readlink('/proc/self/ns/pid').catch(() => null);
  const space = boot === null || numbers === null ? null : `${boot.trim()} ${numbers}`;
  return { host: hostname(), space, pid: process.pid, started: await startOf(process.pid) };
}

/** Linux: clock ticks since the boot; elsewhere what `ps` prints; null if neither is available. */
async function startOf(pid: number): Promise<string | null> {
  const stat = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => null);
  // The second field is the program's name, which may contain anything.
  if (stat !== null) {
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
    return fields[0] === 'Z' ? 'ended' : (fields[19] ?? null);
  }
  if (process.platform === 'win32') return null;
  return new Promise((resolve) => {
    execFile('ps', ['-o', 'lstart=', '-p', String(pid)], (error, out) => {
      resolve(error !== null || out.trim() === '' ? null : out.trim());
    });
  });
}

function exists(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

function locked(folder: string, { host, pid, shard, by = 'batch' }: Holder): FolderLocked {
  const part = shard === null ? '' : ` (part ${shard})`;
  return new FolderLocked(
    `${folder} is in use by another ${by}${part}: process ${pid} on ${host}. ${by === 'watch' ? 'End it first' : 'Wait for it'}, or choose another folder.`,
  );
}
