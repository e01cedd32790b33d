/**
 * Worker processes that take tasks, one or a few at a time. A worker that dies or hangs is replaced, and its tasks are tried
 * once more, each alone in a worker: a task that ends two workers is given up, and no other task with it.
 * Processes are used, not threads: a process that runs out of memory or never returns can be ended without harm to the others.
 *
 * Own code: workerpool and tinypool, which were looked at, do not try a task again alone in a worker, and do not limit its
 * memory and processor time from outside.
 */
import { removeBrowsersOf } from './leftovers.js';
import { starters, type WorkerProcess } from './starters.js';
import { excessOf, usageOf } from './usage.js';

export interface PoolOptions<T, R> {
  /** Exports `worker`, as worker.ts does. */
  readonly module: URL;
  /** Sent to every worker first. */
  readonly settings: unknown;
  readonly workers: number;
  /** Time that one task may take, counted from when it is the oldest task of its worker. */
  readonly timeLimitMs: number;
  /** What a worker may use for one task, measured from outside; atOnce must be 1. Default: no limit. */
  readonly limits?: (task: T) => { readonly cpuS: number; readonly bytes: number };
  /** A task beyond its limit is given up at once, not tried again. Default false. */
  readonly hangsOnce?: boolean;
  /** Number of tasks that a worker has at the same time: while it waits for one, it continues with another. Default 1. */
  readonly atOnce?: number;
  readonly tasks: readonly T[];
  readonly onDone: (task: T, result: R) => void;
  readonly onNote?: (task: T, text: string) => void;
  /** Two workers died or hung while they worked on it. */
  readonly onGivenUp: (task: T, why: string) => void;
  /** A worker that uses more bytes than this is replaced between two tasks. */
  readonly mostBytes?: number;
  /** A worker that has done this number of tasks is replaced too. */
  readonly mostTasks?: number;
}

export interface Pool<T = unknown> {
  /**
   * Resolves when all tasks are done or given up; after `stop`, when the running ones are; after `abort` at once.
   * No process is left then. Rejects if workers do not even start.
   */
  readonly finished: Promise<void>;
  /** Adds a task. false: the pool has ended, or will end soon, and takes none. */
  add(task: T): boolean;
  /** No new tasks. */
  stop(): void;
  /** Ends everything now; tasks that were running are neither done nor given up. */
  abort(): void;
}

/** From the parent to a worker. */
export type ToWorker<T> =
  | { readonly type: 'start'; readonly settings: unknown }
  | { readonly type: 'task'; readonly id: number; readonly task: T }
  | { readonly type: 'end' };
/** From a worker to the parent. */
export type FromWorker<R> =
  | { readonly type: 'ready' }
  /** A message about the task, to be shown. */
  | { readonly type: 'note'; readonly id: number; readonly text: string }
  | { readonly type: 'done'; readonly id: number; readonly result: R; readonly rssBytes: number };

/** Time in which a worker must end by itself: when it is idle, and when everything is ended, ms. */
const ENDING_MS = 10_000;
const CUT_OFF_MS = 1_500;
/** How often the memory and processor time of a worker with limits is measured, ms. */
const MEASURE_MS = 100;
/** Number of characters that are kept of a worker's standard error. */
const STDERR_KEPT = 4_000;
/** After this number of workers in a row that died before their first task, no more are started. */
const MAX_FAILED_STARTS = 3;

interface Assigned<T> {
  readonly id: number;
  readonly task: T;
  /** Why the first attempt failed; null: this is the first attempt. */
  readonly loss: string | null;
}

/** One worker. */
interface PoolWorker<T> {
  readonly child: WorkerProcess;
  /** Its tasks, the oldest first. */
  readonly assigned: Assigned<T>[];
  /** Limits the oldest task; after the last task it limits the ending. */
  timer: NodeJS.Timeout | undefined;
  /** Measures what it uses. */
  meter: NodeJS.Timeout | undefined;
  /** Which other limit than time it passed; '' for none. */
  excess: string;
  /** 'full': it uses too much memory or has done many tasks, and takes no more. */
  state: 'starting' | 'working' | 'full' | 'ending' | 'hung';
  done: number;
}

