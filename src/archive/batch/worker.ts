/** A worker process of a batch: takes jobs as they come, with one browser for all of them, which prints one at a time. */
import { parseGivenTolerances, type GivenTolerances } from '../../job/given-tolerances.js';
import type { Entry } from './entry.js';
import { lazyPrinter } from './lazy-printer.js';
import { makeOne, type MakeSettings } from './make-one.js';
import type { Task } from './plan.js';
import type { FromWorker, ToWorker } from './pool.js';

/** What a worker is told, as it goes from process to process. */
export type WorkerSettings = Omit<MakeSettings, 'given'> & {
  readonly given: { readonly path: string; readonly base64: string } | null;
};

let settings: MakeSettings;
const printer = lazyPrinter();

const say = (message: FromWorker<Entry>): void => void process.send!(message);

/** The parent has checked it. */
function parsed({ path, base64 }: NonNullable<WorkerSettings['given']>): GivenTolerances {
  const set = parseGivenTolerances(Buffer.from(base64, 'base64'), path);
  if (!set.ok) throw new Error(`${path} is faulty`);
  return set.value;
}

async function hear(message: ToWorker<Task>): Promise<void> {
  if (message.type === 'start') {
    const { given, ...rest } = message.settings as WorkerSettings;
    settings = { ...rest, given: given && parsed(given) };
    say({ type: 'ready' });
  } else if (message.type === 'task') {
    const result = await makeOne(message.task, settings, printer.open);
    say({ type: 'done', id: message.id, result, rssBytes: process.memoryUsage.rss() });
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
