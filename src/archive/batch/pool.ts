/**
 * Worker processes that take tasks, one or a few at a time. One that dies or hangs is replaced, and its tasks are tried
 * once more, each with a worker to itself: a task that takes two workers with it is given up, and no other with it.
 * Processes rather than threads: a process that runs out of memory or never returns can be ended without harm to the
 * others.
 */
import { removeBrowsersOf } from './leftovers.js';
import { starters, type WorkerProcess } from './starters.js';
import { excessOf, usageOf } from './usage.js';

export interface PoolOptions<T, R> {
  /** Exports `worker`, as worker.ts does. */
  readonly module: URL;
  /** What every worker is told first. */
  readonly settings: unknown;
  readonly workers: number;
  /** Of one task, counted from when it is the oldest that its worker has. */
  readonly timeLimitMs: number;
  /** What a worker may use for one task, watched from outside; atOnce must be 1. Default: no limit. */
  readonly limits?: { readonly cpuS: number; readonly bytes: number };
  /** A task beyond its limit is given up at once, not tried again. Default false. */
  readonly hangsOnce?: boolean;
  /** Tasks that a worker has at the same time: while it waits for one, it goes on with another. Default 1. */
  readonly atOnce?: number;
  readonly tasks: readonly T[];
  readonly onDone: (task: T, result: R) => void;
  readonly onNote?: (task: T, text: string) => void;
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
  | { readonly type: 'task'; readonly id: number; readonly task: T }
  | { readonly type: 'end' };
/** And back. */
export type FromWorker<R> =
  | { readonly type: 'ready' }
  /** A word on the task that is being worked on. */
  | { readonly type: 'note'; readonly id: number; readonly text: string }
  | { readonly type: 'done'; readonly id: number; readonly result: R; readonly rssBytes: number };

/** What a worker gets to end by itself: told to when idle, and cut off when everything is to end, ms. */
const ENDING_MS = 10_000;
const CUT_OFF_MS = 1_500;
/** How often a worker's use of memory and processor is looked at, where it has limits, ms. */
const METER_MS = 100;
/** Kept of what a worker last said. */
const WORDS_KEPT = 4_000;
/** After so many workers that died before their first task, in a row, there is no point in more. */
const FAILED_STARTS = 3;

interface Assigned<T> {
  readonly id: number;
  readonly task: T;
  /** Why the first attempt failed; null: this is the first. */
  readonly loss: string | null;
}

/** One worker. */
interface Hand<T> {
  readonly child: WorkerProcess;
  /** Oldest first. */
  readonly at: Assigned<T>[];
  /** For the oldest task; at the end for the end itself. */
  timer: NodeJS.Timeout | undefined;
  /** Looks at what it uses. */
  meter: NodeJS.Timeout | undefined;
  /** Why it was ended, where that was not for time. */
  excess: string;
  /** 'full': it has grown, and takes no more tasks. */
  state: 'starting' | 'working' | 'full' | 'ending' | 'hung';
  done: number;
}

export function startPool<T, R>(options: PoolOptions<T, R>): Pool<T> {
  const { mostBytes = 1.5e9, mostTasks = 2_000, timeLimitMs, atOnce = 1, hangsOnce = false } = options;
  let ids = 0;
  const fresh = (task: T): Assigned<T> => ({ id: ids++, task, loss: null });
  const queue: Assigned<T>[] = options.tasks.map(fresh);
  const hands = new Set<Hand<T>>();
  let isAborted = false;
  let isOpen = true;
  let failedStarts = 0;
  let burials = 0;
  let settle: { resolve: () => void; reject: (error: Error) => void };
  const finished = new Promise<void>((resolve, reject) => (settle = { resolve, reject }));

  /** As many hands as there is work for; the end when there is neither. */
  function refill(): void {
    const active = [...hands].filter(({ state }) => state !== 'ending' && state !== 'hung');
    const running = active.filter(({ at }) => at.length > 0).length;
    const wanted = Math.min(options.workers, running + queue.length);
    for (let n = active.length; n < wanted; n++) open();
    for (const hand of active.sort((a, b) => a.at.length - b.at.length)) give(hand);
    if (hands.size > 0 || burials > 0) return;
    isOpen = false;
    settle.resolve();
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

  function open(): void {
    const child = starters.process(options.module);
    const hand: Hand<T> = {
      child,
      at: [],
      timer: undefined,
      meter: undefined,
      excess: '',
      state: 'starting',
      done: 0,
    };
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
      give(hand);
      if (hand.at.length === 0) dismiss(hand);
      return;
    }
    const place = hand.at.findIndex(({ id }) => id === message.id);
    if (message.type === 'note') {
      options.onNote?.(hand.at[place]!.task, message.text);
      return;
    }
    const [{ task }] = hand.at.splice(place, 1) as [Assigned<T>];
    if (place === 0) watch(hand);
    hand.done++;
    options.onDone(task, message.result);
    if (message.rssBytes > mostBytes || hand.done >= mostTasks) hand.state = 'full';
    give(hand);
    if (hand.at.length > 0) return;
    dismiss(hand);
    refill();
  }

  /** What the worker has room for, as long as those that are starting find something too. */
  function give(hand: Hand<T>): void {
    const starting = [...hands].filter(({ state }) => state === 'starting').length;
    while (hand.state === 'working' && queue.length > 0) {
      const { at } = hand;
      const isAlone = at.length === 0;
      const hasRoom = at.length < atOnce && queue.length > starting && at[0]?.loss === null;
      if (!isAlone && (!hasRoom || queue[0]!.loss !== null)) return;
      const next = queue.shift()!;
      at.push(next);
      if (isAlone) watch(hand);
      say(hand, { type: 'task', id: next.id, task: next.task });
    }
  }

  /** The limit of the oldest task begins: what came behind it has waited for it. */
  function watch(hand: Hand<T>): void {
    clearTimeout(hand.timer);
    clearInterval(hand.meter);
    if (hand.at.length === 0) return;
    const giveUp = () => {
      hand.state = 'hung';
      hand.child.kill('SIGKILL');
    };
    hand.timer = setTimeout(giveUp, timeLimitMs);
    if (options.limits === undefined) return;
    const before = usageOf(hand.child.pid!);
    hand.meter = setInterval(() => {
      const excess = excessOf(before, usageOf(hand.child.pid!), options.limits!);
      if (excess !== null) hand.excess = excess;
      if (excess !== null) giveUp();
    }, METER_MS);
  }

  function dismiss(hand: Hand<T>): void {
    hand.state = 'ending';
    say(hand, { type: 'end' });
    hand.timer = setTimeout(() => hand.child.kill('SIGKILL'), ENDING_MS);
  }

  function bury(hand: Hand<T>, how: string): void {
    clearTimeout(hand.timer);
    clearInterval(hand.meter);
    hands.delete(hand);
    burials++;
    void removeBrowsersOf(hand.child.pid).then(() => {
      burials--;
      if (!isAborted)
        hand.at.forEach((assigned, place) => {
          const isHung = hand.state === 'hung' && place === 0;
          const why =
            isHung && hand.excess !== ''
              ? hand.excess
              : isHung
                ? `it took longer than ${timeLimitMs / 1000} s`
                : hand.state === 'hung'
                  ? 'the job that shared its process took too long'
                  : how;
          if (isHung && hangsOnce) options.onGivenUp(assigned.task, why);
          else lose(assigned, why);
        });
      if (hand.state === 'starting' && !isAborted && ++failedStarts >= FAILED_STARTS) {
        settle.reject(new Error(`the worker processes do not start: ${how}`));
        abort();
      }
      refill();
    });
  }

  function lose({ id, task, loss }: Assigned<T>, why: string): void {
    if (loss === null) queue.push({ id, task, loss: why });
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
function endOf(child: WorkerProcess): Promise<string> {
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