export function startPool<T, R>(options: PoolOptions<T, R>): Pool<T> {
  const { mostBytes = 1.5e9, mostTasks = 2_000, timeLimitMs, atOnce = 1, hangsOnce = false } = options;
  let ids = 0;
  const fresh = (task: T): Assigned<T> => ({ id: ids++, task, loss: null });
  const queue: Assigned<T>[] = options.tasks.map(fresh);
  const team = new Set<PoolWorker<T>>();
  let isAborted = false;
  let isOpen = true;
  let failedStarts = 0;
  let cleanings = 0;
  let outcome: { resolve: () => void; reject: (error: Error) => void };
  const finished = new Promise<void>((resolve, reject) => (outcome = { resolve, reject }));

  /** Starts as many workers as there is work for. If there is neither work nor a worker, the pool ends. */
  function refill(): void {
    const active = [...team].filter(({ state }) => state !== 'ending' && state !== 'hung');
    const running = active.filter(({ assigned }) => assigned.length > 0).length;
    const needed = Math.min(options.workers, running + queue.length);
    for (let n = active.length; n < needed; n++) start();
    for (const worker of active.sort((a, b) => a.assigned.length - b.assigned.length)) assign(worker);
    if (team.size > 0 || cleanings > 0) return;
    isOpen = false;
    outcome.resolve();
  }

  function add(task: T): boolean {
    if (isOpen) queue.push(fresh(task));
    if (isOpen) refill();
    return isOpen;
  }

  function stop(): void {
    isOpen = false;
    queue.length = 0;
  }

  function start(): void {
    const child = starters.process(options.module);
    const worker: PoolWorker<T> = {
      child,
      assigned: [],
      timer: undefined,
      meter: undefined,
      excess: '',
      state: 'starting',
      done: 0,
    };
    team.add(worker);
    child.on('message', (message) => onMessage(worker, message as FromWorker<R>));
    void endOf(child).then((how) => onEnded(worker, how));
    send(worker, { type: 'start', settings: options.settings });
  }

  function onMessage(worker: PoolWorker<T>, message: FromWorker<R>): void {
    if (worker.state === 'hung' || worker.state === 'ending') return;
    if (message.type === 'ready') {
      failedStarts = 0;
      worker.state = 'working';
      assign(worker);
      if (worker.assigned.length === 0) end(worker);
      return;
    }
    const place = worker.assigned.findIndex(({ id }) => id === message.id);
    if (message.type === 'note') {
      options.onNote?.(worker.assigned[place]!.task, message.text);
      return;
    }
    const [{ task }] = worker.assigned.splice(place, 1) as [Assigned<T>];
    if (place === 0) startTimer(worker);
    worker.done++;
    options.onDone(task, message.result);
    if (message.rssBytes > mostBytes || worker.done >= mostTasks) worker.state = 'full';
    assign(worker);
    if (worker.assigned.length > 0) return;
    end(worker);
    refill();
  }

  /** Assigns as many tasks as the worker has room for. Workers that are starting must find a task too. */
  function assign(worker: PoolWorker<T>): void {
    const starting = [...team].filter(({ state }) => state === 'starting').length;
    while (worker.state === 'working' && queue.length > 0) {
      const { assigned } = worker;
      const isAlone = assigned.length === 0;
      const hasRoom = assigned.length < atOnce && queue.length > starting && assigned[0]?.loss === null;
      if (!isAlone && (!hasRoom || queue[0]!.loss !== null)) return;
      const next = queue.shift()!;
      assigned.push(next);
      if (isAlone) startTimer(worker);
      send(worker, { type: 'task', id: next.id, task: next.task });
    }
  }

  /** Starts the time limit of the oldest task: the tasks after it have waited for it. */
  function startTimer(worker: PoolWorker<T>): void {
    clearTimeout(worker.timer);
    clearInterval(worker.meter);
    if (worker.assigned.length === 0) return;
    const giveUp = () => {
      worker.state = 'hung';
      worker.child.kill('SIGKILL');
    };
    worker.timer = setTimeout(giveUp, timeLimitMs);
    const limits = options.limits?.(worker.assigned[0]!.task);
    if (limits === undefined) return;
    const before = usageOf(worker.child.pid!);
    worker.meter = setInterval(() => {
      const excess = excessOf(before, usageOf(worker.child.pid!), limits);
      if (excess !== null) worker.excess = excess;
      if (excess !== null) giveUp();
    }, MEASURE_MS);
  }

  function end(worker: PoolWorker<T>): void {
    worker.state = 'ending';
    send(worker, { type: 'end' });
    worker.timer = setTimeout(() => worker.child.kill('SIGKILL'), ENDING_MS);
  }

  function onEnded(worker: PoolWorker<T>, how: string): void {
    clearTimeout(worker.timer);
    clearInterval(worker.meter);
    team.delete(worker);
    cleanings++;
    void removeBrowsersOf(worker.child.pid).then(() => {
      cleanings--;
      if (!isAborted)
        worker.assigned.forEach((one, place) => {
          const isHung = worker.state === 'hung' && place === 0;
          const why =
            isHung && worker.excess !== ''
              ? worker.excess
              : isHung
                ? `it took longer than ${timeLimitMs / 1000} s`
                : worker.state === 'hung'
                  ? 'the job that shared its process took too long'
                  : how;
          if (isHung && hangsOnce) options.onGivenUp(one.task, why);
          else tryAgain(one, why);
        });
      if (worker.state === 'starting' && !isAborted && ++failedStarts >= MAX_FAILED_STARTS) {
        outcome.reject(new Error(`the worker processes do not start: ${how}`));
        abort();
      }
      refill();
    });
  }

  function tryAgain({ id, task, loss }: Assigned<T>, why: string): void {
    if (loss === null) queue.push({ id, task, loss: why });
    else options.onGivenUp(task, loss === why ? `twice, ${why}` : `${loss}; tried again, ${why}`);
  }

  function abort(): void {
    isAborted = true;
    stop();
    for (const { child } of team) {
      if (child.connected) child.disconnect(); // the worker then ends its browser and itself
      setTimeout(() => child.kill('SIGKILL'), CUT_OFF_MS).unref();
    }
  }

  refill();
  return { finished, add, stop, abort };
}

/** If a message does not reach a dying worker, nothing is lost: its end is noticed. */
function send<T>({ child }: PoolWorker<T>, message: ToWorker<T>): void {
  if (child.connected) child.send(message, () => undefined);
}

/** How a worker ended, in words. */
function endOf(child: WorkerProcess): Promise<string> {
  let words = '';
  child.stderr?.setEncoding('utf8').on('data', (text: string) => {
    words = (words + text).slice(-STDERR_KEPT);
  });
  return new Promise((resolve) => {
    // Without a process number it was never started; other errors are of messages that were not delivered.
    child.on('error', (error) => child.pid === undefined && resolve(error.message));
    child.once('exit', (code, signal) => {
      const report = () => {
        const said = /^.*(?:FATAL ERROR|Error): .*$/m
          .exec(words)?.[0]
          .replace(/^<--.*?--> *|^\[\d.*?\] */, '');
        const how = signal === null ? `ended with status ${code}` : `was ended by ${signal}`;
        resolve(`its process ${how}${said === undefined ? '' : ` (${said})`}`);
      };
      // The end of its standard error may still be in the pipe.
      setTimeout(report, 20);
    });
  });
}
