/**
 * A draft becomes an issued report: it is audited, made again with its number and date, signed where a key is given, and
 * entered into the log. What was issued is never written over: an amended report is kept beside the one that takes its place.
 */
import { basename, dirname, join } from 'node:path';
import { rm } from 'node:fs/promises';
import { audit } from '../audit/audit.js';
import { differs, isProven, type AuditFinding } from '../audit/statements.js';
import { gatherInputs, withInputs } from '../audit/issued-inputs.js';
import { issuedResults, readIssued } from '../issued-report.js';
import { appendToLog, readLog, standings, type IssueLog, type LogEntry } from '../issue-log.js';
import { EARLIER } from '../keep-earlier.js';
import { sha256 } from '../../pages/deliverables/manifest.js';
import { DRAFTS } from '../report-places.js';
import { envelope, MANIFEST_TYPE, SIGNATURE_FILE, type SigningKey } from '../signing.js';
import { signedAs } from '../signature/pdf-signature.js';
import { recover, writeWhole } from '../write-whole.js';
import { makeDeliverables } from '../../pipeline.js';
import type { Printer } from '../../pages/report/pdf.js';
import type { Issue, Results } from '../../results/results-schema.js';
import { isValidOn, signPdf, type OfficeCertificate } from './pdf-signature.js';
import { amendedWords } from './amended-words.js';

export interface IssueRequest {
  readonly by: string;
  /** Day of issue, ISO 8601. */
  readonly on: string;
  /** null: the job's id and the next count. */
  readonly number: string | null;
  /** The report that this one takes the place of. */
  readonly amends: string | null;
  readonly because: string | null;
  /** The job folder, where the draft does not carry its inputs. */
  readonly job: string | null;
  readonly key: SigningKey | null;
  /** Signs the PDF; null: it is not. */
  readonly certificate: OfficeCertificate | null;
}

export interface Issued {
  readonly number: string;
  readonly job: string;
  /** Where the issued report lies. */
  readonly folder: string;
  /** Where the report that was amended lies now; null: none was. */
  readonly kept: string | null;
  /** SHA-256 of the log's last line. */
  readonly head: string;
  /** What the job does not record and a report should say. */
  readonly unrecorded: readonly string[];
}

/** Nothing was issued, and why; nothing was written. */
export class NotIssued extends Error {
  /** Of a draft that does not stand. */
  readonly finding: AuditFinding | null;
  constructor(message: string, finding: AuditFinding | null = null) {
    super(message);
    this.finding = finding;
  }
}

/** The output folder that a report's folder lies in. */
export function outOf(folder: string): string {
  const parent = dirname(folder);
  return basename(parent) === DRAFTS ? dirname(parent) : parent;
}

/** @throws {NotIssued} {BrowserTrouble} {Error} the disk refused. */
export async function issueReport(
  folder: string,
  request: IssueRequest,
  openPrinter: () => Promise<Printer>,
): Promise<Issued> {
  const out = outOf(folder);
  const log = await soundLog(out);
  const draft = await readIssued(folder);
  const read = issuedResults(draft, folder);
  if (typeof read === 'string') throw new NotIssued(read);
  const { results } = read;
  if (results.whatIf !== undefined)
    throw new NotIssued('a what-if report is judged by a set that is not its own: it cannot be issued');
  if (results.issue !== undefined) return finishIssue(folder, out, log, results, request);
  const live = liveNumber(log, results.job);
  assertAllowed(request, live, results.job);
  const number = request.number ?? nextNumber(log, results.job);
  if (log.entries.some((entry) => entry.number === number))
    throw new NotIssued(`the number ${number} is taken; a report that was issued keeps it for ever`);
  const where = { job: request.job, tolerances: null };
  const finding = await audit(folder, { ...where, print: openPrinter, trust: null });
  if (differs(finding)) throw new NotIssued('the draft is not what its inputs make: make it again', finding);
  if (!isProven(finding))
    throw new NotIssued(
      `the draft cannot be proven: ${finding.notCompared.map(({ what, why }) => `${what}: ${why}`).join('; ')}`,
    );
  const old = live === null ? null : await issuedResultsAt(out, log, live, results.job);
  const { certificate } = request;
  if (certificate !== null && !isValidOn(certificate, request.on))
    throw new NotIssued(`the certificate of ${certificate.subject} is not valid on ${request.on}`);
  const sign =
    certificate === null
      ? null
      : (pdf: Uint8Array) =>
          signPdf(pdf, certificate, signedAs(certificate.subject, { number, on: request.on }));
  const issue: Issue = {
    number,
    on: request.on,
    by: request.by,
    ...(certificate !== null && {
      certificate: { subject: certificate.subject, issuer: certificate.issuer },
    }),
    ...(live !== null && {
      amends: { number: live, because: request.because!, changes: amendedWords(old!, results) },
    }),
  };
  const inputs = await gatherInputs(results, draft, where);
  const made = await withInputs(inputs.found, null, ({ value, diagnostics }, place) =>
    makeDeliverables(place, value, diagnostics, openPrinter(), { facts: issue, sign }),
  );
  if (made === null) throw new NotIssued('the inputs are refused now');
  const manifest = made.files.get('manifest.json')!;
  const files = new Map(made.files);
  if (request.key !== null) files.set(SIGNATURE_FILE, envelope(MANIFEST_TYPE, manifest, request.key));
  await recover(out, results.job);
  const kept = live === null ? null : join(out, EARLIER, live);
  const final = await writeWhole(out, results.job, files, kept);
  const head = await appendToLog(out, log, entryOf(issue, results.job, manifest), request.key);
  if (basename(dirname(folder)) === DRAFTS) await rm(folder, { recursive: true });
  return { number, job: results.job, folder: final, kept, head, unrecorded: unrecordedOf(results) };
}

