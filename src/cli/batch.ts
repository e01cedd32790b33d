/** `waysheet batch DIR`: every job folder below a folder, in parallel; only what changed. */
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import type { Entry, ReportedEntry } from '../archive/batch/entry.js';
import { CannotCompare } from '../archive/changes/cannot-compare.js';
import { NoJobs, runBatch, type BatchEnd } from '../archive/batch/run-batch.js';
import { parseShard } from '../archive/shard.js';
import { FolderNotFit } from '../archive/what-if-folder.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import { counted } from '../pages/report/sentence.js';
import { verdicts } from '../results/results-schema.js';
import type { Console } from './console.js';
import { askGiven } from './given.js';
import { listenForInterrupts } from './interrupts.js';
import { startPace, timeText } from './pace.js';
import { problemText } from './problem-text.js';
import { progressOn } from './progress.js';
import { verdictWords } from './verdict-words.js';
import { wholeNumber } from './whole-number.js';

/** As parseArgs takes them. */
export const batchOptions = {
  out: { type: 'string' },
  'no-pdf': { type: 'boolean' },
  /** Worker processes. */
  jobs: { type: 'string' },
  /** 'i/n': only the jobs of one part of n. */
  shard: { type: 'string' },
  /** Seconds that one job may take. */
  limit: { type: 'string' },
  /** Also what did not change. */
  anew: { type: 'boolean' },
  /** A tolerance set that judges every job in place of its own. */
  tolerances: { type: 'string' },
  /** An output folder with whose reports those of this run are compared. */
  against: { type: 'string' },
} as const;

export interface BatchArguments {
  readonly values: {
    readonly out?: string | undefined;
    readonly 'no-pdf'?: boolean | undefined;
    readonly jobs?: string | undefined;
    readonly shard?: string | undefined;
    readonly limit?: string | undefined;
    readonly anew?: boolean | undefined;
    readonly tolerances?: string | undefined;
    readonly against?: string | undefined;
    readonly json?: boolean | undefined;
  };
  readonly console: Console;
}

/** Exit status: 3 when a job was refused, 1 when one failed for another reason or not all were reached, else 0. */
export async function batch(root: string, { values, console }: BatchArguments): Promise<ExitCode> {
  const workers = wholeNumber(values.jobs, availableParallelism(), 256);
  const limit = wholeNumber(values.limit, 300, 86_400);
  const shard = values.shard === undefined ? null : parseShard(values.shard);
  const wrong =
    workers === null
      ? `--jobs takes a number of processes from 1 to 256, not '${values.jobs}'`
      : limit === null
        ? `--limit takes a number of seconds from 1 to 86400, not '${values.limit}'`
        : values.shard !== undefined && shard === null
          ? `--shard takes i/n with i from 1 to n, not '${values.shard}'`
          : shard !== null && values.against !== undefined
            ? '--against compares a whole archive: report its parts first, then run without --shard, which leaves them as they are'
            : null;
  if (wrong !== null || workers === null || limit === null) {
    console.err(`waysheet: ${wrong}\n`);
    return exitCodes.usage;
  }
  const out = values.out ?? 'out';
  const given = await askGiven(values.tolerances, console);
  if (given === 'faulty') return exitCodes.refused;
  const talk = talkOn(console, values.json === true);
  const interrupts = listenForInterrupts(console);
  try {
    const end = await runBatch({
      root,
      out,
      pdf: values['no-pdf'] !== true,
      anew: values.anew === true,
      workers,
      timeLimitMs: limit * 1000,
      shard,
      given,
      against: values.against ?? null,
      onStart: talk.start,
      onEntry: talk.entry,
      onRun: interrupts.use,
      onWait: (host, ms) =>
        console.err(
          `A batch on ${visible(host)} holds ${visible(out)}; watching for ${ms / 1000} s whether it lives.\n`,
        ),
    });
    talk.clear();
    if (values.json === true) console.out(`${JSON.stringify(jsonOf(end, out), null, 2)}\n`);
    else await sayEnd(end, root, out, console);
    return statusOf(end);
  } catch (error) {
    talk.clear();
    console.err(`waysheet: ${visible((error as Error).message)}\n`);
    if (error instanceof FolderNotFit || error instanceof CannotCompare) return exitCodes.usage;
    return error instanceof NoJobs ? exitCodes.refused : exitCodes.failed;
  } finally {
    interrupts.end();
  }
}

