/**
 * The state of each report according to the log of issued reports: draft, in force, amended or withdrawn on a day. Also which lines
 * cannot have happened in this order, and whether a line agrees with the report itself. Pure.
 */
import { problemWords, type IssueLog, type LineProblem, type LogEntry } from './issue-log.js';
import { sha256 } from '../pages/deliverables/manifest.js';
import type { Issue } from '../results/results-schema.js';

export type ReportState = 'draft' | 'in-force' | 'amended' | 'withdrawn';

export interface StateOfReport {
  readonly number: string;
  readonly job: string;
  /** 'draft': it was not issued yet on that day. */
  readonly state: ReportState;
  /** First day of this state; '' for a draft. */
  readonly since: string;
  /** Number of the report that replaced it; null: none. */
  readonly amendedBy: string | null;
  /** Why it was amended or withdrawn; '': it was not. */
  readonly because: string;
  /** Line of the log that says so, from 1. */
  readonly line: number;
}

/**
 * The state of every report that the log names, in the order of their issue.
 *
 * @param day ISO 8601, that day included. null: the state at the end of the log.
 */
export function statesOn(
  entries: readonly LogEntry[],
  day: string | null = null,
): Map<string, StateOfReport> {
  const states = new Map<string, StateOfReport>();
  for (const entry of entries) step(states, entry, day === null || entry.on <= day);
  return states;
}

/** Adds a line. @param isDone true: it was done on or before the day. */
function step(states: Map<string, StateOfReport>, entry: LogEntry, isDone: boolean): void {
  const { act, number, job, on, amends, because = '', line } = entry;
  const known = states.get(number);
  if (act === 'withdrawn') {
    if (isDone && known !== undefined)
      states.set(number, { ...known, state: 'withdrawn', since: on, because, line });
    return;
  }
  if (known === undefined)
    states.set(number, {
      ...{ number, job, amendedBy: null, because: '', line },
      ...(isDone ? { state: 'in-force', since: on } : { state: 'draft', since: '' }),
    });
  const old = amends === undefined ? undefined : states.get(amends);
  if (isDone && old?.state === 'in-force')
    states.set(old.number, { ...old, state: 'amended', since: on, amendedBy: number, because, line });
}

/** "in force since 2026-03-16" */
export function stateWords({ state, since, amendedBy, because }: StateOfReport): string {
  const why = because === '' ? '' : `, because: ${because}`;
  if (state === 'draft') return 'not issued yet on that day';
  if (state === 'in-force') return `in force since ${since}`;
  return state === 'amended'
    ? `amended on ${since} by report ${amendedBy}${why}: it is no longer in force`
    : `withdrawn on ${since}${why}: it is no longer in force`;
}

/** Lines that cannot have happened in their order, whoever wrote them. */
export function orderProblems(entries: readonly LogEntry[]): LineProblem[] {
  const states = new Map<string, StateOfReport>();
  const issued = new Map<string, LogEntry>();
  const byManifest = new Map<string, LogEntry>();
  /** Number of the report in force, by job. */
  const live = new Map<string, string>();
  return entries.flatMap((entry) => {
    const { act, number, job, manifest, line } = entry;
    const own = issued.get(number);
    const words = [
      ...plainProblems(entry),
      ...(act === 'withdrawn'
        ? withdrawalProblems(entry, own, states.get(number)?.state)
        : [
            ...(own === undefined ? [] : [`report ${number} is issued a second time`]),
            ...sameProblems(entry, byManifest.get(manifest)),
            ...amendingProblems(entry, states, issued, live.get(job)),
          ]),
    ];
    step(states, entry, true);
    if (act !== 'withdrawn') {
      if (own === undefined) issued.set(number, entry);
      byManifest.set(manifest, entry);
      live.set(job, number);
    } else if (live.get(job) === number) live.delete(job);
    return words.map((text) => ({ line, words: text }));
  });
}

function plainProblems({ by, on }: LogEntry): string[] {
  return [
    ...(isBlank(by) ? ['it names nobody who did it'] : []),
    ...(isDay(on) ? [] : [`its day is '${on}'; wanted is a day such as 2026-03-16`]),
  ];
}

function withdrawalProblems(
  { number, job, on, amends, because, manifest }: LogEntry,
  own: LogEntry | undefined,
  state: ReportState | undefined,
): string[] {
  const unsaid = isBlank(because) ? ['it does not say why'] : [];
  if (own === undefined) return [`report ${number} is withdrawn, but was never issued`, ...unsaid];
  const was = (is: boolean, words: string) => (is ? [words] : []);
  return [
    ...was(state !== 'in-force', `report ${number} is withdrawn, but was ${String(state)} before`),
    ...was(
      own.manifest !== manifest,
      `report ${number} is withdrawn under another hash than it was issued under`,
    ),
    ...was(own.job !== job, `report ${number} is of job ${own.job}, not ${job}`),
    ...was(on < own.on, `its day, ${on}, is before ${own.on}, the day on which report ${number} was issued`),
    ...was(amends !== undefined, 'a withdrawal amends no report'),
    ...unsaid,
  ];
}

function sameProblems({ number }: LogEntry, same: LogEntry | undefined): string[] {
  return same === undefined || same.number === number
    ? []
    : [`its report is, byte for byte, report ${same.number} of line ${same.line}`];
}

