/** The inputs from which an issued report was made: from its PDF, or from a named job folder. */
import { realpathSync, rmSync } from 'node:fs';
import { mkdir, mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Outcome } from '../../base/diagnostics/diagnostic.js';
import { loadJob, withBrand, type LoadedJob } from '../../solution/intake/load-job.js';
import { brandFromInputs, isBrandPath } from '../../survey/brand/read-brand.js';
import { parseGivenTolerances } from '../../survey/job/given-tolerances.js';
import type { Results } from '../../results/results-schema.js';
import type { IssuedReport } from '../issued-report.js';
import { sha256 } from '../../pages/deliverables/manifest.js';
import { readRegularFile } from '../regular-file.js';

/** Greatest size of all inputs together, because they are written to the disk: a report can name one file a million times. */
const MOST_BYTES = 256 * 2 ** 20;

export interface InputPlaces {
  /** The job folder, whose files are used before those in the PDF; null: only the PDF. */
  readonly job: string | null;
  /** The tolerance set of a what-if report. */
  readonly tolerances: string | null;
}

export interface Inputs {
  /** By path in the job folder. */
  readonly found: ReadonlyMap<string, Uint8Array>;
  /** Missing inputs, in words. */
  readonly absent: readonly string[];
  /** Inputs that are not the reported files, in words. */
  readonly others: readonly string[];
  /** Taken from the report although a job folder is named. */
  readonly inside: readonly string[];
}

/** The inputs that a report names: from its PDF; if a job folder is named, only from that folder, except for the brand. */
export function gatherInputs(
  { inputs, whatIf }: Pick<Results, 'inputs' | 'whatIf'>,
  { pdf }: Pick<IssuedReport, 'pdf'>,
  where: InputPlaces,
): Inputs {
  const carried = new Map(pdf?.attachments.map(({ bytes }) => [sha256(bytes), bytes]));
  const found = new Map<string, Uint8Array>();
  const absent: string[] = [];
  const others: string[] = [];
  const inside: string[] = [];
  for (const { path, sha256: hash } of inputs) {
    const isGiven = path === whatIf?.tolerances;
    const own = carried.get(hash);
    if (own !== undefined) found.set(path, own);
    const place = isGiven ? where.tolerances : where.job && join(where.job, path);
    // The brand is taken from the report: it does not have to be next to the job.
    if (place !== null && own !== undefined && isBrandPath(path)) inside.push(path);
    // If a folder is named, its files are audited, not those of the PDF.
    else if (place !== null)
      try {
        const given = readRegularFile(realpathSync(place));
        if (sha256(given) === hash) found.set(path, given);
        else others.push(`input ${path} is not the file that was reported: its SHA-256 differs`);
      } catch (error) {
        others.push(`input ${path} cannot be read at ${place}: ${(error as Error).message}`);
      }
    if (found.has(path)) continue;
    const how = isGiven ? 'tolerance set with --tolerances' : 'job folder with --job';
    const brand = isBrandPath(path) ? ', with the folder brand next to it' : '';
    const hint = place === null ? `: the PDF does not carry it; name the ${how}${brand}` : '';
    absent.push(`input ${path} is missing${hint}`);
  }
  return { found, absent, others, inside };
}

/**
 * Reads the inputs again in their old folder structure, which is deep enough for a tolerance set above the job folder.
 *
 * @param whatIf Path of the tolerance set that was used instead of the job's own. @param use Is called while the files exist.
 * @returns null: they are refused now.
 */
export async function withInputs<T>(
  inputs: ReadonlyMap<string, Uint8Array>,
  whatIf: string | null,
  use: (loaded: Outcome<LoadedJob> & { readonly ok: true }, folder: string) => Promise<T>,
): Promise<T | null> {
  const set = whatIf === null ? null : inputs.get(whatIf);
  const given = set === null || whatIf === null ? null : set && parseGivenTolerances(set, whatIf);
  if (given === undefined || given?.ok === false) return null;
  const bytes = [...inputs.values()].reduce((sum, { length }) => sum + length, 0);
  if (bytes > MOST_BYTES)
    throw new Error(`its inputs have ${bytes} bytes; at most ${MOST_BYTES} are written`);
  const scratch = await mkdtemp(join(tmpdir(), 'waysheet-audit-'));
  try {
    const above = Math.max(...[...inputs.keys()].map((path) => path.split('../').length - 1), 0);
    const folder = join(scratch, ...new Array<string>(above + 1).fill('a'));
    const written = [...inputs].map(async ([path, bytes]) => {
      const target = join(folder, path);
      if (!target.startsWith(scratch)) throw new Error(`input path ${path} leads out of the archive`);
      await mkdir(dirname(target), { recursive: true });
      await writeFile(target, bytes);
    });
    await Promise.all(written);
    const loaded = await loadJob(folder, given?.value ?? null);
    if (!loaded.ok) return null;
    const brand = await brandFromInputs(inputs);
    return await use({ ...loaded, value: withBrand(loaded.value, brand) }, folder);
  } finally {
    // Asynchronous removal would take as long as the writing.
    rmSync(scratch, { recursive: true, force: true });
  }
}
