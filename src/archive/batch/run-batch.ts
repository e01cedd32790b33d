/** All jobs of an archive: planned, reported by worker processes, registered. */
import { basename, resolve } from 'node:path';
import { areStagesMeasured } from '../../base/cost/stages.js';
import type { GivenTolerances } from '../../survey/job/given-tolerances.js';
import { packed } from '../../survey/job/packed-tolerances.js';
import { SOFTWARE } from '../../base/version.js';
import { buildRegister, type Register, type RegisterRow } from '../register/register.js';
import { latestDay, registerNames, writeRegister } from '../register/write-register.js';
import type { Changes } from '../changes/changes-schema.js';
import { changesNames } from '../changes/changes-names.js';
import { claimFolder } from '../what-if-folder.js';
import { recoverAll } from '../write-whole.js';
import { givenUp, type Entry } from './entry.js';
import { findJobs } from './find-jobs.js';
import { lazyPrinter } from './lazy-printer.js';
import { runLanguage } from '../../survey/job/languages.js';
import { lockFolder, type Lock } from './lock.js';
import { findValid } from './find-valid.js';
import type { MakeSettings } from './make-one.js';
import { planBatch, type Task } from './plan.js';
import { startPool, type Pool } from './pool.js';
import type { WorkerSettings } from './worker.js';
import { shardText, type Shard } from '../shard.js';
import { startVerifiers } from './verifiers.js';

export interface BatchOptions extends Omit<MakeSettings, 'limit'> {
  readonly workers: number;
  readonly timeLimitMs: number;
  readonly shard: Shard | null;
  /** An output folder whose reports are compared with this run's; null: none. */
  readonly against: string | null;
  readonly onStart: (jobs: number) => void;
  readonly onEntry: (entry: Entry) => void;
  readonly onWait: (host: string, ms: number) => void;
  /** Called when the run has started, with what can stop it. */
  readonly onRun: (run: Stoppable) => void;
}

export type Stoppable = Pick<Pool, 'stop' | 'abort'>;

export interface BatchEnd {
  readonly entries: readonly Entry[];
  readonly register: Register;
  /** What changed since the reports that the run was compared with; null: nothing was compared. */
  readonly changes: Changes | null;
  /** Why not all jobs were reached; null: they were. */
  readonly stopped: string | null;
}

/** The folder of jobs does not exist, or may not be read. */
export class NoJobs extends Error {}

const WORKER = new URL('./worker.js', import.meta.url);

/** @throws {NoJobs} {FolderLocked} {FolderNotFit} {CannotCompare} {Error} the output folder cannot be written to. */
export async function runBatch(options: BatchOptions): Promise<BatchEnd> {
  const root = resolve(options.root);
  const out = resolve(options.out);
  const against = options.against === null ? null : resolve(options.against);
  const old = against === null ? null : await oldReports(out, against);
  const found = await findJobs(root, against === null ? [out] : [out, against]).catch((cause: Error) => {
    throw new NoJobs(`${options.root} cannot be searched: ${cause.message}`, { cause });
  });
  const lock = await lockFolder(out, { shard: options.shard, onWait: options.onWait });
  try {
    await claimFolder(out, options.given);
    const { tasks, refused } = await planBatch(root, found, options.shard, true);
    const ours = new Set([
      ...tasks.flatMap(({ job }) => job ?? []),
      ...registerNames(options.shard),
      ...changesNames,
    ]);
    const isOurs = (name: string) => ours.has(name);
    await recoverAll(out, isOurs);
    options.onStart(tasks.length + refused.length);
    refused.forEach(options.onEntry);
    const compared = old === null ? tasks : tasks.map((task) => ({ ...task, old: oldOf(task, old) }));
    const { entries, stopped } = await makeAll(compared, { ...options, root, out }, lock);
    const all = [...refused, ...entries.values()];
    const rows = [...refused.map(rowOf), ...tasks.map((task) => rowOfTask(task, entries.get(task.folder)))];
    const register = buildRegister(rows, SOFTWARE, options.shard && shardText(options.shard), {
      whatIf: whatIfOf(options.given),
      language: runLanguage(options),
    });
    const changes = old === null ? null : await changesOf(old, basename(against!), all, register, stopped);
    // Another batch took over the folder, and writes its own register.
    if (!lock.isHeld()) return { entries: all, register, changes, stopped };
    // A worker of a killed run may have written for a moment longer; a worker that was killed now leaves unfinished files.
    await recoverAll(out, isOurs);
    const printer = options.pdf && stopped === null && rows.length > 0 ? lazyPrinter() : null;
    try {
      await writeRegister(out, register, options.shard, printer?.open ?? null);
      if (changes !== null) {
        const { writeChanges } = await import('../changes/write-changes.js');
        await writeChanges(out, changes, latestDay(register), printer?.open ?? null);
      }
      return { entries: all, register, changes, stopped };
    } finally {
      await printer?.close();
    }
  } finally {
    await lock.release();
  }
}

