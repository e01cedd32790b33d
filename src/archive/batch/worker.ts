/** A worker process of a batch: takes jobs one at a time, with one browser for all of them. */
import type { Entry } from './entry.js';
import { lazyPrinter } from './lazy-printer.js';
import { makeOne, type MakeSettings } from './make-one.js';
import type { Task } from './plan.js';
import type { FromWorker, ToWorker } from './pool.js';

let settings: MakeSettings;
const printer = lazyPrinter();

const say = (message: FromWorker<Entry>): void => void process.send!(message);

async function hear(message: ToWorker<Task>): Promise<void> {
  if (message.type === 'start') {
    settings = message.settings as MakeSettings;
    say({ type: 'ready' });
  } else if (message.type === 'task') {
    const result = await makeOne(message.task, settings, printer.open);
    say({ type: 'done', result, rssBytes: process.memoryUsage.rss() });
  } else {
    await printer.close();
    process.disconnect();
  }
}

// Ctrl-C in a terminal reaches every process of the batch; the parent decides what it means.
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => undefined);
// The parent is gone, however it went, or wants an end at once. The browser is ended on the way out.
process.on('disconnect', () => process.exit(0));
process.on('message', (message) => void hear(message as ToWorker<Task>));
