/**
 * When a drop has stopped changing. It is checked again and again. Events of the file system are not used, and no clock is
 * compared with a file's time.
 *
 * Stable means: during the settling time no name, kind, size or time of change differed from one check to the next, and the
 * bytes at the end of that time are those at its beginning. The bytes are compared because some copies take their full size
 * first and fill it later, and because times of change may be coarse or late on a network drive. If a time changes and the
 * bytes do not (a backup, a virus scan, a server's rounding), the wait does not start again.
 *
 * Own code: chokidar, which was looked at, uses events, or polls times and sizes (`awaitWriteFinish`: the size), and not bytes.
 */
import type { Listing } from './listing.js';

export interface Settling extends Pick<Listing, 'shape' | 'stamps'> {
  /** Digest of the bytes, at the first check that found no change; null before it. */
  readonly digest: string | null;
  /** How long nothing has changed, ms. */
  readonly quietMs: number;
  /** When it was last checked, ms of a clock for differences only. */
  readonly seenMs: number;
  readonly isSettled: boolean;
}

export interface SettlingTimes {
  /** Time between two checks. */
  readonly pollMs: number;
  readonly settleMs: number;
}

/**
 * One more check.
 *
 * @param digest Gives the digest of the bytes as they are now; called only when it is needed.
 */
export async function checkStability(
  before: Settling | null,
  { shape, stamps }: Pick<Listing, 'shape' | 'stamps'>,
  nowMs: number,
  { pollMs, settleMs }: SettlingTimes,
  digest: () => Promise<string>,
): Promise<Settling> {
  const anew = { shape, stamps, digest: null, quietMs: 0, seenMs: nowMs, isSettled: false };
  if (before === null || before.shape !== shape) return anew;
  const isTouched = before.stamps !== stamps;
  if (isTouched && before.digest === null) return anew;
  // One check adds two polling times at most, however long ago the last one was; a clock that goes backwards adds nothing.
  const quietMs = before.quietMs + Math.min(Math.max(nowMs - before.seenMs, 0), 2 * pollMs);
  const same = { ...before, stamps, quietMs, seenMs: nowMs };
  const isDue = quietMs >= settleMs;
  if (!isTouched && before.digest !== null && (before.isSettled || !isDue)) return same;
  const found = await digest();
  if (before.digest !== null && found !== before.digest) return { ...anew, digest: found };
  return { ...same, digest: found, isSettled: isDue && before.digest !== null };
}
