/** `waysheet batch DIR`: every job folder below a folder, in parallel; only what changed. */
import type { Languages } from '../survey/job/languages.js';
import { join } from 'node:path';
import type { Entry, ReportedEntry } from '../archive/batch/entry.js';
import { CannotCompare } from '../archive/changes/cannot-compare.js';
import { NoJobs, runBatch, type BatchEnd } from '../archive/batch/run-batch.js';
import type { Shard } from '../archive/shard.js';
import { FolderNotFit } from '../archive/what-if-folder.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import { counted } from '../base/diagnostics/counted.js';
import { verdicts } from '../results/results-schema.js';
import type { Console } from './console.js';
import { askBrand, askGiven } from './given.js';
import { listenForInterrupts } from './interrupts.js';
import { startPace, timeText } from './pace.js';
import { problemText } from './problem-text.js';
import { progressOn } from './progress.js';
import { verdictWords } from './verdict-words.js';

export interface BatchOptions {
  readonly out: string;
  readonly pdf: boolean;
  /** Worker processes. */
  readonly workers: number;
  /** Only the jobs of one part; null: all. */
  readonly shard: Shard | null;
  /** Seconds that one job may take. */
  readonly limit: number;
  readonly language?: Languages | undefined;
  /** Also what did not change. */
  readonly anew: boolean;
  /** A tolerance set that judges every job in place of its own. */
  readonly tolerances: string | undefined;
  /** Folder of a brand; absent: `brand` in the archive, where there is one. */
  readonly brand: string | undefined;
  /** An output folder with whose reports those of this run are compared. */
  readonly against: string | undefined;
  readonly json: boolean;
  readonly console: Console;
}

/** Exit status: 3 when a job was refused, 1 when one failed for another reason or not all were reached, else 0. */
export async function batch(root: string, options: BatchOptions): Promise<ExitCode> {
  const { out, pdf, workers, shard, limit, anew, tolerances, against = null, json, console } = options;
  const given = await askGiven(tolerances, console);
  if (given === 'faulty') return exitCodes.refused;
  const brand = await askBrand(options.brand, root, console);
  if (brand === 'faulty') return exitCodes.refused;
  const talk = talkOn(console, json);
  const interrupts = listenForInterrupts(console);
  try {
    const end = await runBatch({
      root,
      out,
      pdf,
      anew,
      workers,
      timeLimitMs: limit * 1000,
      shard,
      given,
      ...(options.language !== undefined && { language: options.language }),
      brand,
      against,
      onStart: talk.start,
      onEntry: talk.entry,
      onRun: interrupts.use,
      onWait: (host, ms) =>
        console.err(
          `A batch on ${visible(host)} holds ${visible(out)}; watching for ${ms / 1000} s whether it lives.\n`,
        ),
    });
    talk.clear();
    if (json) console.out(`${JSON.stringify(jsonOf(end, out), null, 2)}\n`);
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
  // A part of an archive may have no jobs.
  const isEmpty = entries.length === 0 && register.shard === null;
  if (counts.refused > 0 || isEmpty) return exitCodes.refused;
  return counts.failed > 0 ? exitCodes.failed : exitCodes.done;
}

/** Only what needs to be looked at; the rest is in the register. */
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
