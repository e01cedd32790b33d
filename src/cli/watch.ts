/** `waysheet watch DIR`: an inbox. What is dropped into it is reported as it arrives, and put away. */
import type { Languages } from '../survey/job/languages.js';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import type { Entry, ReportedEntry } from '../archive/batch/entry.js';
import type { WatchEvent } from '../archive/watch/events.js';
import { NoInbox, WrongPlaces } from '../archive/watch/places.js';
import { runWatch, type WatchEnd } from '../archive/watch/run-watch.js';
import { FolderNotFit } from '../archive/what-if-folder.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import type { Console } from './console.js';
import { askBrand } from './given.js';
import { listenForInterrupts } from './interrupts.js';
import { problemText } from './problem-text.js';
import { confirmedWords } from '../pages/report/sentence.js';
import { verdictWords } from './verdict-words.js';

export interface WatchOptions {
  readonly out: string;
  readonly pdf: boolean;
  /** Folder of a brand; absent: `brand` in the inbox, where there is one. */
  readonly brand: string | undefined;
  /** Time between two looks. */
  readonly pollMs: number;
  /** Time without a change after which a drop is taken. */
  readonly settleMs: number;
  /** Ends when everything that is there was reported, refused or found to be still changing. */
  readonly once: boolean;
  readonly language?: Languages | undefined;
  readonly json: boolean;
  readonly console: Console;
}

/** One job may take so long, ms. */
const TIME_LIMIT_MS = 300_000;

/**
 * Exit status: 3 when there is no such inbox; of a run with `--once` also when a drop was refused, and 1 when one
 * had to be left because of trouble; 1 when the watch could not go on or was cut off; else 0.
 */
export async function watch(inbox: string, options: WatchOptions): Promise<ExitCode> {
  const { out, pdf, pollMs, settleMs, once, json, console } = options;
  const brand = await askBrand(options.brand, inbox, console);
  if (brand === 'faulty') return exitCodes.refused;
  const tell = json ? tellAsJson(console, out) : tellInWords(console, inbox, out, pdf);
  const interrupts = listenForInterrupts(console);
  try {
    const end = await runWatch({
      inbox,
      out,
      pdf,
      brand,
      once,
      workers: availableParallelism(),
      timeLimitMs: TIME_LIMIT_MS,
      ...(options.language !== undefined && { language: options.language }),
      pollMs,
      settleMs,
      tell,
      onWait: (host, ms) =>
        console.err(
          `A run on ${visible(host)} holds the folder; watching for ${ms / 1000} s whether it lives.\n`,
        ),
      onStart: interrupts.use,
    });
    if (json) console.out(`${JSON.stringify({ event: 'ended', ...end })}\n`);
    else if (end.trouble !== null) console.err(`waysheet: ${visible(end.trouble)}\n`);
    return statusOf(end, once);
  } catch (error) {
    console.err(`waysheet: ${visible((error as Error).message)}\n`);
    if (error instanceof WrongPlaces || error instanceof FolderNotFit) return exitCodes.usage;
    return error instanceof NoInbox ? exitCodes.refused : exitCodes.failed;
  } finally {
    interrupts.end();
  }
}

function statusOf({ refused, troubled, trouble, isAborted }: WatchEnd, once: boolean): ExitCode {
  if (isAborted || trouble !== null) return exitCodes.failed;
  if (!once) return exitCodes.done;
  return refused > 0 ? exitCodes.refused : troubled > 0 ? exitCodes.failed : exitCodes.done;
}

/** Reports to standard output, all else to standard error. */
function tellInWords(console: Console, inbox: string, out: string, pdf: boolean) {
  const err = (text: string): void => console.err(`${visible(text)}\n`);
  return (event: WatchEvent): void => {
    switch (event.event) {
      case 'watching':
        return err(`Watching ${inbox}; reports go to ${out}. Ctrl-C ends it.`);
      case 'done':
      case 'refused':
        for (const entry of event.entries)
          if (entry.status === 'reported')
            console.out(`${visible(reportedText(entry, out, pdf, event.to))}\n`);
          else if (entry.status === 'refused') err(`${nameOf(entry)}: refused: ${problemText(entry)}`);
        if (event.page !== null) err(`${event.drop}: moved to ${event.to}; to send back: ${event.page}`);
        return;
      case 'incomplete':
        return err(
          `${event.drop}: not whole yet? ${event.reason} It is refused when nothing changes for ${event.waitMs / 1000} s more.`,
        );
      case 'changed':
        return err(`${event.drop}: changed while it was in hand; it is taken again when it has settled.`);
      case 'gone':
        return err(`${event.drop}: was taken away while it was in hand.`);
      case 'left':
        return err(`${event.drop}: is still changing; it is left for the next run.`);
      case 'trouble':
        return err(
          event.drop === null
            ? `Trouble: ${event.message}. It is tried again.`
            : `${event.drop}: stays where it is: ${event.message}. It is tried again.`,
        );
      case 'over':
        return err('The trouble is over.');
    }
  };
}

const nameOf = ({ folder, job }: { folder: string; job: string | null }): string =>
  job === null ? folder : `${folder} (${job})`;

function reportedText({ row, made, before }: ReportedEntry, out: string, pdf: boolean, to: string): string {
  const { job, verdict } = row;
  const was = before === null || before === verdict ? '' : `; the verdict was: ${verdictWords[before]}`;
  const earlier = !made
    ? ' The report that was issued before is the same, and stays in force.'
    : before === null
      ? ''
      : ` It replaces the report that was issued before${was}.`;
  return `${job}: ${verdictWords[verdict]}${confirmedWords(row)}. ${join(out, job, pdf ? 'report.pdf' : 'report.html')}.${earlier} Moved to ${to}.`;
}

/** One line an event. */
function tellAsJson(console: Console, out: string) {
  return (event: WatchEvent): void => {
    const told = 'entries' in event ? jobsOf(event, out) : event;
    console.out(`${JSON.stringify(told)}\n`);
  };
}

function jobsOf({ entries, ...event }: Extract<WatchEvent, { entries: unknown }>, out: string) {
  return { ...event, jobs: entries.map((entry) => jsonOf(entry, out)) };
}

function jsonOf(entry: Entry, out: string): object {
  if (entry.status !== 'reported') return entry;
  const { folder, status, row, made, before } = entry;
  return {
    folder,
    status,
    job: row.job,
    made,
    verdict: row.verdict,
    confirmed: row.confirmed ?? 0,
    before,
    out: join(out, row.job),
  };
}
