/** Handles one stable drop: reports its jobs, registers them, moves the drop. */
import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { explain } from '../../base/diagnostics/messages.js';
import type { Asked } from '../../survey/job/languages.js';
import type { Verdict } from '../../results/results-schema.js';
import { refusedBecause, type Entry, type FailedEntry, type RefusedEntry } from '../batch/entry.js';
import type { RegisterRow } from '../register/register.js';
import { recoverAll, writeFileWhole } from '../write-whole.js';
import type { Book } from './book.js';
import type { Reporters } from './reporters.js';
import { DONE, REFUSED, type Drop } from './drops.js';
import type { Listing } from './listing.js';
import { openDrop, type Opened, type Places } from './open-drop.js';
import { digestAt, placeFor, putAway } from './put-away.js';
import { pageOfDrop, pageOfJobs, type Handled } from './refusal-page.js';
import type { Turns } from './turns.js';

/** What the handling of all drops shares. */
export interface Shared extends Places {
  readonly asked: Asked;
  readonly out: string;
  readonly reporters: Reporters;
  readonly turns: Turns;
  readonly book: Book;
  /** Names in `done` and `refused` to which drops are being moved. */
  readonly reserved: Set<string>;
}

/** A drop that has stopped changing. */
export interface Settled {
  readonly drop: Drop;
  readonly isTooLarge: Listing['isTooLarge'];
  /** Digest of its bytes. */
  readonly digest: string;
  /** true: it was waited for long enough; if it looks half-copied, it will stay so. */
  readonly isFinal: boolean;
  /** Reports that an earlier attempt with the same bytes made, with the verdict of the report before that. */
  readonly made: Map<string, Verdict | null>;
}

export type Taken =
  | {
      readonly end: 'done' | 'refused';
      /** Relative to the inbox, `/` between parts; the page is null for what is done. */
      readonly to: string;
      readonly page: string | null;
      readonly entries: readonly Entry[];
    }
  /** It looks half-copied. */
  | { readonly end: 'incomplete'; readonly reason: string }
  /** It is not any more what was reported, or it is gone. */
  | { readonly end: 'changed' }
  | { readonly end: 'gone' }
  | { readonly end: 'interrupted' }
  /** It is where it was, and may be tried again. */
  | { readonly end: 'trouble'; readonly message: string };

/** Never rejects. */
export async function takeDrop(settled: Settled, shared: Shared): Promise<Taken> {
  try {
    return await take(settled, shared);
  } catch (error) {
    return { end: 'trouble', message: (error as Error).message };
  }
}

async function take(settled: Settled, shared: Shared): Promise<Taken> {
  const { drop } = settled;
  // One drop is opened at a time, so that drops get the turns of their jobs in the order in which they were taken.
  const opening = await shared.turns.take(['opening']);
  let opened: Opened;
  let turn: Promise<() => void>;
  try {
    const found = await openDrop(drop, settled, shared);
    if ('refused' in found) return await refuseDrop(settled, found.refused, shared);
    opened = found.opened;
    turn = shared.turns.take(idsOf(opened, shared));
  } finally {
    opening();
  }
  const endTurn = await turn;
  try {
    return await takeOpened(settled, opened, shared);
  } finally {
    endTurn();
    await opened.close();
  }
}

/** The folders that the drop's jobs write to. */
const idsOf = ({ plan }: Opened, { foldCase }: Shared): string[] => [
  ...new Set(
    plan.tasks.flatMap(({ job }) => (job === null ? [] : `job ${foldCase ? job.toLowerCase() : job}`)),
  ),
];

async function refuseDrop(
  settled: Settled,
  { problems, mayBecomeWhole }: { problems: RefusalProblems; mayBecomeWhole: boolean },
  shared: Shared,
): Promise<Taken> {
  if (mayBecomeWhole && !settled.isFinal)
    return { end: 'incomplete', reason: `${explain(problems[0]!).what}.` };
  const { drop } = settled;
  const changed = await leftInbox(settled, [], shared);
  if (changed !== null) return changed;
  const entry = refusedBecause(drop.path, null, problems);
  const handled = [{ folder: drop.path, inside: '', entry }];
  return finish(
    settled,
    handled,
    () => Promise.resolve(pageOfDrop(drop.name, problems, shared.asked)),
    shared,
  );
}

type RefusalProblems = Parameters<typeof pageOfDrop>[1];

