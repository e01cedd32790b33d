/** The register's files, written all or none. A part of an archive leaves its own register, for `merge`. */
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
import { pageKey } from './page-source.js';
import { registerJson } from './register-json.js';
import type { Results } from '../../results/results-schema.js';
import { registerSchema, type Register, type ReportedRow } from './register.js';

export const shardRegisterName = ({ index, of }: Shard): string => `register-${index}-of-${of}.json`;

export const registerNames = (shard: Shard | null): string[] =>
  shard === null
    ? ['register.json', 'register.csv', 'register.html', 'register.pdf']
    : [shardRegisterName(shard)];

/**
 * Files that stand as they would be written are left alone.
 *
 * @param printer Opens what prints register.pdf; null: it is not printed, and an earlier one goes.
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
    title: 'Register of rail alignment reports',
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

/** What the log says now of the issued reports among the rows. */
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

/** Verified or just made; that one is gone in the meantime is no reason to have no register. */
const readerIn =
  (out: string) =>
  async ({ links }: ReportedRow): Promise<Results | null> => {
    try {
      return JSON.parse(await readFile(join(out, links.results), 'utf8')) as Results;
    } catch {
      return null;
    }
  };

/** Those that differ from what is there, all of them or none. */
async function writeChanged(out: string, files: Deliverables): Promise<void> {
  const changed = new Map<string, Uint8Array>();
  for (const [name, bytes] of files) {
    const found = await readFile(join(out, name)).catch(() => null);
    if (found === null || !found.equals(bytes)) changed.set(name, bytes);
  }
  await writeFilesWhole(out, changed);
}

/** The page's last line: what it and the print follow from and hold. To draw and print anew takes a while. */
const sealOf = (key: string, html: string, pdf: Uint8Array | null): string =>
  `<!-- ${sha256(Buffer.from([key, sha256(Buffer.from(html)), pdf === null ? '' : sha256(pdf)].join(' ')))} -->\n`;

/** Whether page and print are of this key, and undamaged. @param wantsPdf null: with a print or without. */
async function isSealed(out: string, key: string, wantsPdf: boolean | null = null): Promise<boolean> {
  const text = await readFile(join(out, 'register.html'), 'utf8').catch(() => '');
  const pdf = await readFile(join(out, 'register.pdf')).catch(() => null);
  if (wantsPdf !== null && (pdf !== null) !== wantsPdf) return false;
  const at = text.lastIndexOf('<!-- ');
  return at >= 0 && text.slice(at) === sealOf(key, text.slice(0, at), pdf);
}

/**
 * Rows of the register as the last run left it, by job. None where register.json is not the one that its page is sealed
 * with: then rows are made from the results.
 */
export async function earlierRows(out: string): Promise<Map<string, ReportedRow>> {
  const json = await readFile(join(out, 'register.json'), 'utf8').catch(() => null);
  if (json === null || !(await isSealed(out, pageKey(json)))) return new Map();
  const register = registerSchema.safeParse(JSON.parse(json));
  const rows = register.success ? register.data.jobs : [];
  return new Map(rows.flatMap((row) => (row.status === 'reported' ? [[row.job, row] as const] : [])));
}

/** The register's date is that of its latest job, so that the same archive gives the same bytes. */
export function latestDay({ jobs }: Register): string {
  const days = jobs.flatMap((r) =>
    r.status === 'reported' ? [r.prepared ?? r.surveyed ?? r.readingsTaken.to ?? ''] : [],
  );
  const isDay = (day: string) => !Number.isNaN(Date.parse(day));
  return days.filter(isDay).sort().at(-1) ?? '2000-01-01';
}
