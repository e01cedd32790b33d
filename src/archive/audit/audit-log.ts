/** The log of issued reports against the reports that lie in its output folder, and what else lies there. Only reads. */
import { lstatSync, readdirSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { issuedHead } from '../issued-report.js';
import { jsonOf } from '../../base/input/json-of.js';
import { LOG, readLog, unsignedLines, type IssueLog } from '../issue-log.js';
import { isOwn } from '../output-listing.js';
import { EARLIER } from '../keep-earlier.js';
import { manifestSchema, sha256 } from '../../pages/deliverables/manifest.js';
import { kindAt, readRegularFile } from '../regular-file.js';
import { DRAFTS } from '../report-places.js';
import {
  againstReport,
  endOf,
  orderProblems,
  problemWords,
  provenWords,
  statesOn,
  stateWords,
  type StateOfReport,
} from '../report-states.js';
import type { Trust } from '../signing.js';
import type { Results } from '../../results/results-schema.js';
import { WHO, type AuditFinding } from './statements.js';

export interface LogFinding {
  /** The output folder. */
  readonly path: string;
  readonly log: IssueLog;
  /** By number, on the day that is asked about. */
  readonly states: ReadonlyMap<string, StateOfReport>;
  /** Lines that a trusted key signed; null: nobody asked. */
  readonly signed: ReadonlySet<number> | null;
  /** In words, what is wrong with the log, and with what lies in the folder. */
  readonly troubles: readonly string[];
  /** What lies in the folder and is no report: it was not looked at. */
  readonly strange: readonly string[];
  /** What an unsigned or signed chain proves, and what it does not. */
  readonly proven: string;
}

/** Folders of a report, and everything else, relative to the output folder. */
interface Contents {
  readonly reports: readonly string[];
  readonly strange: readonly string[];
}

export function contentsOf(out: string): Contents {
  const reports: string[] = [];
  const strange: string[] = [];
  const look = (part: string): void => {
    for (const entry of readdirSync(join(out, part), { withFileTypes: true })) {
      const place = part === '' ? entry.name : `${part}/${entry.name}`;
      if (entry.isDirectory() && part === '' && (entry.name === DRAFTS || entry.name === EARLIER))
        look(entry.name);
      else if (entry.isDirectory() && readdirSync(join(out, place)).includes('manifest.json'))
        reports.push(place);
      else if (!(part === '' && isOwn(entry)))
        strange.push(
          entry.isDirectory()
            ? `${place}: a folder without a manifest.json, which is no report`
            : entry.isSymbolicLink()
              ? `${place}: a symbolic link`
              : `${place}: a file outside of any report`,
        );
    }
  };
  if (kindAt(out) === 'folder') look('');
  return { reports: reports.sort(), strange: strange.sort() };
}

/** The output folder that a report's folder or PDF lies in, where it has a log; null: there is none. */
export function outWithLog(path: string): string | null {
  const isFolder = kindAt(path) === 'folder';
  const parent = dirname(isFolder ? path : dirname(path));
  const out = [DRAFTS, EARLIER].includes(basename(parent)) ? dirname(parent) : parent;
  // A link that leads nowhere is there, too.
  return lstatSync(join(out, LOG), { throwIfNoEntry: false }) === undefined ? null : out;
}

export interface LogQuestions {
  /** SHA-256 of the last line as it was noted elsewhere; null: not noted. */
  readonly head: string | null;
  /** null: signatures are not asked about. */
  readonly trust: Trust | null;
  /** Day of the states; null: as the log ends. */
  readonly day: string | null;
}

/** The log itself. A log that cannot be read is a trouble, never an exception. */
export function auditLog(out: string, { head, trust, day }: LogQuestions): LogFinding {
  const log = readLog(out);
  const end = endOf(log, head);
  const unsigned = trust === null || trust.keys.length === 0 ? null : unsignedLines(log, trust.keys);
  const bad = new Set(unsigned?.map((words) => Number(/line (\d+)/.exec(words)?.[1])));
  const signed =
    unsigned === null ? null : new Set(log.entries.map(({ line }) => line).filter((line) => !bad.has(line)));
  const troubles = [
    ...log.troubles,
    ...(end.words === '' ? [] : [end.words]),
    ...(unsigned ?? []),
    ...orderProblems(log.entries).map(problemWords),
  ];
  return {
    path: out,
    log,
    states: statesOn(log.entries, day),
    signed,
    troubles,
    strange: [],
    proven:
      troubles.length > 0
        ? 'Nothing is proven by a log that is damaged.'
        : provenWords(end.end, signed === null ? null : true),
  };
}

/** The log, and everything that lies in its output folder. */
export function auditArchive(out: string, questions: LogQuestions): LogFinding & { reports: string[] } {
  const finding = auditLog(out, questions);
  const { entries } = finding.log;
  const { reports, strange } = contentsOf(out);
  const heads = reports.map((folder) => ({ folder, ...headAt(join(out, folder)) }));
  const troubles = [...finding.troubles];
  const now = statesOn(entries);
  for (const { number, job, manifest, line, act } of entries) {
    if (act === 'withdrawn') continue;
    const own = heads.filter((head) => head.hash === manifest);
    const place = `${LOG}, line ${line}`;
    if (own.length === 0)
      troubles.push(
        `${place}: report ${number} is missing, or its manifest.json is not the one that was issued`,
      );
    if (own.length > 1)
      troubles.push(
        `${place}: report ${number} lies there ${own.length} times: ${own.map((one) => one.folder).join(', ')}`,
      );
    if (now.get(number)?.state === 'amended' && own.some(({ folder }) => folder === job))
      troubles.push(
        `${job}: it is report ${number}, which was amended, where the one that is in force should lie`,
      );
  }
  for (const { folder, results, number, hash } of heads) {
    const issued =
      number === null ? undefined : entries.find((one) => one.number === number && one.act !== 'withdrawn');
    if (number !== null && issued === undefined)
      troubles.push(`${folder}: it says that it is report ${number}, which the log does not know`);
    else if (issued !== undefined && issued.manifest !== hash)
      troubles.push(
        `${folder}: it says that it is report ${String(number)}, but is not the one that was issued`,
      );
    if (results !== null && !folder.startsWith(`${EARLIER}/`) && basename(folder) !== results.job)
      troubles.push(`${folder}: it is a report of ${results.job}, under the name of another job`);
  }
  return { ...finding, reports: [...reports], strange, troubles: [...new Set(troubles)] };
}

interface Head {
  /** SHA-256 of manifest.json; '' where there is none that can be read. */
  readonly hash: string;
  /** As the manifest says it. */
  readonly number: string | null;
  readonly results: Pick<Results, 'job' | 'issue'> | null;
}

function headAt(folder: string): Head {
  const [manifest, results] = ['manifest.json', 'results.json'].map((name) =>
    readQuietly(join(folder, name)),
  ) as [Buffer | null, Buffer | null];
  const head = results === null ? '' : issuedHead({ files: new Map([['results.json', results]]) }, folder);
  return {
    hash: manifest === null ? '' : sha256(manifest),
    number: manifest === null ? null : (manifestSchema.safeParse(jsonOf(manifest)).data?.issue ?? null),
    results: typeof head === 'string' ? null : head.results,
  };
}

/** null: it cannot be read; the audit of the report itself says so. */
function readQuietly(path: string): Buffer | null {
  try {
    return readRegularFile(path);
  } catch {
    return null;
  }
}

/** A report with what the log says of it. */
export interface Located extends AuditFinding {
  readonly state: StateOfReport['state'];
  /** In words. */
  readonly stateWords: string;
  readonly log: LogFinding | null;
}

/** @param log Where one was found; null: none. */
export function withLog(finding: AuditFinding, log: LogFinding | null): Located {
  const { issue, job, report } = finding;
  if (issue === null || job === null)
    return { ...finding, state: 'draft', stateWords: job === null ? 'unknown' : 'a draft, not issued', log };
  if (log === null)
    return {
      ...finding,
      state: 'in-force',
      stateWords: `issued on ${issue.on}; whether it was amended or withdrawn since is not known: no ${LOG} was found (--log PATH)`,
      log,
      notCompared: [
        ...finding.notCompared,
        { what: 'its state', why: `there is no ${LOG} next to its folder; --log PATH names one` },
      ],
    };
  const isFolder = kindAt(report) === 'folder';
  const entry = log.log.entries.find(({ number, act }) => number === issue.number && act !== 'withdrawn');
  const isSame = finding.manifestHash !== null && entry?.manifest === finding.manifestHash;
  const said = againstReport(
    log.log,
    { job, issue },
    isFolder ? readQuietly(join(report, 'manifest.json')) : null,
  );
  const wrong =
    said === 'not in the log'
      ? [`it says that it is report ${issue.number}, which the log does not know`]
      : said.map(problemWords);
  if (isFolder && entry?.signature !== undefined && !finding.isSigned)
    wrong.push(`${LOG}, line ${entry.line}: it is signed, but the manifest of report ${issue.number} is not`);
  const isVouched = isSame && entry !== undefined && log.signed?.has(entry.line) === true;
  const isClear = wrong.length === 0 && log.troubles.length === 0;
  const state = log.states.get(issue.number);
  const located: Located = {
    ...finding,
    state: state?.state ?? 'draft',
    stateWords: state === undefined ? 'not in the log' : stateWords(state),
    log,
    differences: [...finding.differences, ...wrong.map((what) => ({ statement: 'vouched' as const, what }))],
    ...(wrong.length > 0 && { vouched: 'differs' as const }),
  };
  if (!isClear) return located;
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
