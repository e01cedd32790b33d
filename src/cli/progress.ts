/**
 * How far a long run is: one line that is rewritten on a terminal, plain lines now and then elsewhere, so that a log
 * shows that the run goes on, and has no control characters.
 */
import type { Console } from './console.js';

export interface Progress {
  readonly say: (text: string) => void;
  /** Before anything else is written. */
  readonly clear: () => void;
}

/** Between two lines in a log, ms. */
const EVERY_MS = 10_000;

/** @param now A clock that never goes back, ms. */
export function progressOn(console: Console, now: () => number = () => performance.now()): Progress {
  if (!console.isInteractive) return linesOn(console, now);
  const erase = '\r\u001b[2K';
  return {
    say: (text) => console.err(`${erase}${text}`),
    clear: () => console.err(erase),
  };
}

function linesOn(console: Console, now: () => number): Progress {
  let last = now();
  return {
    say(text) {
      if (now() - last < EVERY_MS) return;
      last = now();
      console.err(`${text}\n`);
    },
    clear: () => undefined,
  };
}
