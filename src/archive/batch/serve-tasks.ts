/** The worker's side of a pool: what it does with each message of its parent. */
import type { FromWorker, ToWorker } from './pool.js';

export interface Served<T, R> {
  /** Once, before any task. */
  readonly start: (settings: unknown) => void;
  /** Never throws. */
  readonly task: (task: T) => Promise<R>;
  readonly end: () => Promise<void>;
}

export function serveTasks<T, R>({ start, task, end }: Served<T, R>): void {
  const say = (message: FromWorker<R>): void => void process.send!(message);
  const hear = async (message: ToWorker<T>): Promise<void> => {
    if (message.type === 'start') {
      start(message.settings);
      say({ type: 'ready' });
    } else if (message.type === 'task') {
      const result = await task(message.task);
      say({ type: 'done', id: message.id, result, rssBytes: process.memoryUsage.rss() });
    } else {
      await end();
      process.disconnect();
    }
  };
  // Ctrl-C in a terminal reaches every process; the parent decides what it means.
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => undefined);
  // The parent is gone, however it went, or wants an end at once. The browser is ended on the way out.
  process.on('disconnect', () => process.exit(0));
  process.on('message', (message) => void hear(message as ToWorker<T>));
}
