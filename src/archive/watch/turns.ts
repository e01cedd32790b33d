/** Tasks that share a key take turns, in the order in which they asked. */

export interface Turns {
  /** Resolves when no earlier task holds any of the keys. The result ends the turn. */
  take(keys: readonly string[]): Promise<() => void>;
}

export function startTurns(): Turns {
  const last = new Map<string, Promise<void>>();
  return {
    // All keys are taken at once and in order, so two tasks can never wait for each other.
    async take(keys) {
      const before = keys.map((key) => last.get(key));
      let end = (): void => undefined;
      const mine = new Promise<void>((resolve) => (end = resolve));
      for (const key of keys) last.set(key, mine);
      await Promise.all(before);
      return () => {
        for (const key of keys) if (last.get(key) === mine) last.delete(key);
        end();
      };
    },
  };
}
