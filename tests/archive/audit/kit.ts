/** Reports for the audit's tests: a draft, and an issued one, signed, in an output folder with its log. */
import { createHash, createPublicKey, generateKeyPairSync } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { cp, mkdir, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join } from 'node:path';
import { audit, type AuditRequest } from '../../../src/archive/audit/audit.js';
import { auditArchive, auditLog, outWithLog, withLog } from '../../../src/archive/audit/audit-log.js';
import {
  findingText,
  gradeOf,
  logText,
  type Audited,
  type Grade,
} from '../../../src/archive/audit/finding-words.js';
import { appendToLog, readLog } from '../../../src/archive/issue-log.js';
import { officeCertificate, signPdf } from '../../../src/archive/issue/pdf-signature.js';
import { signedAs } from '../../../src/archive/signature/pdf-signature.js';
import {
  envelope,
  MANIFEST_TYPE,
  SIGNATURE_FILE,
  signingKey,
  type SigningKey,
  type Trust,
} from '../../../src/archive/signing.js';
import { sha256 } from '../../../src/pages/deliverables/manifest.js';
import { openPrinter, type Printer } from '../../../src/pages/report/pdf.js';
import type { PrintJob } from '../../../src/pages/report/print-job.js';
import { makeDeliverables } from '../../../src/pipeline.js';
import type { Issue } from '../../../src/results/results-schema.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { newOffice, pem, type Office } from '../../support/office.js';
import { sample, temporary } from '../../support/folders.js';
import type { Files } from '../../support/forge-report.js';

/** Prints each page once: the same print job gives the same bytes. */
export function remembering(printer: Printer): Printer {
  const printed = new Map<string, Promise<Uint8Array>>();
  const keyOf = (job: PrintJob) => {
    const hash = createHash('sha256').update(JSON.stringify({ ...job, attachments: null }));
    for (const { name, bytes } of job.attachments ?? []) hash.update(name).update(bytes);
    return hash.digest('hex');
  };
  return {
    ...printer,
    print(job) {
      const key = keyOf(job);
      const known = printed.get(key) ?? printer.print(job);
      // What a forger changed is printed once; only what was issued is asked for again.
      if (printed.size < 100) printed.set(key, known);
      return known;
    },
    close: () => printer.close(),
  };
}

/** All files of a report. @param job A sample, or a job folder. @param issue null: a draft. */
export async function made(
  job: string,
  printer: Printer | null,
  issue: Parameters<typeof makeDeliverables>[4] = null,
): Promise<Files> {
  const folder = isAbsolute(job) ? job : sample(job);
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
  const opened = printer === null ? null : Promise.resolve(printer);
  return (await makeDeliverables(folder, loaded.value, loaded.diagnostics, opened, issue)).files;
}

/** Puts files into a folder, in place of what is there. */
export async function lie(files: Files, folder: string): Promise<string> {
  await rm(folder, { recursive: true, force: true });
  for (const [path, bytes] of files) {
    await mkdir(dirname(join(folder, path)), { recursive: true });
    await writeFile(join(folder, path), bytes);
  }
  return folder;
}

export interface Kit {
  readonly printer: Printer;
  readonly draft: Files;
  /** Report TH-0412-1: the PDF signed by the office's certificate, the manifest and the log by its key. */
  readonly issued: Files;
  /** Output folder with that report and its log. */
  readonly out: string;
  readonly office: Office;
  readonly key: SigningKey;
  readonly trust: Trust;
  readonly head: string;
}

export const ON = '2027-09-01';
export const BY = 'O. Tressel';
export const NUMBER = 'TH-0412-1';

/** @param job A sample, or a job folder that has the name of its job, which names no approver. */
export async function newKit(job = 'TH-0412', opened?: Printer): Promise<Kit> {
  const id = basename(job);
  const printer = opened ?? remembering(await openPrinter());
  const draft = await made(job, printer);
  const office = await newOffice();
  const certificate = officeCertificate(pem(office, 'office.crt'), pem(office, 'office.key'));
  const { privateKey } = generateKeyPairSync('ed25519');
  const key = signingKey(privateKey.export({ type: 'pkcs8', format: 'pem' }) as string);
  const { subject, issuer } = certificate;
  const facts: Issue = {
    number: `${id}-1`,
    on: ON,
    by: BY,
    without: ['approver'],
    certificate: { subject, issuer },
  };
  const sign = (pdf: Uint8Array) => signPdf(pdf, certificate, signedAs(subject, facts));
  const unsigned = await made(job, printer, { facts, sign });
  const manifest = unsigned.get('manifest.json')!;
  const issued = new Map([...unsigned, [SIGNATURE_FILE, envelope(MANIFEST_TYPE, manifest, key)]]);
  const out = await temporary();
  await lie(issued, join(out, id));
  const head = await appendToLog(
    out,
    readLog(out),
    {
      act: 'issued',
      number: facts.number,
      job: id,
      on: ON,
      by: BY,
      without: ['approver'],
      manifest: sha256(manifest),
    },
    key,
  );
  const der = new Uint8Array(Buffer.from(pem(office, 'ca.crt').replace(/-----[^-]+-----|\s/g, ''), 'base64'));
  const trust: Trust = {
    keys: [{ name: 'office', publicKey: createPublicKey(privateKey), keyid: key.keyid }],
    certificates: [{ name: 'authority', der }],
  };
  return { printer, draft, issued, out, office, key, trust, head };
}

export interface Answer {
  readonly grade: Grade;
  /** All that the command prints of it. */
  readonly text: string;
  readonly finding: Audited;
}

export interface Asked {
  readonly trust?: Trust | null;
  readonly job?: string | null;
  readonly print?: boolean;
  readonly head?: string | null;
  readonly day?: string | null;
  /** false: --no-log. */
  readonly askLog?: boolean;
  readonly draw?: NonNullable<AuditRequest['draw']>;
}

/** One report as the command audits it, with the log next to it. */
export async function answer(
  { printer }: Pick<Kit, 'printer'>,
  path: string,
  { trust = null, job = null, print = true, head = null, day = null, askLog = true, draw }: Asked = {},
): Promise<Answer> {
  const request: AuditRequest = {
    ...{ job, tolerances: null, trust },
    ...(draw !== undefined && { draw }),
    print: print ? () => Promise.resolve(printer) : null,
  };
  const finding: Audited = await audit(path, request).then(
    (found) => {
      const out = outWithLog(path);
      return withLog(found, out === null ? null : auditLog(out, { head, trust, day }), !askLog);
    },
    (error: Error) => ({ report: path, error: error.message }),
  );
  return { grade: gradeOf(finding), text: findingText(finding), finding };
}

/** What is said of an output folder. */
export async function archiveText(
  out: string,
  { trust = null, head = null, day = null }: Asked = {},
): Promise<string> {
  return logText(await auditArchive(out, { head, trust, day }));
}

export async function copyOfOut({ out }: Kit): Promise<string> {
  const copy = join(await temporary(), 'out');
  await cp(out, copy, { recursive: true });
  return copy;
}

export const textIn = (files: Files, path: string): string => readText(files.get(path)!);
const readText = (bytes: Uint8Array): string => Buffer.from(bytes).toString('utf8');
export const readJson = (path: string): Record<string, unknown> =>
  JSON.parse(readFileSync(path, 'utf8')) as Record<string, unknown>;
