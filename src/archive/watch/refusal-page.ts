/** The problems of a drop's refused jobs as one page next to the drop. */
import { basename } from 'node:path';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { problemPage } from '../../pages/report/problem-page.js';
import { wordsOf } from '../../pages/words/languages.js';
import type { Words } from '../../pages/words/words.js';
import { languagesOf, runLanguage, type Asked, type Languages } from '../../survey/job/languages.js';
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

/**
 * @param drop The drop's name.
 * @param asked Of the run; the page is in the language of the first refused job that names one.
 */
export async function pageOfJobs(drop: string, handled: readonly Handled[], asked: Asked): Promise<string> {
  let language: Languages | null = null;
  const diagnostics: Diagnostic[] = [];
  const sources = new Map<string, SourceLines>();
  for (const { folder, inside, entry } of handled) {
    if (entry.status !== 'refused') continue;
    const found = await problemsOf(folder, entry);
    language ??= found.language;
    const inDrop = (file: string) => (inside === '' ? file : `${inside}/${file}`);
    for (const d of found.diagnostics)
      diagnostics.push({ ...d, at: { ...d.at, file: d.at === undefined ? inside : inDrop(d.at.file) } });
    for (const [file, lines] of found.sources) sources.set(inDrop(file), lines);
  }
  const [only] = handled;
  const title = handled.length === 1 ? (only!.entry.status === 'refused' ? only!.entry.job : null) : null;
  const words = wordsOf(languagesOf({ ...asked, job: { language } }));
  const notes = notesOf(drop, handled, words);
  return problemPage({ title: title ?? drop, diagnostics, sources, notes, words });
}

/** For a drop that was not opened. */
export function pageOfDrop(drop: string, diagnostics: readonly Diagnostic[], asked: Asked): string {
  const words = wordsOf(runLanguage(asked));
  return problemPage({
    title: drop,
    diagnostics,
    sources: new Map(),
    notes: notesOf(drop, [], words),
    words,
  });
}

function notesOf(drop: string, handled: readonly Handled[], { say }: Words): string[] {
  const reported = handled.flatMap(({ entry }) => (entry.status === 'reported' ? [entry.row.job] : []));
  return [
    say('problems.dropped', { drop }),
    ...(reported.length === 0 ? [] : [say('problems.reported', { jobs: reported.join(', ') })]),
  ];
}

interface Problems {
  readonly language: Languages | null;
  readonly diagnostics: readonly Diagnostic[];
  readonly sources: ReadonlyMap<string, SourceLines>;
}

/** What `check` finds, and what only the batch knows, such as an id that two jobs have. */
async function problemsOf(folder: string, { job, problems }: RefusedEntry): Promise<Problems> {
  const none: Problems = { language: null, diagnostics: [], sources: new Map() };
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
  const { diagnostics, frame, language } = await inspectJob(folder, null, { limit: DEFAULT_LIMIT_S });
  const files = diagnostics.flatMap(({ at }) => (at === undefined ? [] : [at.file]));
  return { language, diagnostics, sources: await readSourceLines(folder, files, frame?.files ?? []) };
}
