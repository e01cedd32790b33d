/** The locks of an inbox and its output folder, kept for as long as the watch goes on. */
import { lockFolder, type Lock } from '../batch/lock.js';

export interface Locks {
  /** Takes those that are not held. @throws {FolderLocked} {Error} */
  take(): Promise<void>;
  held(): readonly (Lock | null)[];
  release(): Promise<void>;
}

/** A drive that was away for a while has lost its lock, which is then taken again. */
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
