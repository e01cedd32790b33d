/** The worker's side of a pool: what it does with each message of its parent. */
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

export function serveTasks<T, R>({ start, task, end }: Served<T, R>): void {
  const say = (message: FromWorker<R>): void => void process.send!(message);
  const hear = async (message: ToWorker<T>): Promise<void> => {
    if (message.type === 'start') {
      start(message.settings);
      say({ type: 'ready' });
    } else if (message.type === 'task') {
      const { id } = message;
      const result = await task(message.task, (text) => say({ type: 'note', id, text }));
      say({ type: 'done', id, result, rssBytes: process.memoryUsage.rss() });
    } else {
      await end();
      process.disconnect();
    }
  };
  watchParent();
  // Ctrl-C in a terminal reaches every process; the parent decides what it means.
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => undefined);
  // The parent is gone, however it went, or wants an end at once. The browser is ended on the way out.
  process.on('disconnect', () => process.exit(0));
  process.on('message', (message) => void hear(message as ToWorker<T>));
}

/**
 * A parent that was killed closes the channel, but a worker in the midst of a long calculation does not hear of it: a
 * thread of its own looks after the parent, and ends the process with it.
 */
function watchParent(): void {
  const look = `setInterval(() => { if (process.ppid !== ${process.ppid}) process.kill(process.pid, 'SIGKILL'); }, 1000);`;
  new Worker(look, { eval: true }).unref();
}
