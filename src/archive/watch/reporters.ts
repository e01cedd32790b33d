/** The worker processes of a batch, for jobs that come one by one. They start when there is work, and end when there is none. */
import { givenUp, type Entry } from '../batch/entry.js';
import type { Task } from '../batch/plan.js';
import { startPool, type Pool } from '../batch/pool.js';
import type { WorkerSettings } from '../batch/worker.js';

export interface Reporters {
  /** null: it was stopped before the job was reported. Never rejects. */
  report(task: Task): Promise<Entry | null>;
  /** Running jobs are finished; no others are started. */
  stop(): void;
  /** Everything ends now. */
  abort(): void;
  /** Resolves when no process is left. */
  ended(): Promise<void>;
}

const WORKER = new URL('../batch/worker.js', import.meta.url);

export interface ReportersOptions {
  readonly settings: WorkerSettings;
  readonly workers: number;
  readonly timeLimitMs: number;
}

type Answer = (entry: Entry | null) => void;

/** One pool, from a first job until no job is left. */
interface Run {
  readonly pool: Pool<Task>;
  readonly waiting: Map<Task, Answer>;
  readonly ended: Promise<void>;
}

export function startReporters(options: ReportersOptions): Reporters {
  const runs = new Set<Run>();
  let latest: Run | null = null;
  let isStopped = false;
  return {
    async report(task) {
      if (isStopped) return null;
      return new Promise((resolve) => {
        if (latest?.pool.add(task) === true) return void latest.waiting.set(task, resolve);
        const run = startRun(task, resolve, options);
        latest = run;
        runs.add(run);
        void run.ended.then(() => runs.delete(run));
      });
    },
    stop() {
      isStopped = true;
      for (const { pool } of runs) pool.stop();
    },
    abort() {
      isStopped = true;
      for (const { pool } of runs) pool.abort();
    },
    async ended() {
      await Promise.all([...runs].map(({ ended }) => ended));
    },
  };
}

function startRun(
  first: Task,
  answerFirst: Answer,
  { settings, workers, timeLimitMs }: ReportersOptions,
): Run {
  const waiting = new Map([[first, answerFirst]]);
  const answer = (task: Task, entry: Entry | null): void => {
    waiting.get(task)?.(entry);
    waiting.delete(task);
  };
  const pool = startPool<Task, Entry>({
    module: WORKER,
    settings,
    workers,
    timeLimitMs,
    tasks: [first],
    onDone: answer,
    onGivenUp: (task, why) => answer(task, givenUp(task, why)),
  });
  /** Answers the tasks that were not reached. @param message null: the pool was stopped. */
  const answerRest = (message: string | null): void => {
    for (const task of [...waiting.keys()])
      answer(task, message === null ? null : { status: 'failed', ...task, message, hopeless: true });
  };
  const ended = pool.finished.then(
    () => answerRest(null),
    (error: Error) => answerRest(error.message),
  );
  return { pool, waiting, ended };
}
