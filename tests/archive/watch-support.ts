/** Watches within this process: an inbox, what it tells, and workers that are this process. */
import { appendFile, mkdir, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { makeOne } from '../../src/archive/batch/make-one.js';
import type { Task } from '../../src/archive/batch/plan.js';
import type { ReportersOptions } from '../../src/archive/watch/reporters.js';
import type { WatchEvent } from '../../src/archive/watch/events.js';
import { runWatch, type WatchControls, type WatchEnd } from '../../src/archive/watch/run-watch.js';
import { temporary } from '../support/folders.js';

export interface Inbox {
  readonly inbox: string;
  readonly out: string;
}

export async function anInbox(): Promise<Inbox> {
  const folder = await temporary();
  await mkdir(join(folder, 'inbox'));
  return { inbox: join(folder, 'inbox'), out: join(folder, 'out') };
}

/** The event of a kind; members of the union may stand for several. */
export type EventOf<K extends WatchEvent['event']> = WatchEvent extends infer E
  ? E extends { event: infer Kinds }
    ? K extends Kinds
      ? E
      : never
    : never
  : never;

export interface Watching {
  readonly events: readonly WatchEvent[];
  /** Resolves with the next event of a kind that has not been asked for yet. */
  next<K extends WatchEvent['event']>(kind: K): Promise<EventOf<K>>;
  readonly controls: WatchControls;
  stop(): Promise<WatchEnd>;
  readonly ended: Promise<WatchEnd>;
}

export interface WatchingOptions {
  readonly once?: boolean;
  readonly settleMs?: number;
  /** Called before each job is reported. */
  readonly before?: (task: Task) => Promise<void> | void;
  readonly now?: () => number;
}

export function watching({ inbox, out }: Inbox, options: WatchingOptions = {}): Watching {
  const { once = false, settleMs = 100, before = () => undefined } = options;
  const events: WatchEvent[] = [];
  const seen = new Set<WatchEvent>();
  let wake = (): void => undefined;
  let controls: WatchControls | undefined;
  const reportersOf = ({ settings }: ReportersOptions) => {
    let isStopped = false;
    return {
      async report(task: Task) {
        if (isStopped) return null;
        await before(task);
        return makeOne(task, { ...settings, given: null }, () => Promise.reject(new Error('no PDF here')));
      },
      stop: () => void (isStopped = true),
      abort: () => void (isStopped = true),
      ended: () => Promise.resolve(),
    };
  };
  const ended = runWatch(
    {
      inbox,
      out,
      pdf: false,
      brand: null,
      once,
      workers: 1,
      timeLimitMs: 60_000,
      pollMs: 25,
      settleMs,
      tell: (event) => {
        events.push(event);
        wake();
      },
      onWait: () => undefined,
      onStart: (given) => (controls = given),
    },
    { reportersOf, ...(options.now && { now: options.now }) },
  );
  ended.catch(() => undefined);
  return {
    events,
    ended,
    get controls() {
      return controls!;
    },
    async next(kind) {
      for (;;) {
        const found = events.find((event) => event.event === kind && !seen.has(event));
        if (found !== undefined) {
          seen.add(found);
          return found as never;
        }
        const isOver = await Promise.race([
          new Promise<false>((resolve) => (wake = () => resolve(false))),
          ended.then(() => true),
        ]);
        if (isOver && !events.some((event) => event.event === kind && !seen.has(event)))
          throw new Error(`ended without '${kind}': ${JSON.stringify(events)}`);
      }
    },
    async stop() {
      controls?.stop();
      return ended;
    },
  };
}

/** Writes a file piece by piece, as a slow drive does. */
export async function writeSlowly(path: string, bytes: Buffer, pieces: number, ms: number): Promise<void> {
  const size = Math.ceil(bytes.length / pieces);
  await writeFile(path, '');
  for (let at = 0; at < bytes.length; at += size) {
    await appendFile(path, bytes.subarray(at, at + size));
    await new Promise((resolve) => setTimeout(resolve, ms));
  }
}

/** Names in a folder; those that begin with a point too. */
export const namesIn = async (folder: string): Promise<string[]> =>
  (await readdir(folder).catch(() => [])).sort();
