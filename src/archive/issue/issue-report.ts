/**
 * Issues a draft: it is audited, made again with its number and date, signed if a key is given, and entered into the log.
 * An issued report is never overwritten: when another report replaces it, it is kept.
 */
import { isDeepStrictEqual } from 'node:util';
import { basename, dirname, join } from 'node:path';
import { rename, rm } from 'node:fs/promises';
import { gatherInputs, withInputs } from '../audit/issued-inputs.js';
import { changedFiles, issuedResults, readIssued, type IssuedReport } from '../issued-report.js';
import { appendToLog, type IssueLog, type LogEntry } from '../issue-log.js';
import { EARLIER, freePlace, placeForEarlier } from '../keep-earlier.js';
import { kindAt } from '../regular-file.js';
import { readManifest, sha256 } from '../../pages/deliverables/manifest.js';
import { againstReport, statesOn } from '../report-states.js';
import { DRAFTS } from '../report-places.js';
import { envelope, MANIFEST_TYPE, SIGNATURE_FILE, type SigningKey } from '../signing.js';
import { signedAs } from '../signature/pdf-signature.js';
import { recover, writeWhole } from '../write-whole.js';
import { makeDeliverables } from '../../pipeline.js';
import type { Printer } from '../../pages/report/pdf.js';
import type { Issue, Results } from '../../results/results-schema.js';
import type { Omissible } from '../../results/omissible.js';
import { pick } from '../../base/pick.js';
import { changesSince } from './changes-since.js';
import { askTimeStamp } from './ask-time-stamp.js';
import { logFor, outOf } from './log-for-writing.js';
import { NotIssued } from './not-issued.js';
import { assertStands, assertSignedAsAsked } from './stands.js';
import { isValidOn, signPdf, type OfficeCertificate } from './pdf-signature.js';
import { lacking, lackingWords, unrecorded } from '../what-lacks.js';

export interface IssueRequest {
  readonly by: string;
  /** Day of issue, ISO 8601; null: today, or, for a report that only has to be entered into the log, the day that it states. */
  readonly on: string | null;
  /** Today, ISO 8601, in local time. */
  readonly today: string;
  /** null: the job's id and the next number. */
  readonly number: string | null;
  /** The report that this one replaces. */
  readonly amends: string | null;
  readonly because: string | null;
  /** Items without which the report may be issued. */
  readonly without: readonly Omissible[];
  /** The job folder, if the draft does not contain its inputs. */
  readonly job: string | null;
  readonly key: SigningKey | null;
  /** Signs the PDF; null: it is not signed. */
  readonly certificate: OfficeCertificate | null;
  /** Service for time stamps (RFC 3161); null: no time stamp. */
  readonly timestamp: URL | null;
}

export interface Issued {
  readonly number: string;
  readonly job: string;
  /** Folder of the issued report. */
  readonly folder: string;
  /** Folder of the amended report; null: none was amended. */
  readonly kept: string | null;
  /** SHA-256 of the log's last line. */
  readonly head: string;
  /** Items of a report that the job does not record. */
  readonly unrecorded: readonly string[];
  /** Time of the time stamp, ISO 8601; null: there is none. */
  readonly stampedAt: string | null;
  /** Why a requested time stamp is missing; null: none was requested, or there is one. */
  readonly notStamped: string | null;
}

/**
 * @param isHeld Returns true while this process holds the lock of the output folder.
 * @throws {NotIssued} {BrowserTrouble} {Error} the disk refused.
 */
export async function issueReport(
  folder: string,
  request: IssueRequest,
  openPrinter: () => Promise<Printer>,
  isHeld: () => boolean,
): Promise<Issued> {
  const out = outOf(folder);
  const log = await logFor(folder, request.key);
  const draft = await readIssued(folder);
  const results = resultsOf(draft, folder);
  if (results.whatIf !== undefined)
    throw new NotIssued('a what-if report is judged by a set that is not its own: it cannot be issued');
  const without = assertRecorded(results, request.without);
  const context = { folder, out, log, draft, results, without, request, openPrinter, isHeld };
  return results.issue === undefined ? issueDraft(context) : finishIssue(context, results.issue);
}

interface Context {
  readonly folder: string;
  readonly out: string;
  readonly log: IssueLog;
  readonly draft: IssuedReport;
  readonly results: Results;
  readonly without: readonly Omissible[];
  readonly request: IssueRequest;
  readonly openPrinter: () => Promise<Printer>;
  readonly isHeld: () => boolean;
}

