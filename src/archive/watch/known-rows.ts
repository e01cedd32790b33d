/** The rows with which a register begins: its last state, corrected by what is in the folders. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { resultsSchema } from '../../results/results-schema.js';
import { findJobs } from '../batch/find-jobs.js';
import { readJobId } from '../batch/plan.js';
import { inParallel } from '../in-parallel.js';
import type { Manifest } from '../../pages/deliverables/manifest.js';
import { DRAFTS, standingReports, type StandingReport } from '../report-places.js';
import { readDocument } from '../../base/input/read-document.js';
import { aboutReport, registerRow } from '../register/register-row.js';
import { registerSchema, type RegisterRow, type ReportedRow } from '../register/register.js';
import { DONE, REFUSED } from './drops.js';

/** Rows of existing reports, each as its report is, and of refused drops that are still in the inbox. */
export async function knownRows(inbox: string, out: string): Promise<RegisterRow[]> {
  const written = (await readDocument(join(out, 'register.json'), registerSchema))?.jobs ?? [];
  const reported = new Map(written.flatMap((row) => (row.status === 'reported' ? [[row.job, row]] : [])));
  const rows: RegisterRow[] = [];
  let folders: Promise<Map<string, string>> | null = null;
  for (const { place, manifest } of await reportsIn(out)) {
    const row = reported.get(manifest.job);
    if (row !== undefined && row.key === manifest.key && row.issue?.number === manifest.issue) rows.push(row);
    else {
      folders ??= foldersById(inbox);
      const folder = row?.folder ?? (await folders).get(manifest.job) ?? `unknown: ${manifest.job}`;
      const made = await rowOfReport(out, place, manifest, folder);
      if (made !== null) rows.push(made);
    }
  }
  const isRefusedStill = await stillRefused(inbox);
  return [...rows, ...written.filter((row) => row.status === 'refused' && isRefusedStill(row))];
}

/** Tells whether the drop of a refused job is still where it was put; a person may have removed it. */
export async function stillRefused(inbox: string): Promise<(row: RegisterRow) => boolean> {
  const names = new Set(await readdir(join(inbox, REFUSED)).catch(() => [] as string[]));
  return ({ folder }) => {
    const [where, name] = folder.split('/');
    return where !== REFUSED || names.has(name ?? '');
  };
}

/** The newest report of each job: a draft next to an issued report comes first. */
async function reportsIn(out: string): Promise<StandingReport[]> {
  const names = await Promise.all(
    [out, join(out, DRAFTS)].map((folder) => readdir(folder).catch(() => [] as string[])),
  );
  const jobs = [...new Set(names.flat())].filter((name) => !name.startsWith('.')).sort();
  const newest = await inParallel(jobs, async (job) => (await standingReports(out, job))[0]);
  return newest.filter((report) => report !== undefined);
}

async function rowOfReport(
  out: string,
  place: string,
  manifest: Manifest,
  folder: string,
): Promise<ReportedRow | null> {
  const results = await readDocument(join(out, place, 'results.json'), resultsSchema);
  if (results === null) return null;
  return registerRow(results, aboutReport(folder, manifest, place));
}

/** Job folders in `done`, by the id of their job; zips are not searched. */
async function foldersById(inbox: string): Promise<Map<string, string>> {
  const byId = new Map<string, string>();
  const { folders } = await findJobs(join(inbox, DONE)).catch(() => ({ folders: [] }));
  for (const folder of folders) {
    const id = await readJobId(join(inbox, DONE, folder));
    if (id !== null) byId.set(id, `${DONE}/${folder}`);
  }
  return byId;
}