async function takeOpened(settled: Settled, opened: Opened, shared: Shared): Promise<Taken> {
  const { root, plan } = opened;
  const ids = new Set(plan.tasks.flatMap(({ job }) => job ?? []));
  await recoverAll(shared.out, (name) => ids.has(name));
  const handled: Handled[] = plan.refused.map((entry) => handle(root, entry.folder, entry));
  const entries = await Promise.all(
    plan.tasks.map(async ({ folder, job }) => ({
      folder,
      entry: await shared.reporters.report({ folder: join(root, folder), job }),
    })),
  );
  for (const { folder, entry } of entries) {
    if (entry === null) return { end: 'interrupted' };
    handled.push(handle(root, folder, remember(entry, settled.made)));
  }
  const failed = handled.find((h) => h.entry.status === 'failed')?.entry as FailedEntry | undefined;
  // A job that failed, or in which a file is missing, may have changed while the workers read it.
  const changed = await leftInbox(settled, handled, shared);
  if (changed !== null) return changed;
  if (failed !== undefined) return { end: 'trouble', message: failed.message };
  const half = settled.isFinal ? undefined : handled.map(({ entry }) => halfCopied(entry)).find(Boolean);
  if (half !== undefined) return { end: 'incomplete', reason: half };
  return finish(settled, handled, () => pageOfJobs(settled.drop.name, handled, shared.asked), shared);
}

const handle = (root: string, folder: string, entry: Entry): Handled => ({
  folder: join(root, folder),
  inside: folder === '.' ? '' : folder,
  entry,
});

/** A report that an earlier attempt made, when the drop could not be moved, does not count as an earlier report. */
function remember(entry: Entry, made: Map<string, Verdict | null>): Entry {
  if (entry.status !== 'reported') return entry;
  const { job } = entry.row;
  if (entry.made && !made.has(job)) made.set(job, entry.before);
  return made.has(job) ? { ...entry, made: true, before: made.get(job)! } : entry;
}

/** Problems that a file has while it is being copied, or before it is. */
const OF_HALF_COPIES = new Set([
  'FILE_MISSING',
  'FILE_UNREADABLE',
  'JSON_INVALID',
  'CSV_EMPTY',
  'CSV_NO_ROWS',
  'CSV_NUL',
  'CSV_QUOTE_OPEN',
]);

const halfCopied = (entry: Entry): string | undefined =>
  entry.status === 'refused'
    ? entry.problems.find(({ code }) => OF_HALF_COPIES.has(code))?.message
    : undefined;

/** @returns null: the drop is still what was reported. */
async function leftInbox(
  { drop, digest }: Settled,
  handled: readonly Handled[],
  { book }: Shared,
): Promise<Taken | null> {
  const now = await digestAt(drop.path);
  if (now === digest) return null;
  // Reports that were made from it are in the output folder now, so they are entered in the register.
  const reported = handled.filter(({ entry }) => entry.status === 'reported');
  if (reported.length > 0) await book.enter(rowsOf(reported, drop.name));
  return { end: now === null ? 'gone' : 'changed' };
}

/** Without `recursive`, which on a read-only disk says that the folder does not exist. */
const makeFolder = (folder: string): Promise<void> =>
  mkdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'EEXIST') throw error;
  });

/** @param writePage Writes the page of the refused jobs; called if there are any. */
async function finish(
  { drop, digest }: Settled,
  handled: readonly Handled[],
  writePage: () => Promise<string>,
  { inbox, book, reserved }: Shared,
): Promise<Taken> {
  const isRefused = handled.some(({ entry }) => entry.status === 'refused');
  const html = isRefused ? await writePage() : null;
  const end = isRefused ? REFUSED : DONE;
  const { folder, name, page, free } = await placeFor(join(inbox, end), drop, reserved);
  try {
    const to = `${end}/${name}`;
    await book.enter(rowsOf(handled, to));
    await makeFolder(folder);
    if (html !== null) await writeFileWhole(folder, page, Buffer.from(html));
    const moved = await putAway(drop, join(folder, name), digest).catch((error: Error) => error);
    if (moved === true)
      return { end, to, page: html === null ? null : `${end}/${page}`, entries: entriesAt(handled, to) };
    if (html !== null) await rm(join(folder, page), { force: true });
    if (moved === false) return { end: 'changed' };
    throw moved;
  } finally {
    free();
  }
}

const rowsOf = (handled: readonly Handled[], at: string): RegisterRow[] =>
  entriesAt(handled, at).map((entry) => (entry.status === 'reported' ? entry.row : (entry as RefusedEntry)));

/** Entries with the folders in which the jobs are from now on. */
const entriesAt = (handled: readonly Handled[], at: string): Entry[] =>
  handled.map(({ inside, entry }) => {
    const folder = inside === '' ? at : `${at}/${inside}`;
    return entry.status === 'reported'
      ? { ...entry, folder, row: { ...entry.row, folder } }
      : { ...entry, folder };
  });
