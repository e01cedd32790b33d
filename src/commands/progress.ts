/** One line that says how far a long run is; nothing where there is no terminal to rewrite it on. */
import type { Console } from './console.js';

export interface Progress {
  readonly say: (text: string) => void;
  readonly clear: () => void;
}

export function progressOn(console: Console): Progress {
  if (!console.isInteractive) return { say: () => undefined, clear: () => undefined };
  const erase = '\r\u001b[2K';
  return {
    say: (text) => console.err(`${erase}${text}`),
    clear: () => console.err(erase),
  };
}