async function oldReports(out: string, against: string): Promise<Map<string, string>> {
  const { assertApart, findOldReports } = await import('../changes/old-reports.js');
  await assertApart(out, against);
  return findOldReports(against);
}

const oldOf = ({ job }: Task, old: ReadonlyMap<string, string>): string | null =>
  job === null ? null : (old.get(job) ?? null);

async function changesOf(
  old: ReadonlyMap<string, string>,
  against: string,
  entries: readonly Entry[],
  { jobs, software, whatIf, language }: Register,
  stopped: string | null,
): Promise<Changes> {
  const { buildChanges, unreportedChanges } = await import('../changes/build-changes.js');
  const compared = entries.flatMap((entry) => (entry.status === 'reported' ? (entry.change ?? []) : []));
  const others = await unreportedChanges(old, jobs);
  const about = { software, against, language, isComplete: stopped === null };
  return buildChanges({ ...about, ...(whatIf && { whatIf: whatIf.name }) }, [...compared, ...others]);
}

async function makeAll(
  tasks: readonly Task[],
  options: BatchOptions,
  lock: Lock,
): Promise<{ entries: Map<string, Entry>; stopped: string | null }> {
  const { root, out, pdf, anew, given, brand, against, workers, timeLimitMs, language } = options;
  const settings: MakeSettings = {
    ...{ root, out, pdf, anew, given, brand, limit: timeLimitMs / 1000 },
    ...(language !== undefined && { language }),
  };
  const entries = new Map<string, Entry>();
  let stopped: string | null = null;
  let isStopped = false;
  let pool: Pool | null = null;
  const verifiers = startVerifiers(Math.max(workers, MIN_THREADS));
  const stop = (): void => {
    isStopped = true;
    verifiers.end();
    pool?.stop();
  };
  const take = (entry: Entry): void => {
    entries.set(entry.folder, entry);
    options.onEntry(entry);
    if (entry.status === 'failed' && entry.hopeless) stopped ??= entry.message;
    if (!lock.isHeld()) stopped ??= `another batch took over ${out}`;
    if (stopped !== null) stop();
  };
  options.onRun({
    stop,
    abort() {
      stop();
      pool?.abort();
    },
  });
  // A comparison needs the results of all jobs, and the workers read them.
  const verifiesFirst = !anew && against === null;
  const rest = verifiesFirst ? await findValid(tasks, settings, verifiers, take) : tasks;
  verifiers.end();
  if (!isStopped && rest.length > 0) {
    pool = startPool<Task, Entry>({
      module: WORKER,
      settings: { ...settings, given: given && packed(given) } satisfies WorkerSettings,
      workers,
      timeLimitMs,
      atOnce: areStagesMeasured ? 1 : JOBS_AT_ONCE,
      tasks: rest,
      onDone: (_, entry) => take(entry),
      onGivenUp: (task, why) => take(givenUp(task, why)),
    });
    await pool.finished;
  }
  if (entries.size < tasks.length) stopped ??= 'it was interrupted';
  return { entries, stopped };
}

/** While one is printed or flushed to the disk, its worker continues with the next. */
const JOBS_AT_ONCE = 2;

/** Threads that read wait for the disk or the network most of the time. */
const MIN_THREADS = 4;

function whatIfOf(given: GivenTolerances | null): Register['whatIf'] {
  return given === null ? undefined : { name: given.name, source: given.origin, sha256: given.input.sha256 };
}

const rowOfTask = ({ folder, job }: Task, entry: Entry | undefined): RegisterRow =>
  entry === undefined ? { status: 'not-done', job, folder } : rowOf(entry);

function rowOf(entry: Entry): RegisterRow {
  if (entry.status === 'reported') return entry.row;
  if (entry.status === 'refused') return entry;
  const { folder, job, message } = entry;
  return { status: 'failed', job, folder, message };
}