async function issueDraft(context: Context): Promise<Issued> {
  const { folder, out, log, draft, results, without, request, openPrinter } = context;
  const { job } = results;
  const standing = await readManifest(out, job);
  if (standing?.issue !== undefined && !log.entries.some(({ number }) => number === standing.issue))
    throw new NotIssued(
      `${join(out, job)} is report ${standing.issue}, which was cut off before it was entered into the log: issue that folder first, with the same options as then, or move it away`,
    );
  const live = liveNumber(log, job);
  assertAllowed(request, live, job);
  const number = request.number ?? nextNumber(log, job);
  if (log.entries.some((entry) => entry.number === number))
    throw new NotIssued(`the number ${number} is taken; a report that was issued keeps it for ever`);
  const on = request.on ?? request.today;
  assertDayInOrder(log, job, on);
  await assertStands(folder, request.job, openPrinter, 'the draft is not proven: make it again');
  const { certificate } = request;
  if (certificate !== null && !isValidOn(certificate, on))
    throw new NotIssued(`the certificate of ${certificate.subject} is not valid on ${on}`);
  const facts: Issue = {
    ...{ number, on, by: request.by },
    ...(without.length > 0 && { without: [...without] }),
    ...(certificate !== null && {
      certificate: { subject: certificate.subject, issuer: certificate.issuer },
    }),
    ...(await amending(context, live)),
  };
  const inputs = await gatherInputs(results, draft, { job: request.job, tolerances: null });
  const made = await withInputs(inputs.found, null, async ({ value, diagnostics }, place) => {
    const language = draft.manifest?.language;
    const loaded = language === undefined ? value : { ...value, language };
    const signing = certificate === null ? null : signer(certificate, facts, request.timestamp);
    const sign = signing?.sign ?? null;
    const { files } = await makeDeliverables(place, loaded, diagnostics, openPrinter(), {
      facts,
      sign,
    });
    return { files, signing };
  });
  if (made === null) throw new NotIssued('the inputs are refused now');
  const { signing } = made;
  const manifest = made.files.get('manifest.json')!;
  const files = new Map(made.files);
  if (request.key !== null) files.set(SIGNATURE_FILE, envelope(MANIFEST_TYPE, manifest, request.key));
  await recover(out, job);
  const kept = await placeOfEarlier(context);
  assertHeld(context);
  const audited = sha256(draft.files.get('manifest.json')!);
  const final = await writeWhole(out, job, files, kept, async (earlier) => {
    const now = await readIssued(earlier).catch(() => null);
    const bytes = now?.files.get('manifest.json');
    return kept !== null || (bytes !== undefined && sha256(bytes) === audited)
      ? null
      : 'the draft was made anew while it was being issued: issue it again';
  });
  const head = await enter(context, facts, manifest);
  if (basename(dirname(folder)) === DRAFTS) await rm(folder, { recursive: true });
  return {
    ...{ number, job, folder: final, head, unrecorded: unrecorded(results) },
    kept: live === null ? null : join(out, EARLIER, live),
    stampedAt: signing?.stampedAt() ?? null,
    notStamped: signing?.notStamped() ?? null,
  };
}

/** @param live Number of the report in force; null: there is none. */
async function amending(
  { out, log, results, request }: Context,
  live: string | null,
): Promise<Pick<Issue, 'amends'>> {
  if (live === null) return {};
  const old = await issuedResultsAt(out, log, live, results.job);
  return { amends: { number: live, because: request.because!, ...changesSince(old, results) } };
}

/** Completes the issue of a report that was written by a run that ended before it entered the report into the log. */
async function finishIssue(context: Context, issue: Issue): Promise<Issued> {
  const { folder, out, log, draft, results, without, request, openPrinter } = context;
  const { job } = results;
  if (log.entries.some((entry) => entry.number === issue.number))
    throw new NotIssued(
      `this is report ${issue.number}, issued on ${issue.on}. To change it, report the job anew: the draft is then in ${join(out, DRAFTS, job)}, and is issued with --amends ${issue.number} --because "…"`,
    );
  if (basename(folder) !== job || dirname(folder) !== out)
    throw new NotIssued(
      `this says that it is report ${issue.number}, but does not lie where issue writes one`,
    );
  const stated: [option: string, given: string | null, states: string | undefined][] = [
    ['--by', request.by, issue.by],
    ['--on', request.on, issue.on],
    ['--number', request.number, issue.number],
    ['--amends', request.amends, issue.amends?.number],
    ['--because', request.because, issue.amends?.because],
    ['--without', without.join(',') || null, issue.without?.join(',')],
  ];
  const others = stated.flatMap(([option, given, states]) =>
    // Values that are not given are taken from the report; what it amends and lacks must always be given.
    given === (states ?? null) || (given === null && ['--on', '--number'].includes(option))
      ? []
      : [
          `${option} ${given === null ? 'is not given' : `says ${given}`}, the report says ${states ?? 'nothing'}`,
        ],
  );
  if (others.length > 0)
    throw new NotIssued(
      `this says that it is report ${issue.number}, which is not in the log. If issuing was cut off, issue it with the same options as then; else it is forged. ${others.join('; ')}`,
    );
  const live = liveNumber(log, job);
  assertAllowed(request, live, job);
  assertDayInOrder(log, job, issue.on);
  await assertStands(
    folder,
    request.job,
    openPrinter,
    `report ${issue.number} is not proven: nothing is entered`,
  );
  await assertSignedAsAsked(draft, issue, request);
  if (issue.amends !== undefined) {
    const old = await issuedResultsAt(out, log, issue.amends.number, job);
    const stated = pick(issue.amends, 'verdictBefore', 'changes');
    if (!isDeepStrictEqual(asWritten(changesSince(old, results)), asWritten(stated)))
      throw new NotIssued(
        `it says otherwise than report ${issue.amends.number} does what changed since then`,
      );
  }
  assertHeld(context);
  const head = await enter(context, issue, draft.files.get('manifest.json')!);
  await removeLeftDraft(out, results);
  return {
    ...{ number: issue.number, job, folder, head, unrecorded: unrecorded(results) },
    kept: issue.amends === undefined ? null : join(out, EARLIER, issue.amends.number),
    stampedAt: null,
    notStamped: null,
  };
}

