/** Removes what a killed worker leaves: its browser, which usually ends with it, and the browser's temporary folder. */
import { readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

/**
 * Ends the browsers of a process and removes their folders, whose names contain the process number.
 *
 * @param pid A worker process that has ended, or will end soon.
 */
export async function removeBrowsersOf(pid: number | undefined): Promise<void> {
  if (pid === undefined) return;
  const prefix = `waysheet-browser-${pid}-`;
  const folders = (await readdir(tmpdir()).catch(() => [])).filter((name) => name.startsWith(prefix));
  if (folders.length === 0) return;
  for (const browser of await processesNaming(join(tmpdir(), prefix))) killGroup(browser);
  await sleep(50); // they write until they end
  for (const name of folders)
    await rm(join(tmpdir(), name), { recursive: true, force: true, maxRetries: 5, retryDelay: 50 }).catch(
      () => undefined,
    );
}

/** Linux only. On other systems a browser ends when the pipe to its process breaks. */
async function processesNaming(path: string): Promise<number[]> {
  const found: number[] = [];
  for (const name of await readdir('/proc').catch(() => [])) {
    if (!/^\d+$/.test(name)) continue;
    const command = await readFile(`/proc/${name}/cmdline`, 'utf8').catch(() => '');
    if (command.includes(`--user-data-dir=${path}`)) found.push(Number(name));
  }
  return found;
}

/** A browser is started as the leader of a process group of its own. */
function killGroup(pid: number): void {
  for (const target of [-pid, pid]) {
    try {
      process.kill(target, 'SIGKILL');
    } catch {
      continue; // it is no leader, or has ended
    }
  }
}
