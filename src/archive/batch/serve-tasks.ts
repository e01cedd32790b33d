/** The worker's side of a pool: it answers each message of its parent. */
import { Worker } from 'node:worker_threads';
import type { FromWorker, ToWorker } from './pool.js';

/** A worker's module exports it as `worker`, a function that makes one. */
export interface Served<T, R> {
  /** Once, before any task. */
  readonly start: (settings: unknown) => void;
  /** Never throws. */
  readonly task: (task: T, note: (text: string) => void) => Promise<R>;
  readonly end: () => Promise<void>;
}

/**
 * After so many tasks memory that is not used any more is given back. A job leaves about 5 MB of it, which the engine by itself
 * collects only after some hundred MB; collecting takes about 40 ms.
 */
const TASKS_PER_COLLECTION = 4;

export function serveTasks<T, R>({ start, task, end }: Served<T, R>): void {
  let tasks = 0;
  const send = (message: FromWorker<R>): void => void process.send!(message);
  const onMessage = async (message: ToWorker<T>): Promise<void> => {
    if (message.type === 'start') {
      start(message.settings);
      send({ type: 'ready' });
    } else if (message.type === 'task') {
      const { id } = message;
      const result = await task(message.task, (text) => send({ type: 'note', id, text }));
      // Only with the flag of starters.ts.
      if (++tasks % TASKS_PER_COLLECTION === 0) globalThis.gc?.();
      send({ type: 'done', id, result, rssBytes: process.memoryUsage.rss() });
    } else {
      await end();
      process.disconnect();
    }
  };
  watchParent();
  // Ctrl-C in a terminal reaches every process; the parent decides what it means.
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => undefined);
  // The parent has ended, or asks for an immediate end. The browser is closed when the process exits.
  process.on('disconnect', () => process.exit(0));
  process.on('message', (message) => void onMessage(message as ToWorker<T>));
}

/**
 * A parent that was killed closes the channel, but a worker in the middle of a long calculation does not notice it. So a
 * thread of the worker checks whether the parent still runs, and ends the process when it does not.
 */
function watchParent(): void {
  const check = `setInterval(() => { if (process.ppid !== ${process.ppid}) process.kill(process.pid, 'SIGKILL'); }, 1000);`;
  new Worker(check, { eval: true }).unref();
}