function statusOf({ register, stopped, entries }: BatchEnd): ExitCode {
  const { counts } = register;
  if (stopped !== null) return exitCodes.failed;
  // A part of an archive may well have none.
  const isEmpty = entries.length === 0 && register.shard === null;
  if (counts.refused > 0 || isEmpty) return exitCodes.refused;
  return counts.failed > 0 ? exitCodes.failed : exitCodes.done;
}

/** Only what needs to be looked at; the rest stands in the register. */
function talkOn(console: Console, json: boolean) {
  const progress = progressOn(console);
  const pace = startPace();
  let jobs = 0;
  let done = 0;
  let refused = 0;
  const say = (): void => {
    const rate = pace.rate(done);
    const parts = [
      `${done} of ${jobs}`,
      ...(rate === null ? [] : [`${rate.toPrecision(3)}/s`]),
      ...(rate === null || rate === 0 ? [] : [`${timeText((jobs - done) / rate)} left`]),
      ...(refused === 0 ? [] : [`${refused} refused`]),
    ];
    progress.say(parts.join(' · '));
  };
  return {
    start(n: number) {
      jobs = n;
      say();
    },
    entry(entry: Entry) {
      done++;
      if (entry.status !== 'reported') refused++;
      const line = lineOf(entry);
      if (line !== null && !json) {
        progress.clear();
        (entry.status === 'reported' ? console.out : console.err)(`${line}\n`);
      }
      say();
    },
    clear: progress.clear,
  };
}

function lineOf(entry: Entry): string | null {
  if (entry.status === 'reported') return changeOf(entry);
  const name = visible(entry.job === null ? entry.folder : `${entry.folder} (${entry.job})`);
  if (entry.status === 'failed') return `${name}: failed: ${visible(entry.message)}`;
  return `${name}: refused: ${problemText(entry)}`;
}

function changeOf({ before, row }: ReportedEntry): string | null {
  if (before === null || before === row.verdict) return null;
  return `${row.job}: ${verdictWords[row.verdict]}; it was: ${verdictWords[before]}`;
}

async function sayEnd(
  { register: { counts, shard }, changes, stopped, entries }: BatchEnd,
  root: string,
  out: string,
  console: Console,
): Promise<void> {
  if (entries.length === 0 && stopped === null)
    return console.err(`${visible(root)}: no job folder is in it${shard === null ? '' : ' for this part'}\n`);
  const made = entries.filter((e) => e.status === 'reported' && e.made).length;
  const by = verdicts
    .filter((v) => counts.verdicts[v] > 0)
    .map((v) => `${counts.verdicts[v]} ${verdictWords[v]}`);
  const parts = [
    `${counted(counts.jobs, 'job')}: ${made} reported, ${counts.reported - made} unchanged`,
    ...(counts.refused > 0 ? [`${counts.refused} refused`] : []),
    ...(counts.failed > 0 ? [`${counts.failed} failed`] : []),
    ...(counts.notDone > 0 ? [`${counts.notDone} not reached`] : []),
  ];
  console.out(`${parts.join(', ')}.${by.length === 0 ? '' : ` Verdicts: ${by.join(', ')}.`}\n`);
  if (shard === null) console.out(`${visible(join(out, 'register.html'))}\n`);
  if (changes !== null) {
    const { changesText } = await import('../archive/changes/change-words.js');
    console.out(`${changesText(changes)}\n${visible(join(out, 'changes.html'))}\n`);
  }
  if (stopped !== null)
    console.err(`waysheet: stopped: ${visible(stopped)}. The next run goes on from here.\n`);
}

function jsonOf({ register, entries, changes, stopped }: BatchEnd, out: string) {
  const jobs = [...entries].sort((a, b) => (a.folder < b.folder ? -1 : 1));
  return {
    counts: register.counts,
    made: entries.filter((e) => e.status === 'reported' && e.made).length,
    stopped,
    ...(changes !== null && {
      changes: { counts: changes.counts, byCause: changes.byCause, file: join(out, 'changes.json') },
    }),
    jobs: jobs.map((entry) =>
      entry.status === 'reported'
        ? {
            folder: entry.folder,
            status: entry.status,
            job: entry.row.job,
            made: entry.made,
            verdict: entry.row.verdict,
            before: entry.before,
            out: join(out, entry.row.job),
          }
        : entry,
    ),
  };
}
