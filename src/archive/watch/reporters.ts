/** The worker processes of a batch, for jobs that come one by one: started when there is work, ended when there is none. */
import { givenUp, type Entry } from '../batch/entry.js';
import type { Task } from '../batch/plan.js';
import { startPool, type Pool } from '../batch/pool.js';
import type { WorkerSettings } from '../batch/worker.js';

export interface Reporters {
  /** Null: it was stopped before the job was reported. Never rejects. */
  report(task: Task): Promise<Entry | null>;
  /** What runs is finished, and no more. */
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

/** One pool, from the first job after a lull to the last before the next. */
interface Team {
  readonly pool: Pool<Task>;
  readonly waiting: Map<Task, Answer>;
  readonly ended: Promise<void>;
}

export function startReporters(options: ReportersOptions): Reporters {
  const teams = new Set<Team>();
  let latest: Team | null = null;
  let isStopped = false;
  return {
    async report(task) {
      if (isStopped) return null;
      return new Promise((resolve) => {
        if (latest?.pool.add(task) === true) return void latest.waiting.set(task, resolve);
        const team = gather(task, resolve, options);
        latest = team;
        teams.add(team);
        void team.ended.then(() => teams.delete(team));
      });
    },
    stop() {
      isStopped = true;
      for (const { pool } of teams) pool.stop();
    },
    abort() {
      isStopped = true;
      for (const { pool } of teams) pool.abort();
    },
    async ended() {
      await Promise.all([...teams].map(({ ended }) => ended));
    },
  };
}

function gather(
  first: Task,
  answerFirst: Answer,
  { settings, workers, timeLimitMs }: ReportersOptions,
): Team {
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
  /** To what was not reached. @param message Null: the pool was stopped. */
  const leave = (message: string | null): void => {
    for (const task of [...waiting.keys()])
      answer(task, message === null ? null : { status: 'failed', ...task, message, hopeless: true });
  };
  const ended = pool.finished.then(
    () => leave(null),
    (error: Error) => leave(error.message),
  );
  return { pool, waiting, ended };
}
