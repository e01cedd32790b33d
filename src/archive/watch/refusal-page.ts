/** The problems of a drop's refused jobs as one page next to the drop. */
import { basename } from 'node:path';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { problemPage } from '../../base/diagnostics/problem-page.js';
import type { SourceLines } from '../../base/diagnostics/source-lines.js';
import { inspectJob } from '../../solution/intake/load-job.js';
import { DEFAULT_LIMIT_S } from '../../solution/intake/size.js';
import { readSourceLines } from '../../survey/readings/source-lines.js';
import { ENDS_WORKER, type Entry, type RefusedEntry } from '../batch/entry.js';

/** A job of a drop: its folder, its place in the drop ('' for the drop itself), and its outcome. */
export interface Handled {
  readonly folder: string;
  readonly inside: string;
  readonly entry: Entry;
}

/** @param drop The drop's name. */
export async function pageOfJobs(drop: string, handled: readonly Handled[]): Promise<string> {
  const diagnostics: Diagnostic[] = [];
  const sources = new Map<string, SourceLines>();
  for (const { folder, inside, entry } of handled) {
    if (entry.status !== 'refused') continue;
    const found = await problemsOf(folder, entry);
    const inDrop = (file: string) => (inside === '' ? file : `${inside}/${file}`);
    for (const d of found.diagnostics)
      diagnostics.push({ ...d, at: { ...d.at, file: d.at === undefined ? inside : inDrop(d.at.file) } });
    for (const [file, lines] of found.sources) sources.set(inDrop(file), lines);
  }
  const [only] = handled;
  const title = handled.length === 1 ? (only!.entry.status === 'refused' ? only!.entry.job : null) : null;
  return problemPage(title ?? drop, diagnostics, sources, noteOf(drop, handled));
}

/** For a drop that was not opened. */
export const pageOfDrop = (drop: string, diagnostics: readonly Diagnostic[]): string =>
  problemPage(drop, diagnostics, new Map(), noteOf(drop, []));

function noteOf(drop: string, handled: readonly Handled[]): string {
  const reported = handled.flatMap(({ entry }) => (entry.status === 'reported' ? [entry.row.job] : []));
  const others = reported.length === 0 ? '' : ` Reported all the same: ${reported.join(', ')}.`;
  return `Dropped as ${drop}. Nothing in it was changed: correct it and drop it again.${others}`;
}

interface Problems {
  readonly diagnostics: readonly Diagnostic[];
  readonly sources: ReadonlyMap<string, SourceLines>;
}

/** What `check` finds, and what only the batch knows, such as an id that two jobs have. */
async function problemsOf(folder: string, { job, problems }: RefusedEntry): Promise<Problems> {
  const none: Problems = { diagnostics: [], sources: new Map() };
  // A job that ended two workers would end this process too.
  const isSafe = problems.every(({ code }) => code !== ENDS_WORKER && code !== 'FOLDER_UNREADABLE');
  const found = isSafe ? await inspect(folder) : none;
  const known = new Set<string>(found.diagnostics.map(({ code }) => code));
  const others = problems
    .filter(({ code }) => !known.has(code))
    .map(({ message }): Diagnostic => ({
      code: 'JOB_NOT_REPORTED',
      severity: 'error',
      data: { reason: message },
      at: { file: job ?? basename(folder) },
    }));
  return { ...found, diagnostics: [...others, ...found.diagnostics] };
}

async function inspect(folder: string): Promise<Problems> {
  const { diagnostics, frame } = await inspectJob(folder, null, { limit: DEFAULT_LIMIT_S });
  const files = diagnostics.flatMap(({ at }) => (at === undefined ? [] : [at.file]));
  return { diagnostics, sources: await readSourceLines(folder, files, frame?.files ?? []) };
}
