/** What a watch tells as it happens, and how it ended. */
import type { Entry } from '../batch/entry.js';

export type WatchEvent =
  | { readonly event: 'watching' }
  /** Taken to its end: `to` and `page` relative to the inbox; a page lies beside what was refused. */
  | {
      readonly event: 'done' | 'refused';
      readonly drop: string;
      readonly to: string;
      readonly page: string | null;
      readonly entries: readonly Entry[];
    }
  /** It looks half-copied, and is looked at again when it changes, or after `waitMs`. */
  | {
      readonly event: 'incomplete';
      readonly drop: string;
      readonly reason: string;
      readonly waitMs: number;
    }
  /** It changed, or was taken away, while it was in hand. */
  | { readonly event: 'changed' | 'gone'; readonly drop: string }
  /** Of a run that ends by itself: it was still changing. */
  | { readonly event: 'left'; readonly drop: string }
  /** The drop lies where it was. null: it is about the inbox, the output folder or the register. */
  | { readonly event: 'trouble'; readonly drop: string | null; readonly message: string }
  /** What kept the inbox from being looked at is over. */
  | { readonly event: 'over' };

export type Tell = (event: WatchEvent) => void;