const asWritten = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

/** The draft that the interrupted run did not remove. */
async function removeLeftDraft(out: string, results: Results): Promise<void> {
  const place = join(out, DRAFTS, results.job);
  const left = await readIssued(place).catch(() => null);
  const read = left === null ? null : issuedResults(left, place);
  if (read === null || typeof read === 'string') return;
  if (JSON.stringify(read.results) === JSON.stringify({ ...results, issue: undefined }))
    await rm(place, { recursive: true });
}

/** Signs, and records whether there was a time stamp. */
function signer(certificate: OfficeCertificate, issue: Issue, service: URL | null) {
  let stampedAt: string | null = null;
  let notStamped: string | null = null;
  const stamp = async (signature: Uint8Array): Promise<Uint8Array | null> => {
    const found = await askTimeStamp(service!, signature, issue.on);
    if (found.state === 'wrong') throw new NotIssued(`the time stamp of ${service!.href}: ${found.why}`);
    if (found.state === 'unreachable') {
      notStamped = `${service!.href} cannot be reached: ${found.why}`;
      return null;
    }
    stampedAt = found.at.toISOString();
    return found.token;
  };
  return {
    sign: (pdf: Uint8Array) =>
      signPdf(pdf, certificate, signedAs(certificate.subject, issue), service === null ? null : stamp),
    stampedAt: () => stampedAt,
    notStamped: () => notStamped,
  };
}

/** New place of the report that is there already: an issued report under its number, a draft of other inputs with a count. */
async function placeOfEarlier({ folder, out, results }: Context): Promise<string | null> {
  const standing = await readManifest(out, results.job);
  if (standing?.issue === undefined)
    return folder === join(out, results.job) ? null : placeForEarlier(out, results.job, results.inputs);
  const place = join(out, EARLIER, standing.issue);
  // A kept draft may have a name that is now the number of a report.
  if (kindAt(place) !== null) await rename(place, await freePlace(out, results.job));
  return place;
}

function assertHeld({ isHeld, out }: Context): void {
  if (!isHeld()) throw new NotIssued(`another process took over ${out} meanwhile`);
}

const enter = (
  { out, log, results, request }: Context,
  issue: Issue,
  manifest: Uint8Array,
): Promise<string> => appendToLog(out, log, entryOf(issue, results.job, manifest), request.key);

const entryOf = (issue: Issue, job: string, manifest: Uint8Array) => ({
  act: issue.amends === undefined ? ('issued' as const) : ('amended' as const),
  number: issue.number,
  job,
  on: issue.on,
  by: issue.by,
  ...(issue.amends !== undefined && { amends: issue.amends.number, because: issue.amends.because }),
  ...(issue.without !== undefined && { without: issue.without }),
  manifest: sha256(manifest),
});

export interface Withdrawal {
  /** Number of the report that the folder must contain; null: not given. */
  readonly number: string | null;
  readonly by: string;
  readonly on: string;
  readonly because: string;
  readonly key: SigningKey | null;
}

/**
 * The report stays where it is; the log states that it is no longer in force. It is compared with the log and its own
 * manifest, and is not made again: a report may be withdrawn because it cannot be made any more.
 *
 * @throws {NotIssued}
 */
