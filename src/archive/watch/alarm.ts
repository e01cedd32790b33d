import { setTimeout as sleep } from 'node:timers/promises';

/** A wait that can be ended early. */
export function startAlarm() {
  let bell = new AbortController();
  return {
    ring: (): void => bell.abort(),
    async wait(ms: number): Promise<void> {
      await sleep(ms, undefined, { signal: bell.signal }).catch(() => undefined);
      bell = new AbortController();
    },
  };
}
