/** When something that failed is tried again: each time after a longer wait. Each reason is reported once. */

export interface Backoff {
  /** @returns true: the reason differs from that of the last failure. */
  fail(message: string): boolean;
  clear(): void;
  isDue(): boolean;
  /** Number of failures in a row. */
  times(): number;
}

const MAX_WAIT_MS = 600_000;

/** @param firstMs The first wait, ms. @param now A clock for differences only, ms. */
export function startBackoff(firstMs: number, now: () => number): Backoff {
  let times = 0;
  let last: string | null = null;
  let since = 0;
  return {
    fail(message) {
      const isNew = message !== last;
      last = message;
      times++;
      since = now();
      return isNew;
    },
    clear() {
      times = 0;
      last = null;
    },
    isDue: () => times === 0 || now() - since >= Math.min(firstMs * 2 ** (times - 1), MAX_WAIT_MS),
    times: () => times,
  };
}
