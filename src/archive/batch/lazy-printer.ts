/** A printer that is opened by the first that needs it, and closed once. */
import type { Printer } from '../../pages/report/pdf.js';

export interface LazyPrinter {
  readonly open: () => Promise<Printer>;
  close(): Promise<void>;
}

/** @param onOpened Told of the printer that opened. */
export function lazyPrinter(onOpened: (printer: Printer) => void = () => undefined): LazyPrinter {
  let printer: Promise<Printer> | null = null;
  return {
    open() {
      printer ??= import('../../pages/report/pdf.js').then(async ({ openPrinter }) => {
        const opened = await openPrinter();
        onOpened(opened);
        return opened;
      });
      // One that could not be opened is tried again with the next job.
      printer.catch(() => (printer = null));
      return printer;
    },
    close: async () => (await printer?.catch(() => null))?.close(),
  };
}
