/**
 * The register of a watch. What a drop brought stands in register.json before the drop is moved: were the program
 * ended between the two, the drop would be found again, and nothing be lost. The pages that are made from it may
 * be later.
 */
import type { Printer } from '../../pages/report/pdf.js';
import { SOFTWARE } from '../../base/version.js';
import { buildRegister, type Register, type RegisterRow } from '../register/register.js';
import { registerJson } from '../register/register-json.js';
import { writeRegister } from '../register/write-register.js';
import { writeFileWhole } from '../write-whole.js';
import { startRows } from './rows.js';

export interface Book {
  /** Resolves when it stands in register.json. Rejects when it could not be written; it is kept all the same. */
  enter(rows: readonly RegisterRow[]): Promise<void>;
  /** Since when the pages lack something, ms of the watch's clock; null: they do not. */
  staleSince(): number | null;
  /** All files of the register. @param printer null: no PDF. */
  publish(printer: (() => Promise<Printer>) | null, isSo: (row: RegisterRow) => boolean): Promise<void>;
}

export function openBook(
  out: string,
  known: readonly RegisterRow[],
  foldCase: boolean,
  now: () => number,
): Book {
  const rows = startRows(known, foldCase);
  let since: number | null = known.length > 0 ? now() : null;
  let last: Promise<unknown> = Promise.resolve();
  let next: Promise<void> | null = null;

  const register = (): Register => buildRegister(rows.all(), SOFTWARE, null);

  /** One write at a time, so that none overtakes a later one. */
  function inLine(write: () => Promise<void>): Promise<void> {
    const done = last.then(write);
    last = done.catch(() => undefined);
    return done;
  }

  return {
    enter(entered) {
      rows.enter(entered);
      since ??= now();
      // A write that has not begun takes in what others enter meanwhile.
      next ??= inLine(() => {
        next = null;
        return writeFileWhole(out, 'register.json', Buffer.from(registerJson(register())));
      });
      return next;
    },
    staleSince: () => since,
    publish: (printer, isSo) =>
      inLine(async () => {
        rows.keep(isSo);
        const before = since;
        since = null;
        try {
          await writeRegister(out, register(), null, printer);
        } catch (error) {
          since ??= before;
          throw error;
        }
      }),
  };
}
