/**
 * Worker processes that take tasks one at a time. One that dies or hangs is replaced, and its task tried once more;
 * a task that takes two workers with it is given up. Processes rather than threads: a process that runs out of
 * memory or never returns can be ended without harm to the others.
 */
import { fork, type ChildProcess } from 'node:child_process';
import { removeBrowsersOf } from './leftovers.js';

export interface PoolOptions<T, R> {
  /** The worker's module, which answers as worker.ts does. */
  readonly module: string;
  /** What every worker is told first. */
  readonly settings: unknown;
  readonly workers: number;
  readonly timeLimitMs: number;
  readonly tasks: readonly T[];
  readonly onDone: (task: T, result: R) => void;
  /** Two workers died or hung over it. */
  readonly onGivenUp: (task: T, why: string) => void;
  /** A worker above so many bytes is replaced between two tasks. */
  readonly mostBytes?: number;
  /** So is one that has done so many tasks. */
  readonly mostTasks?: number;
}

export interface Pool<T = unknown> {
  /**
   * Resolves when all tasks are done or given up; after `stop`, when the running ones are; after `abort` at once.
   * No process is left then. Rejects when workers do not even start.
   */
  readonly finished: Promise<void>;
  /** One more; false: the pool has ended, or is about to, and takes none. */
  add(task: T): boolean;
  /** No new tasks. */
  stop(): void;
  /** Ends everything now; what ran is neither done nor given up. */
  abort(): void;
}

/** From the parent to a worker. */
export type ToWorker<T> =
  | { readonly type: 'start'; readonly settings: unknown }
  | { readonly type: 'task'; readonly task: T }
  | { readonly type: 'end' };
/** And back. */
export type FromWorker<R> =
  { readonly type: 'ready' } | { readonly type: 'done'; readonly result: R; readonly rssBytes: number };

/** What a worker gets to end by itself: told to when idle, and cut off when everything is to end, ms. */
const ENDING_MS = 10_000;
const CUT_OFF_MS = 1_500;
/** Kept of what a worker last said. */
const WORDS_KEPT = 4_000;
/** After so many workers that died before their first task, in a row, there is no point in more. */
const FAILED_STARTS = 3;

interface Assigned<T> {
  readonly task: T;
  /** Why the first attempt failed; null: this is the first. */
  readonly loss: string | null;
}

/** One worker. */
interface Hand<T> {
  readonly child: ChildProcess;
  at: Assigned<T> | null;
  timer: NodeJS.Timeout | undefined;
  state: 'starting' | 'working' | 'ending' | 'hung';
  done: number;
}

export function startPool<T, R>(options: PoolOptions<T, R>): Pool<T> {
  const { mostBytes = 1.5e9, mostTasks = 2_000, timeLimitMs } = options;
  const queue: Assigned<T>[] = options.tasks.map((task) => ({ task, loss: null }));
  const hands = new Set<Hand<T>>();
  let isAborted = false;
  let isOpen = true;
  let failedStarts = 0;
  let burials = 0;
  let settle: { resolve: () => void; reject: (error: Error) => void };
  const finished = new Promise<void>((resolve, reject) => (settle = { resolve, reject }));

  /** As many hands as there is work for; the end when there is neither. */
  function refill(): void {
    const active = [...hands].filter(({ state }) => state === 'starting' || state === 'working');
    const running = active.filter(({ at }) => at !== null).length;
    const wanted = Math.min(options.workers, running + queue.length);
    for (let n = active.length; n < wanted; n++) open();
    if (hands.size > 0 || burials > 0) return;
    isOpen = false;
    settle.resolve();
  }

  function add(task: T): boolean {
    if (isOpen) queue.push({ task, loss: null });
    if (isOpen) refill();
    return isOpen;
  }

  function stop(): void {
    isOpen = false;
    queue.length = 0;
  }

  function open(): void {
    const child = fork(options.module, [], { stdio: ['ignore', 'ignore', 'pipe', 'ipc'] });
    const hand: Hand<T> = { child, at: null, timer: undefined, state: 'starting', done: 0 };
    hands.add(hand);
    child.on('message', (message) => hear(hand, message as FromWorker<R>));
    void endOf(child).then((how) => bury(hand, how));
    say(hand, { type: 'start', settings: options.settings });
  }

  function hear(hand: Hand<T>, message: FromWorker<R>): void {
    if (hand.state === 'hung' || hand.state === 'ending') return;
    if (message.type === 'ready') {
      failedStarts = 0;
      hand.state = 'working';
      return assign(hand);
    }
    const { task } = hand.at!;
    clearTimeout(hand.timer);
    hand.at = null;
    hand.done++;
    options.onDone(task, message.result);
    if (message.rssBytes <= mostBytes && hand.done < mostTasks) return assign(hand);
    dismiss(hand);
    refill();
  }

  function assign(hand: Hand<T>): void {
    hand.at = queue.shift() ?? null;
    if (hand.at === null) return dismiss(hand);
    hand.timer = setTimeout(() => {
      hand.state = 'hung';
      hand.child.kill('SIGKILL');
    }, timeLimitMs);
    say(hand, { type: 'task', task: hand.at.task });
  }

  function dismiss(hand: Hand<T>): void {
    hand.state = 'ending';
    say(hand, { type: 'end' });
    hand.timer = setTimeout(() => hand.child.kill('SIGKILL'), ENDING_MS);
  }

  function bury(hand: Hand<T>, how: string): void {
    clearTimeout(hand.timer);
    hands.delete(hand);
    burials++;
    void removeBrowsersOf(hand.child.pid).then(() => {
      burials--;
      if (hand.at !== null && !isAborted)
        lose(hand.at, hand.state === 'hung' ? `it took longer than ${timeLimitMs / 1000} s` : how);
      if (hand.state === 'starting' && !isAborted && ++failedStarts >= FAILED_STARTS) {
        settle.reject(new Error(`the worker processes do not start: ${how}`));
        abort();
      }
      refill();
    });
  }

  function lose({ task, loss }: Assigned<T>, why: string): void {
    if (loss === null) queue.push({ task, loss: why });
    else options.onGivenUp(task, loss === why ? `twice, ${why}` : `${loss}; tried again, ${why}`);
  }

  function abort(): void {
    isAborted = true;
    stop();
    for (const { child } of hands) {
      if (child.connected) child.disconnect(); // it ends its browser, and itself
      setTimeout(() => child.kill('SIGKILL'), CUT_OFF_MS).unref();
    }
  }

  refill();
  return { finished, add, stop, abort };
}

/** A message that does not reach a dying worker is no loss: its end is noticed. */
function say<T>({ child }: Hand<T>, message: ToWorker<T>): void {
  if (child.connected) child.send(message, () => undefined);
}

/** How a worker ended, in words. */
function endOf(child: ChildProcess): Promise<string> {
  let words = '';
  child.stderr?.setEncoding('utf8').on('data', (text: string) => {
    words = (words + text).slice(-WORDS_KEPT);
  });
  return new Promise((resolve) => {
    // Without a number it was never started; other errors are of messages that did not go through.
    child.on('error', (error) => child.pid === undefined && resolve(error.message));
    child.once('exit', (code, signal) => {
      const tell = () => {
        const said = /^.*(?:FATAL ERROR|Error): .*$/m
          .exec(words)?.[0]
          .replace(/^<--.*?--> *|^\[\d.*?\] */, '');
        const how = signal === null ? `ended with status ${code}` : `was ended by ${signal}`;
        resolve(`its process ${how}${said === undefined ? '' : ` (${said})`}`);
      };
      // Its last words may still be in the pipe.
      setTimeout(tell, 20);
    });
  });
}
