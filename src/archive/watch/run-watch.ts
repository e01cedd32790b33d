/** Watches an inbox: a drop that has stopped changing is reported, registered and moved. */
import { runLanguage, type Languages } from '../../survey/job/languages.js';
import type { Brand } from '../../survey/brand/read-brand.js';
import { rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { FolderLocked, foldsCase } from '../batch/lock.js';
import { registerNames } from '../register/write-register.js';
import { claimFolder } from '../what-if-folder.js';
import { recoverAll } from '../write-whole.js';
import { startAlarm } from './alarm.js';
import { openBook, type Book } from './book.js';
import { startReporters, type Reporters } from './reporters.js';
import { REFUSED } from './drops.js';
import type { Tell } from './events.js';
import { knownRows } from './known-rows.js';
import { startLocks, type Locks } from './locks.js';
import { checkPlaces } from './places.js';
import { startPublisher } from './publisher.js';
import type { SettlingTimes } from './settling.js';
import { startTracking } from './tracking.js';
import { startTurns } from './turns.js';

export interface WatchOptions extends SettlingTimes {
  readonly inbox: string;
  readonly out: string;
  readonly pdf: boolean;
  /** The look of the reports; null: that of waysheet. */
  readonly brand: Brand | null;
  /** Ends when the drops that are there are reported, refused or still changing. */
  readonly once: boolean;
  readonly workers: number;
  readonly timeLimitMs: number;
  /** Of all reports; absent: each in that of its job. */
  readonly language?: Languages;
  readonly tell: Tell;
  readonly onWait: (host: string, ms: number) => void;
  /** Called when the watch runs, with what can stop it. */
  readonly onStart: (controls: WatchControls) => void;
}

export interface WatchControls {
  /** Running jobs are finished; no others are started. */
  readonly stop: () => void;
  /** Everything ends now; drops that were being handled stay where they are. */
  readonly abort: () => void;
}

export interface WatchEnd {
  readonly refused: number;
  /** Number of drops that stay in the inbox because of trouble. */
  readonly troubled: number;
  /** Why it could not continue, or what is missing from the register; null: nothing. */
  readonly trouble: string | null;
  readonly isAborted: boolean;
}

/** Folder in the output folder in which zips are unpacked. */
const SCRATCH = '.waysheet-watch';

/** Parts of a watch that tests replace. */
export interface WatchMeans {
  /** A clock for differences only, ms. */
  readonly now: () => number;
  readonly reportersOf: typeof startReporters;
}

/** @throws {NoInbox} {WrongPlaces} {FolderNotFit} {FolderLocked} {Error} a folder cannot be written to. */
export async function runWatch(
  options: WatchOptions,
  { now = () => performance.now(), reportersOf = startReporters }: Partial<WatchMeans> = {},
): Promise<WatchEnd> {
  const inbox = resolve(options.inbox);
  const out = resolve(options.out);
  const leaveOut = await checkPlaces(inbox, out);
  const locks = startLocks([inbox, out], options.onWait);
  try {
    // Where the second is held by another, the first is given back.
    await locks.take();
    await claimFolder(out, null);
    const scratch = join(out, SCRATCH);
    // The locks are held, so nobody else writes in the two folders: half-written files were left by an interrupted run.
    await rm(scratch, { recursive: true, force: true });
    await recoverAll(join(inbox, REFUSED), () => true);
    const ofRegister = new Set(registerNames(null));
    await recoverAll(out, (name) => ofRegister.has(name));
    const foldCase = await foldsCase(locks.held()[1]!);
    const { pdf, workers, timeLimitMs, language } = options;
    const book = openBook(out, await knownRows(inbox, out), foldCase, {
      now,
      language: runLanguage(options),
    });
    const settings = {
      root: inbox,
      out,
      pdf,
      anew: false,
      limit: timeLimitMs / 1000,
      given: null,
      brand: options.brand,
      ...(language !== undefined && { language }),
    };
    const reporters = reportersOf({ settings, workers, timeLimitMs });
    const places = { inbox, out, scratch, foldCase };
    return await watch({ ...options, inbox }, { locks, book, reporters, places, leaveOut, now });
  } finally {
    await locks.release();
  }
}

interface Means {
  readonly locks: Locks;
  readonly book: Book;
  readonly reporters: Reporters;
  readonly places: {
    readonly inbox: string;
    readonly out: string;
    readonly scratch: string;
    readonly foldCase: boolean;
  };
  readonly leaveOut: readonly string[];
  readonly now: () => number;
}

async function watch(options: WatchOptions, means: Means): Promise<WatchEnd> {
  const { once, pollMs, settleMs, tell } = options;
  const { locks, book, reporters, places, leaveOut, now } = means;
  const alarm = startAlarm();
  const { inbox, pdf } = options;
  const publisher = startPublisher({ book, inbox, pdf, pollMs, now, tell, onEnd: alarm.ring });
  const asked = { language: options.language, brand: options.brand };
  const shared = { ...places, asked, reporters, book, turns: startTurns(), reserved: new Set<string>() };
  const tracking = startTracking({
    shared,
    leaveOut,
    once,
    pollMs,
    settleMs,
    now,
    tell,
    onEnd: alarm.ring,
  });
  let isStopped = false;
  let isAborted = false;
  let trouble: string | null = null;
  const stop = (): void => {
    isStopped = true;
    tracking.stop();
    reporters.stop();
    alarm.ring();
  };
  const abort = (): void => {
    isAborted = true;
    stop();
    reporters.abort();
    publisher.abort();
  };
  options.onStart({ stop, abort });
  tell({ event: 'watching' });
  while (!isStopped) {
    const message = await locks
      .take()
      .then(tracking.round)
      .then(nothing, (error: Error) => {
        if (error instanceof FolderLocked) stop();
        return error.message;
      });
    if (message === null && trouble !== null) tell({ event: 'over' });
    if (message !== null && message !== trouble) tell({ event: 'trouble', drop: null, message });
    trouble = message;
    publisher.publishIfDue(tracking.inHand());
    if (once && (trouble !== null || tracking.isThrough())) break;
    if (!isStopped) await alarm.wait(pollMs);
  }
  tracking.stop();
  await tracking.ended();
  await reporters.ended();
  await rm(places.scratch, { recursive: true, force: true }).catch(nothing);
  const missing = isAborted ? null : await publisher.finish();
  return { ...tracking.counts(), trouble: trouble ?? missing, isAborted };
}

const nothing = (): null => null;
