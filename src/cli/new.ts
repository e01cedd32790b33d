/** `waysheet new DIR`: a job folder to fill in, with a field sheet to take along. */
import { lstat, readdir, rmdir } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import { writeWhole } from '../archive/write-whole.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import { answer } from './new/answer.js';
import { askOnTerminal, QuestionsEnded, type Terminal } from './new/ask-on-terminal.js';
import { makeFolder, printSheet } from './new/make-folder.js';
import type { Plan } from './new/plan.js';
import { summaryOf } from './new/summary.js';
import { BrowserTrouble } from '../pages/report/browser/trouble.js';
import type { Printer } from '../pages/report/pdf.js';
import { VERSION } from '../base/version.js';
import { calledAs } from './called-as.js';
import type { Console } from './console.js';

export interface NewOptions {
  /** Values by the names of the questions; with `yes` and `no-pdf`. */
  readonly flags: Readonly<Record<string, string | boolean | undefined>>;
  /** null: there is nobody to ask. */
  readonly terminal: Terminal | null;
  readonly json: boolean;
  /** ISO date; the field sheet's PDF has it. */
  readonly today: string;
  readonly console: Console;
  readonly openPrinter?: () => Promise<Printer>;
}

export async function runNew(folder: string, options: NewOptions): Promise<ExitCode> {
  const { flags, json, console } = options;
  const refuse = (why: readonly string[], status: ExitCode): ExitCode => {
    if (json) console.out(`${JSON.stringify({ folder, ok: false, problems: why }, null, 2)}\n`);
    for (const line of why) console.err(`${visible(line)}\n`);
    return status;
  };
  const path = resolve(folder);
  if (path === dirname(path) || path === process.cwd())
    return refuse([`${folder}: name a folder to make, not the one you are in`], exitCodes.usage);
  const taken = await whatStandsAt(path);
  if (taken !== null) return refuse([`${folder}: ${taken}; nothing was written`], exitCodes.refused);

  const asking = flags['yes'] === true || options.terminal === null ? null : askOnTerminal(options.terminal);
  try {
    const answered = await answer({
      given: textFlags(flags),
      folderName: basename(path),
      ask: asking?.ask ?? null,
      summary: summaryOf,
    });
    asking?.close();
    if (!answered.ok) return refuse(answered.wrong, exitCodes.usage);
    const files = await filesOf(answered.plan, options);
    await makeWay(path);
    await writeWhole(dirname(path), basename(path), files);
    const names = [...files.keys()];
    if (json)
      console.out(
        `${JSON.stringify({ folder, ok: true, job: answered.plan.id, files: names, taken: answered.taken }, null, 2)}\n`,
      );
    else console.out(lastWords(folder, names, answered.taken, answered.plan));
    return exitCodes.done;
  } catch (error) {
    if (error instanceof QuestionsEnded)
      return refuse(['', 'stopped; nothing was written'], exitCodes.failed);
    throw error;
  } finally {
    asking?.close();
  }
}

const textFlags = (flags: NewOptions['flags']): Record<string, string> =>
  Object.fromEntries(
    Object.entries(flags).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );

/** null: the folder can be made, or it is there and empty. */
async function whatStandsAt(path: string): Promise<string | null> {
  const found = await lstat(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw error;
  });
  if (found === null) return null;
  if (!found.isDirectory()) return 'something is there that is no folder';
  return (await readdir(path)).length === 0 ? null : 'the folder is not empty';
}

/** Removes an empty folder. A folder that was filled meanwhile stays, and the error says so. */
async function makeWay(path: string): Promise<void> {
  await rmdir(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'ENOENT') throw error;
  });
}

async function filesOf(plan: Plan, options: NewOptions): Promise<ReadonlyMap<string, Uint8Array>> {
  const software = `waysheet ${VERSION}`;
  if (options.flags['no-pdf'] === true) return makeFolder(plan, software, null);
  let printer: Printer | null = null;
  try {
    printer = await (options.openPrinter ?? openUsualPrinter)();
    for (const note of printer.notes) await say(note, options.console);
    return await makeFolder(plan, software, printSheet(printer, plan, software, options.today));
  } catch (error) {
    if (!(error instanceof BrowserTrouble)) throw error;
    // The folder is useful without the PDF: any browser prints the page.
    options.console.err(
      `note: the field sheet could not be printed: ${error.message} It is field-sheet.html instead.\n`,
    );
    return makeFolder(plan, software, null);
  } finally {
    await printer?.close();
  }
}

const openUsualPrinter = async (): Promise<Printer> => (await import('../pages/report/pdf.js')).openPrinter();

async function say(note: Printer['notes'][number], console: Console): Promise<void> {
  const { describeNote } = await import('../pages/report/browser-notes.js');
  console.err(`${describeNote(note)}\n`);
}

function lastWords(folder: string, files: readonly string[], taken: readonly string[], plan: Plan): string {
  const both = plan.phases.length > 1;
  const command = calledAs();
  return [
    `${visible(folder)}: ${files.join(', ')}`,
    ...(taken.length === 0 ? [] : [`taken as usual, because not said: ${taken.join(' ')}`]),
    `What the day decides is as planned in job.json: places of set-ups and monuments, sides of plus, instrument figures. Change them there${plan.tolerances.length === 0 && plan.toleranceSet === null ? ', and add tolerances' : ''}; ${command} form ${visible(folder)} does it on a page, in a browser.`,
    ...(both ? ['As long as as-left is not measured, its files may stay empty.'] : []),
    `Fill in the readings, then: ${command} check ${visible(folder)}`,
    '',
  ].join('\n');
}
