/**
 * When a drop has stopped changing. It is looked at again and again; nothing is told by events, and no clock is
 * compared with a file's time.
 *
 * Settled: for the settling time no name, kind, size or time of change was different from one look to the next,
 * and the bytes at the end of that time are those at its beginning. The bytes count because some copies take their
 * full size first and fill it later, and because times of change may be coarse or late on a network drive. A time
 * that changes while the bytes do not (a backup, a virus scan, a server's rounding) starts nothing anew.
 */
import type { Listing } from './listing.js';

export interface Settling extends Pick<Listing, 'shape' | 'stamps'> {
  /** Of the bytes, at the first look that found no change; null before it. */
  readonly digest: string | null;
  /** How long nothing has changed, ms. */
  readonly quietMs: number;
  /** When it was last looked at, ms of a clock that only gives differences. */
  readonly seenMs: number;
  readonly isSettled: boolean;
}

export interface SettlingTimes {
  /** Between two looks. */
  readonly pollMs: number;
  readonly settleMs: number;
}

/**
 * One more look.
 *
 * @param digest Of the bytes as they are now; called only when it matters.
 */
export async function look(
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
  // However long it was not looked at, one look is one look; a clock that goes backwards adds nothing.
  const quietMs = before.quietMs + Math.min(Math.max(nowMs - before.seenMs, 0), 2 * pollMs);
  const same = { ...before, stamps, quietMs, seenMs: nowMs };
  const isDue = quietMs >= settleMs;
  if (!isTouched && before.digest !== null && (before.isSettled || !isDue)) return same;
  const found = await digest();
  if (before.digest !== null && found !== before.digest) return { ...anew, digest: found };
  return { ...same, digest: found, isSettled: isDue && before.digest !== null };
}
