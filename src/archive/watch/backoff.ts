/** When what failed is tried again: later each time, and told once for each reason. */

export interface Backoff {
  /** @returns Whether the reason is another than last time. */
  fail(message: string): boolean;
  clear(): void;
  isDue(): boolean;
  /** How often it has failed. */
  times(): number;
}

const LONGEST_MS = 600_000;

/** @param firstMs The first wait. @param now A clock that only gives differences, ms. */
export function startBackoff(firstMs: number, now: () => number): Backoff {
  let times = 0;
  let last: string | null = null;
  let since = 0;
  return {
    fail(message) {
      const isNews = message !== last;
      last = message;
      times++;
      since = now();
      return isNews;
    },
    clear() {
      times = 0;
      last = null;
    },
    isDue: () => times === 0 || now() - since >= Math.min(firstMs * 2 ** (times - 1), LONGEST_MS),
    times: () => times,
  };
}
