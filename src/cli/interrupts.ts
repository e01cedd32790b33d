/** How a person or a system ends a long run: Ctrl-C, or a signal. */
import type { Console } from './console.js';

export interface Stoppable {
  readonly stop: () => void;
  readonly abort: () => void;
}

/** After the first Ctrl-C, running jobs are finished and no other job is started. After the second, the run ends at once. */
export function listenForInterrupts(console: Console) {
  let run: Stoppable | null = null;
  let asked = 0;
  const hear = (): void => {
    asked++;
    if (asked === 1) {
      run?.stop();
      console.err('\nFinishing what runs; once more ends it at once.\n');
    } else run?.abort();
  };
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
  for (const signal of signals) process.on(signal, hear);
  return {
    use(started: Stoppable) {
      run = started;
      if (asked > 0) run.stop();
      if (asked > 1) run.abort();
    },
    end: () => signals.forEach((signal) => process.off(signal, hear)),
  };
}