export async function withdrawReport(
  folder: string,
  { number: named, by, on, because, key }: Withdrawal,
  isHeld: () => boolean,
): Promise<Pick<Issued, 'number' | 'job' | 'head'>> {
  const out = outOf(folder);
  const log = await logFor(folder, key);
  const report = await readIssued(folder);
  const { issue, job } = resultsOf(report, folder);
  if (issue === undefined) throw new NotIssued('this is a draft: there is nothing to withdraw');
  const { number } = issue;
  // Another process may have issued another report in the meantime.
  if (named !== null && named !== number)
    throw new NotIssued(`this is report ${number}, not ${named}: nothing is withdrawn`);
  const manifest = report.files.get('manifest.json');
  if (manifest === undefined) throw new NotIssued('name the folder of the report, not a file of it');
  const state = statesOn(log.entries).get(number)?.state;
  if (state !== 'in-force')
    throw new NotIssued(
      state === undefined
        ? `the log of ${out} does not know report ${number}`
        : `report ${number} was ${state} before`,
    );
  const otherwise = againstReport(log, { job, issue }, manifest);
  if (otherwise.length > 0)
    throw new NotIssued(`the folder is not report ${number} as it was issued: ${otherwise.join('; ')}`);
  assertDayInOrder(log, job, on);
  if (!isHeld()) throw new NotIssued(`another process took over ${out} meanwhile`);
  const entry = { act: 'withdrawn' as const, number, job, on, by, because, manifest: sha256(manifest) };
  return { number, job, head: await appendToLog(out, log, entry, key) };
}

function resultsOf(report: IssuedReport, folder: string): Results {
  const read = issuedResults(report, folder);
  if (typeof read === 'string') throw new NotIssued(read);
  return read.results;
}

/** @returns The items that it lacks with permission. */
function assertRecorded(results: Results, allowed: readonly Omissible[]): Omissible[] {
  const lacks = lacking(results);
  const refused = lacks.filter((what) => !allowed.includes(what));
  if (refused.length > 0)
    throw new NotIssued(
      `not recorded, and a report must say it (ISO/IEC 17025, 7.8.2 and 6.5): ${refused.map((what) => lackingWords(what, results)).join('; ')}. Record it and report the job again; or issue it all the same with --without ${lacks.join(',')}, which the report and the log then say`,
    );
  return lacks;
}

/** Number of the job's report in force; null: none was issued, or the last was withdrawn. */
function liveNumber({ entries }: IssueLog, job: string): string | null {
  const live = [...statesOn(entries).values()].find((one) => one.job === job && one.state === 'in-force');
  return live?.number ?? null;
}

function assertAllowed({ amends, because }: IssueRequest, live: string | null, job: string): void {
  if (live === null && amends !== null)
    throw new NotIssued(`there is no issued report of ${job} that ${amends} could be`);
  if (live !== null && amends === null)
    throw new NotIssued(
      `report ${live} of ${job} is issued: a new one takes its place with --amends ${live} --because "…"`,
    );
  if (live !== null && amends !== live)
    throw new NotIssued(`the issued report of ${job} is ${live}, not ${amends}`);
  if (live !== null && (because === null || because.trim() === ''))
    throw new NotIssued('say why with --because "…": page 1 of the new report says it');
}

/** The day of an event must not be before the last event of the job in the log. */
function assertDayInOrder({ entries }: IssueLog, job: string, on: string): void {
  const last = entries.filter((entry) => entry.job === job).at(-1);
  if (last !== undefined && on < last.on)
    throw new NotIssued(`the log has a line of ${last.on} for ${job}: ${on} is before it (--on)`);
}

/** "TH-2031-1", and so on: the next number that the job never had. */
function nextNumber({ entries }: IssueLog, job: string): string {
  const taken = new Set(entries.map(({ number }) => number));
  let n = new Set(entries.filter((entry) => entry.job === job).map(({ number }) => number)).size + 1;
  while (taken.has(`${job}-${n}`)) n++;
  return `${job}-${n}`;
}

/** The results of the amended report, after a comparison with the log: a forged report is not used. */
async function issuedResultsAt(out: string, log: IssueLog, number: string, job: string): Promise<Results> {
  const { manifest } = log.entries.find((entry: LogEntry) => entry.number === number)!;
  // In its own place, or in the place where it is kept if a run ended after it was moved.
  for (const folder of [join(out, job), join(out, EARLIER, number)]) {
    const report = await readIssued(folder).catch(() => null);
    const bytes = report?.files.get('manifest.json');
    if (report === null || bytes === undefined || sha256(bytes) !== manifest) continue;
    const changed = report.manifest === null ? [] : changedFiles(report.manifest, report.files);
    if (changed.length > 0) throw new NotIssued(`${folder}: ${changed.join('; ')}`);
    return resultsOf(report, folder);
  }
  throw new NotIssued(`${join(out, job)} is not report ${number} as it was issued: audit ${out}`);
}
