/** Writes the files of the register, all or none. A part of an archive writes its own register, for `merge`. */
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Shard } from '../shard.js';
import { readLog } from '../issue-log.js';
import { statesOn } from '../report-states.js';
import { sha256 } from '../../pages/deliverables/manifest.js';
import type { Deliverables } from '../../pages/deliverables/deliverables.js';
import { writeFilesWhole } from '../write-whole.js';
import type { Printer } from '../../pages/report/pdf.js';
import { registerCsv } from './register-csv.js';
import { wordsOf } from '../../pages/words/languages.js';
import { pageKey } from './page-source.js';
import { registerJson } from './register-json.js';
import type { Results } from '../../results/results-schema.js';
import { registerSchema, type Register, type ReportedRow } from './register.js';

const shardRegisterName = ({ index, of }: Shard): string => `register-${index}-of-${of}.json`;

export const registerNames = (shard: Shard | null): string[] =>
  shard === null
    ? ['register.json', 'register.csv', 'register.html', 'register.pdf']
    : [shardRegisterName(shard)];

/**
 * Files that would not change are not written.
 *
 * @param printer Opens the printer for register.pdf; null: it is not printed, and an earlier one is removed.
 */
export async function writeRegister(
  out: string,
  found: Register,
  shard: Shard | null,
  printer: (() => Promise<Printer>) | null,
): Promise<void> {
  const register = withStandings(out, found);
  const json = registerJson(register);
  if (shard !== null) return writeChanged(out, new Map([[shardRegisterName(shard), Buffer.from(json)]]));
  const tables = new Map([
    ['register.json', Buffer.from(json)],
    ['register.csv', Buffer.from(registerCsv(register))],
  ]);
  const key = pageKey(json);
  if (await isSealed(out, key, printer !== null)) return writeChanged(out, tables);
  const printed = printer === null ? null : await printRegister(out, register, await printer());
  // The page is renamed last: the files next to it are then of the same run.
  const pages = new Map<string, Uint8Array>([
    ...(printed === null ? [] : [['register.pdf', printed] as const]),
    ['register.html', await registerPage(out, register, printed)],
  ]);
  await writeChanged(out, new Map<string, Uint8Array>([...tables, ...pages]));
  if (printed === null) await rm(join(out, 'register.pdf'), { force: true });
}

/** register.pdf. */
export async function printRegister(out: string, register: Register, printer: Printer): Promise<Uint8Array> {
  const { registerHtml } = await import('./register-html.js');
  return printer.print({
    html: await registerHtml(register, { medium: 'print', pdf: true, read: readerIn(out) }),
    title: wordsOf(register.language ?? 'en').say('register.title'),
    createdOn: latestDay(register),
    paper: 'A4',
    timeoutMs: 300_000 + 100 * register.jobs.length,
  });
}

/** register.html. @param pdf The register.pdf next to it; null: there is none. */
export async function registerPage(
  out: string,
  register: Register,
  pdf: Uint8Array | null,
): Promise<Uint8Array> {
  const { registerHtml } = await import('./register-html.js');
  const html = await registerHtml(register, { medium: 'page', pdf: pdf !== null, read: readerIn(out) });
  return Buffer.from(html + sealOf(pageKey(registerJson(register)), html, pdf));
}

/** Adds what the log now says about the issued reports among the rows. */
export function withStandings(out: string, register: Register): Register {
  const { entries } = readLog(out);
  if (entries.length === 0) return register;
  const states = statesOn(entries);
  const standingOf = ({
    number,
    standing,
  }: {
    number: string;
    standing: 'issued' | 'amended' | 'withdrawn';
  }) => {
    const state = states.get(number)?.state;
    return state === undefined || state === 'draft' ? standing : state === 'in-force' ? 'issued' : state;
  };
  const jobs = register.jobs.map((row) =>
    row.status !== 'reported' || row.issue === undefined
      ? row
      : { ...row, issue: { ...row.issue, standing: standingOf(row.issue) } },
  );
  return { ...register, jobs };
}

/** The results were verified or just made. If they were removed since then, the register is made without them. */
const readerIn =
  (out: string) =>
  async ({ links }: ReportedRow): Promise<Results | null> => {
    try {
      return JSON.parse(await readFile(join(out, links.results), 'utf8')) as Results;
    } catch {
      return null;
    }
  };

/** Writes the files that differ from the existing ones, all of them or none. */
async function writeChanged(out: string, files: Deliverables): Promise<void> {
  const changed = new Map<string, Uint8Array>();
  for (const [name, bytes] of files) {
    const found = await readFile(join(out, name)).catch(() => null);
    if (found === null || !found.equals(bytes)) changed.set(name, bytes);
  }
  await writeFilesWhole(out, changed);
}

/** Last line of the page: a hash over the key, the page and the PDF. With it, unchanged pages are not drawn and printed again. */
const sealOf = (key: string, html: string, pdf: Uint8Array | null): string =>
  `<!-- ${sha256(Buffer.from([key, sha256(Buffer.from(html)), pdf === null ? '' : sha256(pdf)].join(' ')))} -->\n`;

/** true: page and PDF were made from this key, and are undamaged. @param hasPdf null: with a PDF or without. */
async function isSealed(out: string, key: string, hasPdf: boolean | null = null): Promise<boolean> {
  const text = await readFile(join(out, 'register.html'), 'utf8').catch(() => '');
  const pdf = await readFile(join(out, 'register.pdf')).catch(() => null);
  if (hasPdf !== null && (pdf !== null) !== hasPdf) return false;
  const at = text.lastIndexOf('<!-- ');
  return at >= 0 && text.slice(at) === sealOf(key, text.slice(0, at), pdf);
}

/**
 * Rows of the register of the last run, by job. Empty if register.json is not the one from which its page was made: rows are
 * then made from the results.
 */
export async function earlierRows(out: string): Promise<Map<string, ReportedRow>> {
  const json = await readFile(join(out, 'register.json'), 'utf8').catch(() => null);
  if (json === null || !(await isSealed(out, pageKey(json)))) return new Map();
  const register = registerSchema.safeParse(JSON.parse(json));
  const rows = register.success ? register.data.jobs : [];
  return new Map(rows.flatMap((row) => (row.status === 'reported' ? [[row.job, row] as const] : [])));
}

/** The date of the register is that of its latest job, so that the same archive gives the same bytes. */
export function latestDay({ jobs }: Register): string {
  const days = jobs.flatMap((r) =>
    r.status === 'reported' ? [r.prepared ?? r.surveyed ?? r.readingsTaken.to ?? ''] : [],
  );
  const isDay = (day: string) => !Number.isNaN(Date.parse(day));
  return days.filter(isDay).sort().at(-1) ?? '2000-01-01';
}
