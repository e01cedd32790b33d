/** `waysheet issue OUT/JOB --by NAME`: a draft becomes an issued report, or an issued one is withdrawn. */
import { readFile } from 'node:fs/promises';
import { lazyPrinter } from '../archive/batch/lazy-printer.js';
import { lockFolder, FolderLocked } from '../archive/batch/lock.js';
import { LOG } from '../archive/issue-log.js';
import { signingKey, type SigningKey } from '../archive/signing.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import {
  issueReport,
  withdrawReport,
  type IssueRequest,
  type Issued,
} from '../archive/issue/issue-report.js';
import { outOf } from '../archive/issue/log-for-writing.js';
import { NotIssued } from '../archive/issue/not-issued.js';
import { officeCertificate } from '../archive/issue/pdf-signature.js';
import { withLog } from '../archive/audit/audit-log.js';
import { findingText } from '../archive/audit/finding-words.js';
import type { Console } from './console.js';
import { today } from './today.js';

export interface IssueOptions extends Omit<IssueRequest, 'key' | 'today' | 'certificate'> {
  readonly withdraw: boolean;
  /** File with the private key; null: WAYSHEET_SIGNING_KEY holds it, or the report is not signed. */
  readonly keyFile: string | null;
  /** Files with the office's certificate and with its key; null: the PDF is not signed. */
  readonly certificate: { readonly file: string; readonly keyFile: string } | null;
  readonly json: boolean;
  readonly console: Console;
}

/** @returns 3: nothing was issued; 4: because the draft does not pass its audit. */
export async function runIssue(folder: string, options: IssueOptions): Promise<ExitCode> {
  const { console, json, by, withdraw, because } = options;
  const printer = lazyPrinter(() => undefined);
  let lock;
  try {
    const [key, certificate] = await Promise.all([
      keyOf(options.keyFile),
      certificateOf(options.certificate),
    ]).catch((error: Error) => {
      throw new NotIssued(error.message);
    });
    lock = await lockFolder(outOf(folder), { by: 'issue' });
    const { isHeld } = lock;
    if (withdraw) {
      const on = options.on ?? today();
      const { number } = options;
      const done = await withdrawReport(folder, { number, by, on, because: because ?? '', key }, isHeld);
      console.out(
        json
          ? `${JSON.stringify(done)}\n`
          : `report ${visible(done.number)} is withdrawn; the last line of ${LOG} has the SHA-256 ${done.head}\n`,
      );
      return exitCodes.done;
    }
    const request = { ...options, today: today(), key, certificate };
    const issued = await issueReport(folder, request, printer.open, isHeld);
    console.out(json ? `${JSON.stringify(issued, null, 2)}\n` : textOf(issued));
    if (issued.notStamped !== null)
      console.err(`warning: the report has no time stamp: ${visible(issued.notStamped)}\n`);
    if (!json && issued.unrecorded.length > 0)
      console.err(
        `warning: not recorded in job.json, and a report should say it (ISO/IEC 17025, 7.8.2): ${issued.unrecorded.join('; ')}\n`,
      );
    return exitCodes.done;
  } catch (error) {
    if (!(error instanceof NotIssued || error instanceof FolderLocked)) throw error;
    console.err(`waysheet: ${visible(folder)}: nothing was issued: ${visible(error.message)}\n`);
    const finding = error instanceof NotIssued ? error.finding : null;
    if (finding === null) return exitCodes.refused;
    console.err(`${findingText(withLog(finding, null))}\n`);
    return exitCodes.auditDifference;
  } finally {
    await lock?.release();
    await printer.close();
  }
}

function textOf({ number, job, folder, kept, head, stampedAt }: Issued): string {
  return [
    `report ${number} of ${job} is issued: ${folder}/report.pdf`,
    ...(stampedAt === null ? [] : [`  time stamp: ${stampedAt}`]),
    ...(kept === null ? [] : [`  the report that it takes the place of is kept as ${kept}`]),
    `  the last line of ${LOG} has the SHA-256 ${head}: keep it elsewhere, and audit with --head`,
    '',
  ]
    .map(visible)
    .join('\n');
}

async function certificateOf(files: IssueOptions['certificate']) {
  if (files === null) return null;
  return officeCertificate(await readFile(files.file, 'utf8'), await readFile(files.keyFile, 'utf8'));
}

/** Never from the job folder, and never printed. */
async function keyOf(file: string | null): Promise<SigningKey | null> {
  const pem = file === null ? process.env['WAYSHEET_SIGNING_KEY'] : await readFile(file, 'utf8');
  return pem === undefined || pem === '' ? null : signingKey(pem);
}
