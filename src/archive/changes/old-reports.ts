/** Finds, reads and verifies the reports that a run is compared with. Nothing is written. */
import { readdir, realpath } from 'node:fs/promises';
import { dirname, join, resolve, sep } from 'node:path';
import { resultsSchema, type Results, type Verdict } from '../../results/results-schema.js';
import { changedFiles, readDeliverables } from '../issued-report.js';
import type { Manifest } from '../../pages/deliverables/manifest.js';
import { readDocument } from '../../base/input/read-document.js';
import { registerSchema } from '../register/register.js';
import { CannotCompare } from './cannot-compare.js';

export interface OldReport {
  readonly verdict: Verdict | null;
  readonly manifest: Manifest | null;
  /** null: it cannot be compared; `damage` says why. */
  readonly results: Results | null;
  /** Files that were changed since they were made, in words. */
  readonly damage: readonly string[];
}

/**
 * The folder of each job's report: the folder with its name, or, for a merged register, the one to which its link leads.
 *
 * @throws {CannotCompare} there is none.
 */
export async function findOldReports(folder: string): Promise<Map<string, string>> {
  const entries = await readdir(folder, { withFileTypes: true }).catch((cause: Error) => {
    throw new CannotCompare(`${folder} cannot be read: ${cause.message}`, { cause });
  });
  const found = new Map<string, string>();
  for (const entry of entries)
    if (entry.isDirectory() && !entry.name.startsWith('.'))
      if ((await readdir(join(folder, entry.name))).includes('manifest.json'))
        found.set(entry.name, join(folder, entry.name));
  for (const [job, path] of await linkedReports(folder)) if (!found.has(job)) found.set(job, path);
  if (found.size === 0)
    throw new CannotCompare(`${folder} holds no reports to compare with: name an output folder of waysheet`);
  return found;
}

async function linkedReports(folder: string): Promise<[string, string][]> {
  // Without a register that can be read, only the folders are searched.
  const register = await readDocument(join(folder, 'register.json'), registerSchema);
  return (register?.jobs ?? []).flatMap((row) =>
    row.status === 'reported' ? [[row.job, dirname(join(folder, row.links.manifest))]] : [],
  );
}

/** The earlier reports are only read: the run must not write there, and must not search there for jobs. */
export async function assertApart(out: string, against: string): Promise<void> {
  const [one, other] = await Promise.all([out, against].map(realPath));
  const isWithin = (inner: string, outer: string) => `${inner}${sep}`.startsWith(`${outer}${sep}`);
  if (isWithin(one!, other!) || isWithin(other!, one!))
    throw new CannotCompare(
      `${out} is${one === other ? '' : ' not apart from'} the folder that is compared with (${against}), which is only read: choose another --out.`,
    );
}

/** The real path of a folder that may not exist yet. */
async function realPath(path: string): Promise<string> {
  const full = resolve(path);
  return realpath(full).catch(async () =>
    dirname(full) === full ? full : join(await realPath(dirname(full)), full.slice(dirname(full).length)),
  );
}

/** @param job The job of which it must be the report. Never throws. */
export async function readOldReport(path: string, job: string): Promise<OldReport> {
  const nothing = { verdict: null, manifest: null, results: null };
  try {
    const { manifest, files, strange } = readDeliverables(path);
    if (manifest === null) return { ...nothing, damage: strange };
    if (manifest.job !== job) return { ...nothing, damage: [`manifest.json is of job ${manifest.job}`] };
    const damage = changedFiles(manifest, files);
    // The verdict is not taken from the manifest, which anybody can change, but from results whose hash was checked.
    if (damage.some((line) => line.startsWith('results.json ')))
      return { verdict: null, manifest, results: null, damage };
    const parsed = resultsSchema.safeParse(JSON.parse(new TextDecoder().decode(files.get('results.json'))));
    return parsed.success
      ? {
          verdict: parsed.data.verdict,
          manifest,
          results: parsed.data,
          damage: [...damage, ...otherVerdict(manifest, parsed.data)],
        }
      : { verdict: null, manifest, results: null, damage: [...damage, 'results.json is of another format'] };
  } catch (error) {
    return { ...nothing, damage: [(error as Error).message] };
  }
}

const otherVerdict = ({ verdict }: Manifest, results: Results): string[] =>
  verdict === results.verdict
    ? []
    : [`manifest.json says ${verdict}, where results.json says ${results.verdict}`];
