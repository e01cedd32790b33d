/** Many forgeries of reports, each audited, and many audits of reports that nobody touched. */
import { readFile, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { openPrinter, type Printer } from '../../../src/pages/report/pdf.js';
import { reportForgeries, type Files } from '../../support/forge-report.js';
import { changeJob, changeRows, copyOf, temporary } from '../../support/folders.js';
import { seeded } from '../../support/jobs.js';
import { appendToLog, LOG, readLog } from '../../../src/archive/issue-log.js';
import { sha256 } from '../../../src/pages/deliverables/manifest.js';
import type { Issue } from '../../../src/results/results-schema.js';
import type { Trust } from '../../../src/archive/signing.js';
import { answer, BY, lie, made, newKit, ON, remembering, type Answer } from './kit.js';

export interface Tally {
  tried: number;
  caught: number;
  readonly missed: string[];
}

/** A report that nobody touched. */
export interface Sound {
  readonly name: string;
  /** Of the job, and of the report's folder. */
  readonly id: string;
  readonly files: Files;
  /** null: a draft. */
  readonly facts: Issue | null;
  /** Whose signatures are verified, and the log that they signed; null: nobody signed. */
  readonly signed: { readonly trust: Trust; readonly log: string } | null;
}

/** A job of a few stations: an audit of it takes a tenth of a second. @param rails 1 or 2. */
async function smallJob(rails: 1 | 2): Promise<string> {
  const folder = await copyOf('TH-0412');
  const [last, id] = [rails === 1 ? 4 : 3, `TH-100${rails}`];
  await changeJob(folder, (job) => {
    job.id = id;
    job.rails = job.rails.slice(0, rails);
    for (const rail of job.rails) rail.stations.count = last;
    job.tolerances = job.tolerances.slice(0, rails === 1 ? 1 : 4);
  });
  await changeRows(folder, 'readings/as-left.csv', (_, rows) =>
    rows.filter(([, rail, station]) => Number(station) <= last && (rails === 2 || rail === 'A')),
  );
  const named = join(dirname(folder), id);
  await rename(folder, named);
  return named;
}

/** Of each job: a draft, an issued report, an issued report that is signed. */
export async function soundReports(printer: Printer): Promise<Sound[]> {
  const sound: Sound[] = [];
  for (const job of [await smallJob(1), await smallJob(2)]) {
    const id = basename(job);
    const { draft, issued, trust, out } = await newKit(job, printer);
    const log = await readFile(join(out, LOG), 'utf8');
    const facts: Issue = { number: `${id}-1`, on: ON, by: BY, without: ['approver'] };
    const plain = await made(job, printer, { facts, sign: null });
    const add = (name: string, files: Files, of: Issue | null, signed: Sound['signed'] = null) =>
      sound.push({ name: `${name} of ${id}`, id, files, facts: of, signed });
    add('draft', draft, null);
    add('issued report', plain, facts);
    add('signed report', issued, facts, { trust, log });
  }
  return sound;
}

/** Puts files into an output folder, with a log that knows them, and audits the report or its PDF alone. */
async function audited(
  printer: Printer,
  { id, facts, signed }: Sound,
  files: Files,
  { out, isAlone }: { readonly out: string; readonly isAlone: boolean },
): Promise<Answer> {
  await rm(out, { recursive: true, force: true });
  await lie(files, join(out, id));
  const manifest = files.get('manifest.json');
  // Whoever forged the report can write a log anew, if it is not signed; a PDF that is handed on alone has none.
  if (!isAlone && signed !== null) await writeFile(join(out, LOG), signed.log);
  else if (!isAlone && facts !== null && manifest !== undefined)
    await appendToLog(out, readLog(out), {
      ...{ act: 'issued', job: id, number: facts.number, on: facts.on, by: facts.by },
      ...{ without: facts.without, manifest: sha256(manifest) },
    });
  const path = isAlone ? join(out, id, 'report.pdf') : join(out, id);
  return answer({ printer }, path, { trust: signed?.trust ?? null, askLog: !isAlone });
}

/**
 * Forgeries of all kinds in turn.
 *
 * @returns By kind.
 */
export async function forgeMany(
  count: number,
  seed: number,
  { printer, sound, told = () => true }: Tools,
): Promise<Map<string, Tally>> {
  const tallies = new Map<string, Tally>();
  const next = seeded(seed);
  const out = join(await temporary(), 'out');
  for (let k = 0; k < count; k++) {
    const kind = reportForgeries[k % reportForgeries.length]!;
    const report = sound[Math.floor(next() * sound.length)]!;
    const forged = await kind.forge(report.files, next);
    if (forged !== null) {
      const isAlone = kind.ofPdf === true && next() < 0.4;
      const name = `${kind.name}${isAlone ? ', alone' : ''}`;
      const tally = tallies.get(name) ?? { tried: 0, caught: 0, missed: [] };
      tallies.set(name, tally);
      tally.tried++;
      const { grade, text } = await audited(printer, report, forged, { out, isAlone });
      if (grade !== 'proven') tally.caught++;
      else tally.missed.push(`${report.name}: ${text}`);
    }
    const missed = [...tallies.values()].reduce((sum, tally) => sum + tally.missed.length, 0);
    if (!told(k + 1, count, missed)) break;
  }
  await rm(dirname(out), { recursive: true, force: true });
  return tallies;
}

export interface Tools {
  readonly printer: Printer;
  readonly sound: readonly Sound[];
  /** After each. @param wrong Missed or accused until then. @returns false: no more. */
  readonly told?: (done: number, of: number, wrong: number) => boolean;
}

/** One browser for all that is done; what was printed once is remembered. */
export async function withTools<T>(use: (tools: Tools) => Promise<T>): Promise<T> {
  const printer = remembering(await openPrinter());
  try {
    return await use({ printer, sound: await soundReports(printer) });
  } finally {
    await printer.close();
  }
}

/**
 * Sound reports, audited again and again, as folders and as PDFs.
 *
 * @returns How many were audited, by name, and what was said of each that was not proven.
 */
export async function auditHonest(count: number, { printer, sound, told = () => true }: Tools) {
  const accused: string[] = [];
  const audits = new Map<string, number>();
  const out = join(await temporary(), 'out');
  for (let k = 0; k < count; k++) {
    const report = sound[(k >> 1) % sound.length]!;
    const isAlone = k % 2 === 1;
    const name = `${report.name}, ${isAlone ? 'PDF alone' : 'folder'}`;
    const { grade, text } = await audited(printer, report, report.files, { out, isAlone });
    audits.set(name, (audits.get(name) ?? 0) + 1);
    if (grade !== 'proven') accused.push(`${name}: ${text}`);
    if (!told(k + 1, count, accused.length)) break;
  }
  await rm(dirname(out), { recursive: true, force: true });
  return { audits, accused };
}
