/**
 * The register of a watch. The rows of a drop are written to register.json before the drop is moved: if the program ends
 * between the two, the drop is found again, and nothing is lost. The pages are made from the register, and may be made later.
 */
import type { Printer } from '../../pages/report/pdf.js';
import { SOFTWARE } from '../../base/version.js';
import type { Language } from '../../survey/job/languages.js';
import { buildRegister, type Register, type RegisterRow } from '../register/register.js';
import { registerJson } from '../register/register-json.js';
import { writeRegister } from '../register/write-register.js';
import { writeFileWhole } from '../write-whole.js';
import { startRows } from './rows.js';

export interface Book {
  /** Resolves when the rows are in register.json. Rejects if it could not be written; the rows are kept in memory. */
  enter(rows: readonly RegisterRow[]): Promise<void>;
  /** Since when the pages are out of date, ms of the watch's clock; null: they are up to date. */
  staleSince(): number | null;
  /** Writes all files of the register. @param printer null: no PDF. @param isValid false: the row is removed. */
  publish(printer: (() => Promise<Printer>) | null, isValid: (row: RegisterRow) => boolean): Promise<void>;
}

export function openBook(
  out: string,
  known: readonly RegisterRow[],
  foldCase: boolean,
  { now, language }: { readonly now: () => number; readonly language?: Language | undefined },
): Book {
  const rows = startRows(known, foldCase);
  let since: number | null = known.length > 0 ? now() : null;
  let last: Promise<unknown> = Promise.resolve();
  let next: Promise<void> | null = null;

  const register = (): Register => buildRegister(rows.all(), SOFTWARE, null, { language });

  /** One write at a time, so that an earlier one never replaces a later one. */
  function inLine(write: () => Promise<void>): Promise<void> {
    const done = last.then(write);
    last = done.catch(() => undefined);
    return done;
  }

  return {
    enter(entered) {
      rows.enter(entered);
      since ??= now();
      // A write that has not begun includes the rows that others enter meanwhile.
      next ??= inLine(() => {
        next = null;
        return writeFileWhole(out, 'register.json', Buffer.from(registerJson(register())));
      });
      return next;
    },
    staleSince: () => since,
    publish: (printer, isValid) =>
      inLine(async () => {
        rows.keep(isValid);
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
