/** The events of a watch. */
import type { Entry } from '../batch/entry.js';

export type WatchEvent =
  | { readonly event: 'watching' }
  /** The drop was handled. `to` and `page` are relative to the inbox; a page is next to a refused drop. */
  | {
      readonly event: 'done' | 'refused';
      readonly drop: string;
      readonly to: string;
      readonly page: string | null;
      readonly entries: readonly Entry[];
    }
  /** It looks half-copied. It is checked again when it changes, or after `waitMs`. */
  | {
      readonly event: 'incomplete';
      readonly drop: string;
      readonly reason: string;
      readonly waitMs: number;
    }
  /** It changed, or was removed, while it was being handled. */
  | { readonly event: 'changed' | 'gone'; readonly drop: string }
  /** The run ended by itself (`once`), and the drop was still changing. */
  | { readonly event: 'left'; readonly drop: string }
  /** The drop stays where it is. drop null: the trouble is with the inbox, the output folder or the register. */
  | { readonly event: 'trouble'; readonly drop: string | null; readonly message: string }
  /** The inbox can be read again. */
  | { readonly event: 'over' };

export type Tell = (event: WatchEvent) => void;
