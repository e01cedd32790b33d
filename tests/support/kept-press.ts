/**
 * The browser that prints, for tests (vitest.config.ts puts it in the place of print-html.ts in pdf.ts). To start a browser costs
 * more than a print, and every command starts its own. Commands that run within the process of a test (command.ts) share one for each
 * setting: a print does not depend on what was printed before (tests/pages/report/pdf.test.ts). All other tests have the browser itself.
 */
import {
  openPress as open,
  type Press,
  type PressOptions,
} from '../../src/pages/report/browser/print-html.js';

export * from '../../src/pages/report/browser/print-html.js';

/** By setting. */
const kept = new Map<string, Promise<Press>>();
/** Number of commands that run now. */
let commands = 0;

/** A browser that is opened meanwhile is kept for the next command. */
export async function keepingPresses<T>(run: () => Promise<T>): Promise<T> {
  commands++;
  try {
    return await run();
  } finally {
    commands--;
  }
}

export async function openPress(options: PressOptions = {}): Promise<Press> {
  if (commands === 0) return open(options);
  const key = JSON.stringify([options, process.env]);
  const press = kept.get(key) ?? open(options);
  kept.set(key, press);
  // A browser that did not start is not kept.
  const { description, notes, print } = await press.catch((error: unknown) => {
    kept.delete(key);
    throw error;
  });
  return { description, notes, print, close: () => Promise.resolve() };
}