function amendingProblems(
  { act, job, on, amends, because }: LogEntry,
  states: ReadonlyMap<string, StateOfReport>,
  issued: ReadonlyMap<string, LogEntry>,
  live: string | undefined,
): string[] {
  if (amends === undefined)
    return [
      ...(act === 'amended' ? ['it does not say which report it amends'] : []),
      ...(live === undefined
        ? []
        : [`report ${live} of ${job} is in force, and this line does not say that it amends it`]),
    ];
  const found = [
    ...(act === 'issued' ? ['it names a report that it amends, but says that it amends none'] : []),
    ...(isBlank(because) ? ['it does not say why'] : []),
  ];
  const old = states.get(amends);
  if (old === undefined) return [...found, `it amends report ${amends}, which was never issued`];
  const since = issued.get(amends)!.on;
  if (old.job !== job) found.push(`it amends report ${amends}, which is of job ${old.job}, not ${job}`);
  else if (old.state !== 'in-force') found.push(`it amends report ${amends}, which was ${old.state} before`);
  if (on < since)
    found.push(`its day, ${on}, is before ${since}, the day on which report ${amends} was issued`);
  return found;
}

const isBlank = (text: string | undefined): boolean => text === undefined || text.trim() === '';

const isDay = (text: string): boolean =>
  /^\d{4}-\d\d-\d\d$/.test(text) &&
  !Number.isNaN(Date.parse(`${text}T00:00Z`)) &&
  new Date(`${text}T00:00Z`).toISOString().startsWith(text);

/** What a report says about its own issue. */
export interface ReportHead {
  readonly job: string;
  /** Left out for a draft. */
  readonly issue?: Issue | undefined;
}

/**
 * Compares a report with the lines of the log that name it.
 *
 * @param manifest Bytes of its manifest.json; null: a PDF alone, whose manifest is not known.
 * @returns In words, where they say otherwise of each other.
 */
export function againstReport(
  { entries }: Pick<IssueLog, 'entries'>,
  { job, issue }: ReportHead,
  manifest: Uint8Array | null,
): string[] {
  if (issue === undefined) return [];
  const own = entries.filter(({ number }) => number === issue.number);
  const [entry] = own;
  if (entry === undefined || entry.act === 'withdrawn')
    return [`it says that it is report ${issue.number}, which the log does not know`];
  const hash = manifest === null ? null : sha256(manifest);
  const found: string[] = [];
  for (const one of own) {
    const { line } = one;
    const say = (words: string) => found.push(problemWords({ line, words }));
    if (one.job !== job)
      say(`it says that report ${issue.number} is of job ${one.job}; the report itself says ${job}`);
    if (hash !== null && one.manifest !== hash)
      say(`report ${issue.number} is not the one that was issued: the SHA-256 of its manifest.json differs`);
    // Who withdraws, when and why is not in the report.
    if (one.act === 'withdrawn') continue;
    const facts: [string, string | undefined, string | undefined][] = [
      ['was issued on', one.on, issue.on],
      ['was issued by', one.by, issue.by],
      ['amends', one.amends ?? 'no report', issue.amends?.number ?? 'no report'],
      ['amends for the reason', one.because ?? 'none', issue.amends?.because ?? 'none'],
      ['was issued without', namesOf(one.without), namesOf(issue.without)],
    ];
    for (const [what, said, itself] of facts)
      if (said !== itself)
        say(`it says that report ${issue.number} ${what} ${said}; the report itself says ${itself}`);
  }
  return found;
}

const namesOf = (without: readonly string[] | undefined): string => without?.join(', ') ?? 'nothing left out';

export type EndOfLog =
  /** The noted hash is that of the last line. */
  | 'proven'
  /** Nothing was noted. */
  | 'not-noted'
  /** The noted hash is that of an earlier line, or of none. */
  | 'differs';

/** @param head SHA-256 of the last line as it was noted elsewhere; null: not noted. */
export function endOf({ head: last, hashes }: Pick<IssueLog, 'head' | 'hashes'>, head: string | null) {
  if (head === null) return { end: 'not-noted' as const, words: '' };
  if (head === last) return { end: 'proven' as const, words: '' };
  const at = hashes.indexOf(head);
  return {
    end: 'differs' as const,
    words:
      at >= 0
        ? `is longer than it was: the noted SHA-256 is that of line ${at + 1} of ${hashes.length}: lines were added after it was noted`
        : `ends otherwise: its last line has the SHA-256 ${last || '(none: the log is empty)'}, noted was ${head}: lines are missing, or it was written anew`,
  };
}

/**
 * What was proven of a log whose lines fit together, and what was not, in one sentence.
 *
 * @param signed Whether every line was signed by a trusted key; null: nobody asked.
 */
export function provenWords(end: EndOfLog, signed: boolean | null): string {
  if (end === 'proven')
    return signed === true
      ? 'Proven: every line was written with a trusted key, and the last one is the one that was noted.'
      : 'Proven: every line is as it was when the hash of the last one was noted. Not proven: who wrote them (--trust DIR, where lines are signed).';
  return signed === true
    ? 'Proven: every line was written with a trusted key. Not proven: that no line was taken off the end (--head HASH, the hash of the last line as it was noted elsewhere).'
    : 'Proven: no line was changed without all lines after it. Not proven: that the log is the one that was written, or that its end is there: whoever can write the file can write all of it anew (--head HASH, or --trust DIR where lines are signed).';
}
