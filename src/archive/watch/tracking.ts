/** The drops of an inbox from the moment they appear: checked in rounds, taken when they have stopped changing. */
import type { Verdict } from '../../results/results-schema.js';
import { inParallel } from '../in-parallel.js';
import { startBackoff, type Backoff } from './backoff.js';
import { dropsIn, type Drop } from './drops.js';
import type { Tell } from './events.js';
import { digestOf, listDrop } from './listing.js';
import { checkStability, type Settling, type SettlingTimes } from './settling.js';
import { takeDrop, type Shared, type Taken } from './take-drop.js';

/** Number of drops that are handled at the same time; their jobs wait for the workers anyway. */
const MAX_IN_HAND = 16;
/** A drop that looks half-copied is waited for this number of settling times more. */
const EXTRA_SETTLING_TIMES = 6;

export interface TrackingOptions extends SettlingTimes {
  readonly shared: Shared;
  /** Names in the inbox that are no drops. */
  readonly leaveOut: readonly string[];
  /** Only drops that are there in the first round. */
  readonly once: boolean;
  /** A clock for differences only, ms. */
  readonly now: () => number;
  readonly tell: Tell;
  /** Called when a drop was handled. */
  readonly onEnd: () => void;
}

export interface Tracking {
  /** Checks every drop once, and takes those that are stable. @throws {Error} the inbox cannot be read. */
  round(): Promise<void>;
  /** Takes no more. */
  stop(): void;
  inHand(): number;
  /** With `once`: nothing is left to wait for. Drops that are still changing are told as events. */
  isThrough(): boolean;
  /** Resolves when no drop is being handled. */
  ended(): Promise<void>;
  /** Number of drops that were refused, and that stay in the inbox because of trouble. */
  counts(): { readonly refused: number; readonly troubled: number };
}

interface Item {
  drop: Drop;
  isTooLarge: boolean;
  settling: Settling | null;
  /** It looked half-copied when it was taken. */
  isHalf: boolean;
  hasChanged: boolean;
  inHand: Promise<void> | null;
  readonly backoff: Backoff;
  readonly made: Map<string, Verdict | null>;
}

export function startTracking(options: TrackingOptions): Tracking {
  const { shared, leaveOut, once, now, tell, pollMs, settleMs } = options;
  const items = new Map<string, Item>();
  let isFirst = true;
  let isStopped = false;
  let refused = 0;

  const newItem = (drop: Drop): Item => ({
    drop,
    isTooLarge: false,
    settling: null,
    isHalf: false,
    hasChanged: false,
    inHand: null,
    backoff: startBackoff(2 * pollMs, now),
    made: new Map(),
  });

  async function round(): Promise<void> {
    const drops = await dropsIn(shared.inbox, leaveOut);
    const names = new Set(drops.map(({ name }) => name));
    for (const [name, item] of items) if (!names.has(name) && item.inHand === null) items.delete(name);
    for (const drop of drops) {
      const item = items.get(drop.name);
      if (item !== undefined) item.drop = drop;
      else if (isFirst || !once) items.set(drop.name, newItem(drop));
    }
    isFirst = false;
    await inParallel(
      [...items.values()].filter((item) => item.inHand === null),
      checkItem,
    );
    const ready = [...items.values()].filter(isReady).sort((a, b) => (a.drop.name < b.drop.name ? -1 : 1));
    for (const item of ready) if (!isStopped && inHand() < MAX_IN_HAND) item.inHand = begin(item);
  }

  async function checkItem(item: Item): Promise<void> {
    const { path } = item.drop;
    try {
      const listing = await listDrop(path);
      if (listing === null) return;
      item.isTooLarge = listing.isTooLarge;
      const before = item.settling;
      const after = await checkStability(before, listing, now(), options, () => digestOf(path, listing));
      item.settling = after;
      if (before !== null && after.quietMs === 0) startAnew(item);
    } catch (error) {
      startAnew(item);
      report(item, (error as Error).message);
    }
  }

  function startAnew(item: Item): void {
    item.hasChanged = true;
    item.isHalf = false;
    item.made.clear();
  }

  function isReady({ settling, isHalf, hasChanged, inHand, backoff }: Item): boolean {
    if (inHand !== null || settling === null || !settling.isSettled || !backoff.isDue()) return false;
    if (once && (hasChanged || backoff.times() > 0)) return false;
    return !isHalf || settling.quietMs >= settleMs * (1 + EXTRA_SETTLING_TIMES);
  }

  async function begin(item: Item): Promise<void> {
    const { drop, isTooLarge, settling, isHalf, made } = item;
    const taken = await takeDrop(
      { drop, isTooLarge, digest: settling!.digest!, isFinal: isHalf, made },
      shared,
    );
    item.inHand = null;
    end(item, taken);
    options.onEnd();
  }

  function end(item: Item, taken: Taken): void {
    const drop = item.drop.name;
    if (taken.end === 'interrupted') return;
    if (taken.end === 'trouble') return report(item, taken.message);
    item.backoff.clear();
    if (taken.end === 'incomplete') {
      item.isHalf = true;
      tell({ event: 'incomplete', drop, reason: taken.reason, waitMs: settleMs * EXTRA_SETTLING_TIMES });
    } else if (taken.end === 'changed') {
      item.settling = null;
      startAnew(item);
      tell({ event: 'changed', drop });
    } else {
      items.delete(drop);
      if (taken.end === 'refused') refused++;
      if (taken.end === 'gone') return tell({ event: 'gone', drop });
      const { end: event, to, page, entries } = taken;
      tell({ event, drop, to, page, entries });
    }
  }

  function report(item: Item, message: string): void {
    if (item.backoff.fail(message)) tell({ event: 'trouble', drop: item.drop.name, message });
  }

  const inHand = (): number => [...items.values()].filter((item) => item.inHand !== null).length;
  const isTroubled = (item: Item): boolean => item.inHand === null && item.backoff.times() > 0;

  return {
    round,
    stop: () => void (isStopped = true),
    inHand,
    isThrough() {
      const left = [...items.values()].filter((item) => item.hasChanged && item.inHand === null);
      const isThrough = [...items.values()].every((item) => left.includes(item) || isTroubled(item));
      if (isThrough) for (const { drop } of left) tell({ event: 'left', drop: drop.name });
      return isThrough;
    },
    ended: async () => void (await Promise.all([...items.values()].map((item) => item.inHand))),
    counts: () => ({ refused, troubled: [...items.values()].filter(isTroubled).length }),
  };
}
