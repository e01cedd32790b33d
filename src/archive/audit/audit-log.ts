/** The log of issued reports against the reports that lie in its output folder. Only reads. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { LOG, readLog, standings, unsignedLines } from '../issue-log.js';
import { jsonOf } from '../../base/input/json-of.js';
import { EARLIER } from '../keep-earlier.js';
import { manifestSchema, sha256 } from '../../pages/deliverables/manifest.js';
import { DRAFTS } from '../report-places.js';
import type { TrustedKey } from '../signing.js';

export interface LogFinding {
  readonly path: string;
  readonly lines: number;
  /** SHA-256 of the last line. */
  readonly head: string;
  /** In words. */
  readonly troubles: readonly string[];
}

interface Found {
  /** Relative to the output folder. */
  readonly folder: string;
  readonly manifest: string;
  /** null: a draft, or nothing that this version reads. */
  readonly number: string | null;
}

/** Folders of deliverables below an output folder, relative to it: reports, newer drafts, and reports that were amended. */
export async function reportFolders(out: string): Promise<string[]> {
  const found: string[] = [];
  for (const part of ['', DRAFTS, EARLIER]) {
    const entries = await readdir(join(out, part), { withFileTypes: true }).catch(() => []);
    for (const entry of entries) {
      if (!entry.isDirectory() || entry.name.startsWith('.')) continue;
      const folder = part === '' ? entry.name : `${part}/${entry.name}`;
      const names = await readdir(join(out, folder)).catch(() => [] as string[]);
      if (names.includes('manifest.json')) found.push(folder);
    }
  }
  return found.sort();
}

/**
 * @param head SHA-256 of the last line as it was noted elsewhere; null: not noted.
 * @param trusted null: signatures are not asked about.
 */
export async function auditLog(
  out: string,
  head: string | null,
  trusted: readonly TrustedKey[] | null,
): Promise<LogFinding> {
  const log = await readLog(out);
  const troubles = [...log.troubles];
  if (head !== null && head !== log.head)
    troubles.push(
      `${LOG}: its last line has the SHA-256 ${log.head || '(none: the log is empty)'}, noted was ${head}: lines are missing, or it was written anew`,
    );
  if (trusted !== null) troubles.push(...unsignedLines(log, trusted));
  const reports = await Promise.all((await reportFolders(out)).map((folder) => readFound(out, folder)));
  const byManifest = new Map(reports.map((report) => [report.manifest, report]));
  const standing = standings(log.entries);
  const numbers = new Map<string, string>();
  for (const { act, number, job, manifest, line, amends } of log.entries) {
    const place = `${LOG}, line ${line}`;
    if (act === 'withdrawn') {
      if (numbers.get(number) === undefined) troubles.push(`${place}: report ${number} was never issued`);
      else if (numbers.get(number) !== manifest)
        troubles.push(`${place}: report ${number} is withdrawn under another hash than it was issued under`);
      continue;
    }
    if (numbers.has(number)) troubles.push(`${place}: report ${number} is issued a second time`);
    if (amends !== undefined && !numbers.has(amends))
      troubles.push(`${place}: it amends report ${amends}, which was never issued`);
    numbers.set(number, manifest);
    const report = byManifest.get(manifest);
    if (report === undefined)
      troubles.push(
        `${place}: report ${number} is missing, or its manifest.json is not the one that was issued`,
      );
    else if (standing.get(number) === 'amended' && report.folder === job)
      troubles.push(
        `${report.folder}: it is report ${number}, which was amended, where the one that counts should lie`,
      );
  }
  const live = new Map<string, string[]>();
  for (const { act, number, job } of log.entries)
    if (act !== 'withdrawn' && standing.get(number) === 'issued')
      live.set(job, [...(live.get(job) ?? []), number]);
  for (const [job, list] of live)
    if (list.length > 1)
      troubles.push(`${LOG}: ${job} has ${list.length} reports that count: ${list.join(', ')}`);
  for (const { folder, number, manifest } of reports)
    if (number !== null && numbers.get(number) === undefined)
      troubles.push(`${folder}: it says that it is report ${number}, which the log does not know`);
    else if (number !== null && numbers.get(number) !== manifest)
      troubles.push(`${folder}: it says that it is report ${number}, but is not the one that was issued`);
  return { path: out, lines: log.entries.length, head: log.head, troubles: [...new Set(troubles)] };
}

async function readFound(out: string, folder: string): Promise<Found> {
  const bytes = await readFile(join(out, folder, 'manifest.json'));
  // One that is damaged has none: the audit of the report itself says so.
  const number = manifestSchema.safeParse(jsonOf(bytes)).data?.issue ?? null;
  return { folder, manifest: sha256(bytes), number };
}
