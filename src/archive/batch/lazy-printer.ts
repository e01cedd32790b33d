/** A printer that is opened when it is first needed, and closed once. */
import type { Printer } from '../../pages/report/pdf.js';

export interface LazyPrinter {
  readonly open: () => Promise<Printer>;
  close(): Promise<void>;
}

/** @param onOpened Called with the printer when it is open. */
export function lazyPrinter(onOpened: (printer: Printer) => void = () => undefined): LazyPrinter {
  let printer: Promise<Printer> | null = null;
  return {
    open() {
      printer ??= import('../../pages/report/pdf.js').then(async ({ openPrinter }) => {
        const opened = await openPrinter();
        onOpened(opened);
        return opened;
      });
      // If it could not be opened, the next job tries again.
      printer.catch(() => (printer = null));
      return printer;
    },
    close: async () => (await printer?.catch(() => null))?.close(),
  };
}
