/** Makes the pages of the register when nothing else is to be done, one edition at a time. */
import { lazyPrinter } from '../batch/lazy-printer.js';
import { startBackoff } from './backoff.js';
import type { Book } from './book.js';
import type { Tell } from './events.js';
import { stillRefused } from './known-rows.js';

/** If drops never stop coming, the pages are made after this time, ms. */
const MAX_STALE_MS = 60_000;

export interface PublisherOptions {
  readonly book: Book;
  readonly inbox: string;
  readonly pdf: boolean;
  readonly pollMs: number;
  readonly now: () => number;
  readonly tell: Tell;
  /** Called when an edition is made, or has failed. */
  readonly onEnd: () => void;
}

export function startPublisher({ book, inbox, pdf, pollMs, now, tell, onEnd }: PublisherOptions) {
  const backoff = startBackoff(2 * pollMs, now);
  let running: Promise<void> | null = null;
  let printer: ReturnType<typeof lazyPrinter> | null = null;

  async function publish(): Promise<void> {
    printer = pdf ? lazyPrinter() : null;
    try {
      await book.publish(printer?.open ?? null, await stillRefused(inbox));
      backoff.clear();
    } catch (error) {
      const message = `The register is not up to date: ${(error as Error).message}`;
      if (backoff.fail(message)) tell({ event: 'trouble', drop: null, message });
    } finally {
      await printer?.close();
      printer = null;
      running = null;
      onEnd();
    }
  }

  return {
    publishIfDue(inHand: number): void {
      const since = book.staleSince();
      if (since === null || running !== null || !backoff.isDue()) return;
      if (inHand === 0 || now() - since > MAX_STALE_MS) running = publish();
    },
    /** @returns What is missing; null: nothing. */
    async finish(): Promise<string | null> {
      await running;
      if (book.staleSince() !== null) await publish();
      return book.staleSince() === null ? null : 'the register is not up to date';
    },
    abort: (): void => void printer?.close().catch(() => undefined),
  };
}
