/**
 * Workers of a pool, and threads that verify, as functions of this process: nothing is started, and what is loaded stays
 * loaded. Messages go through JSON, as between processes. A worker of this kind cannot be ended while it works: tests of
 * limits, crashes and Ctrl-C start the program (command.ts).
 */
import { EventEmitter } from 'node:events';
import { starters, type WorkerProcess, type WorkerThread } from '../../src/archive/batch/starters.js';
import type { FromWorker, ToWorker } from '../../src/archive/batch/pool.js';
import type { Served } from '../../src/archive/batch/serve-tasks.js';
import type { Question } from '../../src/archive/batch/verifiers.js';
import { answer } from '../../src/archive/batch/verify-thread.js';

type Json = (value: unknown) => never;
const copied: Json = (value) => JSON.parse(JSON.stringify(value)) as never;

class WorkerHere extends EventEmitter {
  /** No process: what a pool does to a process's browsers and use of memory finds nothing. */
  readonly pid = undefined;
  readonly stderr = null;
  connected = true;
  private readonly served: Promise<Served<unknown, unknown>>;

  constructor(module: URL) {
    super();
    this.served = import(module.pathname.replace(/\.js$/, '.ts')).then(
      ({ worker }: { worker: () => Served<unknown, unknown> }) => worker(),
    );
  }

  send(message: ToWorker<unknown>): boolean {
    void this.hear(copied(message)).catch((error: unknown) => {
      this.end(1);
      throw error;
    });
    return true;
  }

  private async hear(message: ToWorker<unknown>): Promise<void> {
    const { start, task, end } = await this.served;
    if (message.type === 'start') {
      start(message.settings);
      this.say({ type: 'ready' });
    } else if (message.type === 'task') {
      const { id } = message;
      const result = await task(message.task, (text) => this.say({ type: 'note', id, text }));
      this.say({ type: 'done', id, result, rssBytes: 0 });
    } else {
      await end();
      this.end(0);
    }
  }

  private say(message: FromWorker<unknown>): void {
    if (this.connected) this.emit('message', copied(message));
  }

  private end(status: number): void {
    this.connected = false;
    this.emit('exit', status, null);
  }

  disconnect(): void {
    void this.served.then(({ end }) => end()).then(() => this.end(0));
  }

  kill(): boolean {
    throw new Error('a worker of this kind cannot be ended: start the program');
  }
}

class ThreadHere extends EventEmitter {
  postMessage(question: Question): void {
    void answer(structuredClone(question)).then((verified) =>
      this.emit('message', structuredClone(verified)),
    );
  }

  terminate(): Promise<number> {
    return Promise.resolve(0);
  }
}

/** From now on, in this process. */
export function workersHere(): void {
  starters.process = (module) => new WorkerHere(module) as unknown as WorkerProcess;
  starters.thread = () => new ThreadHere() as unknown as WorkerThread;
}
