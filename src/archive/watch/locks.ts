/** The locks of an inbox and its output folder, held as long as the watch runs. */
import { lockFolder, type Lock } from '../batch/lock.js';

export interface Locks {
  /** Takes the locks that are not held. @throws {FolderLocked} {Error} */
  take(): Promise<void>;
  held(): readonly (Lock | null)[];
  release(): Promise<void>;
}

/** If a drive was not reachable for a while, its lock may be lost; it is then taken again. */
export function startLocks(folders: readonly string[], onWait: (host: string, ms: number) => void): Locks {
  const locks: (Lock | null)[] = folders.map(() => null);
  return {
    async take() {
      for (const [i, folder] of folders.entries()) {
        if (locks[i]?.isHeld() === true) continue;
        await locks[i]?.release();
        locks[i] = null;
        locks[i] = await lockFolder(folder, { by: 'watch', onWait });
      }
    },
    held: () => locks,
    async release() {
      for (const lock of locks) await lock?.release();
    },
  };
}
