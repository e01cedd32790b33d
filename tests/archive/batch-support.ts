/** Archives of small jobs on disk, and the program run on them. */
import { program } from '../support/program.js';
import { createHash } from 'node:crypto';
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { chmod, chown, cp, mkdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Register } from '../../src/archive/register/register.js';
import { changeJob, sample, temporary } from '../support/folders.js';

export { waysheet } from '../support/command.js';

export interface Running {
  readonly process: ChildProcess;
  readonly ended: Promise<{ status: number | null; signal: string | null; out: string; err: string }>;
}

/** dist/ is what `npm test` builds first. */
export function start(
  args: readonly string[],
  env: NodeJS.ProcessEnv = {},
  user: { uid?: number; gid?: number } = {},
): Running {
  const child = spawn(process.execPath, [program(), ...args], {
    env: { ...process.env, ...env },
    ...user,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let out = '';
  let err = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text));
  child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text));
  return {
    process: child,
    ended: new Promise((resolve) =>
      child.once('close', (status, signal) => resolve({ status, signal, out, err })),
    ),
  };
}

/**
 * The user that has no rights, for tests that the administrator runs.
 *
 * @param open Folders that are opened to all. @param own One that becomes that user's.
 * @returns null where that user cannot run the program.
 */
export async function nobodyWith(
  open: readonly string[],
  own: string,
): Promise<{ uid: number; gid: number } | null> {
  const nobody = { uid: 65_534, gid: 65_534 };
  for (const folder of open) await chmod(folder, 0o755);
  await chown(own, nobody.uid, nobody.gid);
  return (await start(['--version'], {}, nobody).ended).status === 0 ? nobody : null;
}

/** @returns A folder with jobs J-00, J-01 … in two folders, each with readings of its own. */
export async function archiveOf(count: number): Promise<string> {
  const archive = join(await temporary(), 'jobs');
  for (let k = 0; k < count; k++)
    await addJob(archive, `site ${k % 2}/job ${k}`, `J-${String(k).padStart(2, '0')}`, k);
  return archive;
}

export async function addJob(archive: string, folder: string, id: string, k = 0): Promise<string> {
  const target = join(archive, folder);
  await mkdir(dirname(target), { recursive: true });
  await cp(sample('TH-0412'), target, { recursive: true });
  await changeJob(target, (job) => {
    job.id = id;
    job.machine.serial = `W-${k >> 1}`;
  });
  shiftReading(target, k / 10);
  return target;
}

/** Moves the first reading by so many µm. */
export function shiftReading(folder: string, um: number): void {
  const path = join(folder, 'readings/as-left.csv');
  const lines = readFileSync(path, 'utf8').split('\n');
  const column = lines[0]!.split(',').indexOf('vertical');
  const cells = lines[1]!.split(',');
  cells[column] = (Number(cells[column]) + um).toFixed(2);
  lines[1] = cells.join(',');
  writeFileSync(path, lines.join('\n'));
}

/** SHA-256 of every file below a folder, by path; names that begin with a point too. */
export function fingerprint(folder: string): Record<string, string> {
  const files: Record<string, string> = {};
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    files[path.slice(folder.length + 1)] = createHash('sha256').update(readFileSync(path)).digest('hex');
  }
  return files;
}

export const registerOf = async (out: string, name = 'register.json'): Promise<Register> =>
  JSON.parse(await readFile(join(out, name), 'utf8')) as Register;

/** Processes whose command holds a text; Linux. */
export function processesNaming(text: string): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name) && Number(name) !== process.pid)
    .filter((name) => commandOf(name).includes(text))
    .map(Number);
}

function commandOf(pid: string): string {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, 'utf8');
  } catch {
    return '';
  }
}

/** Children of a process; Linux. */
export function childrenOf(pid: number): number[] {
  try {
    return readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').split(' ').filter(Boolean).map(Number);
  } catch {
    return [];
  }
}

export async function until<T>(what: () => T | undefined | false, ms = 30_000): Promise<T> {
  for (const end = Date.now() + ms; Date.now() < end;) {
    const found = what();
    if (found !== undefined && found !== false) return found;
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  throw new Error('waited in vain');
}

/** A small disk of its own, where this user may mount one. */
export async function smallDisk(megabytes: number): Promise<string | null> {
  const folder = await temporary();
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'waysheet-test', folder], {
      stdio: 'ignore',
    });
    return folder;
  } catch {
    return null;
  }
}

export const isLinux = process.platform === 'linux';