/** A report that was written, when the run that issued it was cut off before the log. */
async function finishIssue(
  folder: string,
  out: string,
  log: IssueLog,
  results: Results,
  request: IssueRequest,
): Promise<Issued> {
  const issue = results.issue!;
  if (log.entries.some((entry) => entry.number === issue.number))
    throw new NotIssued(
      `this is report ${issue.number}, issued on ${issue.on}. To change it, report the job anew: the draft stands in ${join(out, DRAFTS, results.job)}, and is issued with --amends ${issue.number} --because "…"`,
    );
  const { files } = await readIssued(folder);
  const entry = entryOf(issue, results.job, files.get('manifest.json')!);
  const head = await appendToLog(out, log, entry, request.key);
  return {
    number: issue.number,
    job: results.job,
    folder,
    kept: null,
    head,
    unrecorded: unrecordedOf(results),
  };
}

const entryOf = (issue: Issue, job: string, manifest: Uint8Array) => ({
  act: issue.amends === undefined ? ('issued' as const) : ('amended' as const),
  number: issue.number,
  job,
  on: issue.on,
  by: issue.by,
  ...(issue.amends !== undefined && { amends: issue.amends.number, because: issue.amends.because }),
  manifest: sha256(manifest),
});

export interface Withdrawal {
  readonly by: string;
  readonly on: string;
  readonly because: string;
  readonly key: SigningKey | null;
}

/** The report stays where it is; the log says that it counts no more. @throws {NotIssued} */
export async function withdrawReport(
  folder: string,
  { by, on, because, key }: Withdrawal,
): Promise<Pick<Issued, 'number' | 'job' | 'head'>> {
  const out = outOf(folder);
  const log = await soundLog(out);
  const { files } = await readIssued(folder);
  const read = issuedResults({ files }, folder);
  if (typeof read === 'string') throw new NotIssued(read);
  const { issue, job } = read.results;
  if (issue === undefined) throw new NotIssued('this is a draft: there is nothing to withdraw');
  const standing = standings(log.entries).get(issue.number);
  if (standing !== 'issued')
    throw new NotIssued(
      standing === undefined
        ? `the log of ${out} does not know report ${issue.number}`
        : `report ${issue.number} was ${standing} before`,
    );
  const entry = { act: 'withdrawn' as const, number: issue.number, job, on, by, because };
  const manifest = sha256(files.get('manifest.json')!);
  return { number: issue.number, job, head: await appendToLog(out, log, { ...entry, manifest }, key) };
}

async function soundLog(out: string): Promise<IssueLog> {
  const log = await readLog(out);
  if (log.troubles.length > 0)
    throw new NotIssued(
      `the log of issued reports is damaged, so nothing is added to it: ${log.troubles.join('; ')}`,
    );
  return log;
}

/** Number of the job's report that counts; null: none was issued, or it was withdrawn. */
function liveNumber({ entries }: IssueLog, job: string): string | null {
  const standing = standings(entries);
  const live = entries.filter((entry) => entry.job === job && standing.get(entry.number) === 'issued');
  return live[live.length - 1]?.number ?? null;
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
    throw new NotIssued('say why with --because "…": it stands on page 1 of the new report');
}

/** "TH-2031-1", and so on: of the numbers that the job ever had, the next. */
function nextNumber({ entries }: IssueLog, job: string): string {
  const taken = new Set(entries.map(({ number }) => number));
  let n = new Set(entries.filter((entry) => entry.job === job).map(({ number }) => number)).size + 1;
  while (taken.has(`${job}-${n}`)) n++;
  return `${job}-${n}`;
}

/** Of the report that is amended, held against the log: a forged one is not compared with. */
async function issuedResultsAt(out: string, log: IssueLog, number: string, job: string): Promise<Results> {
  const folder = join(out, job);
  const entry = log.entries.find((e: LogEntry) => e.number === number)!;
  const { files } = await readIssued(folder);
  const manifest = files.get('manifest.json');
  if (manifest === undefined || sha256(manifest) !== entry.manifest)
    throw new NotIssued(`${folder} is not report ${number} as it was issued: audit ${out}`);
  const read = issuedResults({ files }, folder);
  if (typeof read === 'string') throw new NotIssued(read);
  return read.results;
}

/** @see ISO/IEC 17025:2017, 7.8.2.1: what a report is to say. */
function unrecordedOf({ subject, survey }: Results): string[] {
  const wanted: [string, unknown][] = [
    ['who issues it (issuer)', subject.issuer],
    ["the issuer's address (contacts.issuer)", subject.contacts?.issuer],
    ['the customer (customer)', subject.customer],
    ["the customer's address (contacts.customer)", subject.contacts?.customer],
    ['the site (site)', subject.site],
    ['the machine and its serial number (machine)', subject.machine.name && subject.machine.serial],
    ['who surveyed, and when (surveyed)', subject.surveyed.by && subject.surveyed.on],
    ['who approved it (approved)', subject.approved?.by],
    ['by which procedure (procedure)', subject.procedure],
    ['certificates of all instruments', survey.instruments.every(({ certificate }) => certificate)],
  ];
  return wanted.flatMap(([what, known]) => (known ? [] : [what]));
}
