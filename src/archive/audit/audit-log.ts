/** Compares the log of issued reports with the content of its output folder. Only reads. */
import { lstatSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { jsonOf } from '../../base/input/json-of.js';
import { issuedHead } from '../issued-report.js';
import { LOG, problemWords, readLog, unsignedLines, type IssueLog, type LogEntry } from '../issue-log.js';
import { listOutput, otherWords } from '../output-listing.js';
import { EARLIER } from '../keep-earlier.js';
import { manifestSchema, sha256 } from '../../pages/deliverables/manifest.js';
import { kindAt, readQuietly } from '../regular-file.js';
import { DRAFTS } from '../report-places.js';
import {
  againstReport,
  endOf,
  orderProblems,
  provenWords,
  statesOn,
  stateWords,
  type StateOfReport,
} from '../report-states.js';
import { SIGNATURE_FILE, type Trust } from '../signing.js';
import { groupBy } from '../../base/lists.js';
import type { Issue, Results } from '../../results/results-schema.js';
import { WHO, type AuditFinding, type NotCompared } from './statements.js';

/** A problem of a log or an output folder. */
export interface Trouble {
  readonly what: string;
  /** Folder of its report, relative to the output folder; null: no report of the folder. */
  readonly report: string | null;
  /** null: no report. */
  readonly job: string | null;
  /** Number of an issued report; null: no issued report. */
  readonly number: string | null;
}

export interface LogFinding {
  /** The output folder. */
  readonly path: string;
  readonly log: Pick<IssueLog, 'entries' | 'head' | 'troubles'>;
  /** States on the requested day. */
  readonly states: readonly StateOfReport[];
  /** Number of lines that a trusted key signed; null: not requested. */
  readonly signed: readonly number[] | null;
  /** Problems of the log and of the content of the folder. */
  readonly troubles: readonly Trouble[];
  /** Content of the folder that was not compared. */
  readonly notCompared: readonly NotCompared[];
  /** What the chain of hashes proves, with or without signatures, and what it does not prove. */
  readonly proven: string;
}

/** The output folder of a report's folder or PDF, if it has a log; null: there is none. */
export function outWithLog(path: string): string | null {
  const folder = kindAt(path) === 'folder' ? path : dirname(path);
  const parent = dirname(folder);
  const out = [DRAFTS, EARLIER].includes(basename(parent)) ? dirname(parent) : parent;
  // A PDF may have been copied together with the log.
  return [out, folder].find(hasLog) ?? null;
}

// A broken link also exists.
const hasLog = (out: string): boolean => lstatSync(join(out, LOG), { throwIfNoEntry: false }) !== undefined;

export interface LogQuestions {
  /** SHA-256 of the last line as it was noted elsewhere; null: not noted. */
  readonly head: string | null;
  /** null: signatures are not verified. */
  readonly trust: Trust | null;
  /** Day of the states; null: the end of the log. */
  readonly day: string | null;
}

/** Result for an output folder that could not be read within the limits. */
export const unreadFolder = (out: string, why: string): LogFinding => ({
  path: out,
  log: { entries: [], head: '', troubles: [{ line: null, words: why }] },
  ...{ states: [], signed: null, troubles: [] },
  notCompared: [{ what: 'the output folder and its log', why }],
  proven: '',
});

/** Reads the log. A log that cannot be read is a problem in the result, never an exception. */
export function auditLog(out: string, { head, trust, day }: LogQuestions): LogFinding {
  const { entries, hashes, ...rest } = readLog(out);
  const log = { entries, head: rest.head, troubles: rest.troubles };
  const end = endOf({ ...log, hashes }, head?.toLowerCase() ?? null);
  const unsigned = trust === null || trust.keys.length === 0 ? null : unsignedLines(log, trust.keys);
  const bad = new Set(unsigned?.map(({ line }) => line));
  const signed = unsigned && entries.map(({ line }) => line).filter((line) => !bad.has(line));
  const byLine = new Map<number | null, LogEntry>(entries.map((entry) => [entry.line, entry]));
  const problems = [
    ...log.troubles,
    ...(end.words === '' ? [] : [{ line: null, words: end.words }]),
    ...(unsigned ?? []),
    ...orderProblems(entries),
  ];
  const troubles = problems.map((one): Trouble => {
    const { job = null, number = null } = byLine.get(one.line) ?? {};
    return { what: problemWords(one), report: null, job, number };
  });
  return {
    path: out,
    log,
    states: [...statesOn(entries, day).values()],
    signed,
    troubles,
    notCompared: [],
    proven:
      troubles.length > 0
        ? 'Nothing is proven by a log that is damaged.'
        : provenWords(end.end, signed === null ? null : true),
  };
}

/** Audits the log and the content of its output folder. */
export async function auditArchive(out: string, questions: LogQuestions): Promise<LogFinding> {
  const finding = auditLog(out, questions);
  const { entries } = finding.log;
  const { reports, others } = await listOutput(out);
  const heads = reports.map((folder) => headAt(out, folder));
  const troubles = [...finding.troubles, ...misplaced(entries, heads)];
  const isLogged = hasLog(out);
  for (const { folder, results, manifest, number } of heads) {
    const job = results?.job ?? null;
    const say = (what: string) => troubles.push({ what, report: folder, job, number });
    if (results === null) {
      if (isLogged && number !== null && entries.every((entry) => entry.number !== number))
        say(`it says that it is report ${number}, which the log does not know`);
      continue;
    }
    // In a folder without a log, each report says that its state is not known.
    if (isLogged) againstReport(finding.log, results, manifest).forEach(say);
    const isEarlier = folder.startsWith(`${EARLIER}/`);
    if (!isEarlier && basename(folder) !== results.job)
      say(`it is a report of ${results.job}, under the name of another job`);
    if (isEarlier && number !== null && basename(folder) !== number)
      say(`it is report ${number}, under the name of another one`);
    if (folder.startsWith(`${DRAFTS}/`) && number !== null)
      say(`it is report ${number}, which was issued, among the drafts`);
  }
  return {
    ...finding,
    troubles,
    notCompared: others.map(({ path, what }) => ({ what: path, why: otherWords[what] })),
  };
}

/** Reports in the log that are not in their place. */
function misplaced(entries: readonly LogEntry[], heads: readonly Head[]): Trouble[] {
  const states = statesOn(entries);
  const byHash = groupBy(heads, ({ hash }) => hash);
  return entries.flatMap(({ number, job, manifest, line, act }) => {
    if (act === 'withdrawn') return [];
    const own = (byHash.get(manifest) ?? []).map(({ folder }) => folder);
    const say = (isSo: boolean, what: string, report: string | null = null) =>
      isSo ? [{ what, report, job, number }] : [];
    const place = `${LOG}, line ${line}: report ${number}`;
    const isInPlace = own.includes(job);
    const state = states.get(number)?.state;
    return [
      ...say(own.length === 0, `${place} is missing, or its manifest.json is not the one that was issued`),
      ...say(own.length > 1, `${place} lies there ${own.length} times: ${own.join(', ')}`),
      ...say(
        state === 'amended' && isInPlace,
        `it is report ${number}, which was amended, where the one that is in force should lie`,
        job,
      ),
      ...say(
        state === 'in-force' && own.length > 0 && !isInPlace,
        `it is report ${number}, which is in force, but does not lie in ${job}`,
        own[0],
      ),
    ];
  });
}

interface Head {
  /** Relative to the output folder. */
  readonly folder: string;
  /** SHA-256 of manifest.json; '' if it cannot be read. */
  readonly hash: string;
  readonly manifest: Buffer | null;
  /** From the manifest. */
  readonly number: string | null;
  readonly results: Pick<Results, 'job' | 'issue'> | null;
}

function headAt(out: string, folder: string): Head {
  const manifest = readQuietly(join(out, folder, 'manifest.json'));
  const results = readQuietly(join(out, folder, 'results.json')) ?? Buffer.alloc(0);
  const head = issuedHead({ files: new Map([['results.json', results]]) }, folder);
  return {
    folder,
    hash: manifest === null ? '' : sha256(manifest),
    manifest,
    number: manifestSchema.safeParse(manifest === null ? null : jsonOf(manifest)).data?.issue ?? null,
    results: typeof head === 'string' ? null : head.results,
  };
}

/** A report with its state in the log. */
export interface Located extends AuditFinding {
  /** null: not known. */
  readonly state: StateOfReport['state'] | null;
  /** In words. */
  readonly stateWords: string;
  /** true: whether it was amended or withdrawn is not known, because there is no log. */
  readonly isStateOpen: boolean;
  readonly log: LogFinding | null;
}

/** true: a problem belongs to the report at a path. */
export const isAbout = ({ report }: Trouble, { path }: LogFinding, place: string): boolean =>
  report !== null && resolve(path, report) === resolve(place);

/** @param log null: there is none. @param isWaived --no-log: a log is not required. */
export function withLog(finding: AuditFinding, log: LogFinding | null, isWaived = false): Located {
  const { issue, job } = finding;
  // A wrong place is reported for drafts too.
  const own = log?.troubles.filter((one) => isAbout(one, log, finding.report)) ?? [];
  const placed = accused(
    finding,
    own.map(({ what }) => what),
  );
  const located = { ...placed, isStateOpen: false, log, state: null };
  if (job === null) return { ...located, stateWords: 'not known' };
  if (issue === null) return { ...located, state: 'draft', stateWords: 'a draft, not issued' };
  if (log !== null && (log.log.entries.length > 0 || log.log.troubles.length === 0))
    return inLog({ ...located, log }, job, issue);
  const why =
    log !== null
      ? `${LOG} cannot be read`
      : isWaived
        ? 'no log was asked for (--no-log)'
        : `there is no ${LOG} next to its folder; --log PATH names one, --no-log asks for none`;
  return {
    ...located,
    isStateOpen: log !== null || !isWaived,
    stateWords: `issued on ${issue.on}; whether it was amended or withdrawn since is not known`,
    notCompared: [...finding.notCompared, { what: 'its state', why }],
  };
}

/** Contradictions between the report and the log or its folder. */
function accused<T extends AuditFinding>(finding: T, words: readonly string[]): T {
  const known = new Set(finding.differences.map(({ what }) => what));
  const more = words.filter((what) => !known.has(what));
  if (words.length === 0) return finding;
  const differences = more.map((what) => ({ statement: 'vouched' as const, what }));
  return { ...finding, vouched: 'differs', differences: [...finding.differences, ...differences] };
}

/** Compares an issued report with its log. */
function inLog(
  finding: Omit<Located, 'stateWords'> & { readonly log: LogFinding },
  job: string,
  issue: Issue,
): Located {
  const { log, report } = finding;
  const isFolder = kindAt(report) === 'folder';
  const isSigned = kindAt(join(report, SIGNATURE_FILE)) !== null;
  const entry = log.log.entries.find(({ number, act }) => number === issue.number && act !== 'withdrawn');
  const isSame = finding.manifestHash !== null && entry?.manifest === finding.manifestHash;
  const manifest = isFolder ? readQuietly(join(report, 'manifest.json')) : null;
  const wrong = againstReport(log.log, { job, issue }, manifest);
  if (isFolder && entry?.signature !== undefined && !isSigned)
    wrong.push(`${LOG}, line ${entry.line}: it is signed, but the manifest of report ${issue.number} is not`);
  const state = log.states.find(({ number }) => number === issue.number);
  const located: Located = {
    ...accused(finding, wrong),
    state: state?.state ?? null,
    stateWords: state === undefined ? 'not in the log' : stateWords(state),
  };
  if (wrong.length > 0 || log.troubles.length > 0) return located;
  const isVouched = isSame && entry !== undefined && log.signed?.includes(entry.line) === true;
  if (isVouched && finding.vouched === 'not-compared' && finding.vouchers.length === 0)
    return {
      ...located,
      vouched: 'proven',
      vouchers: [`its line in the log (line ${entry.line}) is signed by a trusted key`],
      notCompared: finding.notCompared.filter(({ what }) => what !== WHO),
    };
  if (isFolder || isSame) return located;
  return {
    ...located,
    vouched: finding.vouched === 'differs' ? 'differs' : 'not-compared',
    waived: finding.waived.filter((name) => name !== 'vouched'),
    notCompared: [
      ...finding.notCompared,
      {
        what: `whether it is the report ${issue.number} of the log`,
        why: 'its manifest.json was not made again with the hash that the log has; audit its folder',
      },
    ],
  };
}
