/**
 * Whether a report is still valid: it would be made from the same inputs, and every file of it is as it was made.
 * Every byte is read once, and only code that reads and hashes is loaded: an archive in which nothing changed takes little
 * more time than reading it.
 */
import { createHash } from 'node:crypto';
import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs';
import { join } from 'node:path';
import { MAX_READINGS_BYTES, readInputFile } from '../../survey/job/input-file.js';
import type { Languages } from '../../survey/job/languages.js';
import { isBrandPath, type Brand } from '../../survey/brand/read-brand.js';
import type { GivenTolerances } from '../../survey/job/given-tolerances.js';
import { toleranceRoot } from '../../survey/job/job-paths.js';
import type { Results } from '../../results/results-schema.js';
import { originOf } from '../../pages/deliverables/content-key.js';
import type { Manifest } from '../../pages/deliverables/manifest.js';

/** The files from which a report was made and those that it has, as it states them. Plain data: it is sent to threads. */
export interface Claim {
  /** The job folder. */
  readonly folder: string;
  /** The report's folder. */
  readonly issued: string;
  /** `root`: see readInputFile. */
  readonly inputs: readonly { readonly path: string; readonly root: string; readonly sha256: string }[];
  readonly outputs: Manifest['outputs'];
}

/** How the reports of a run are made. */
export interface HowMade {
  readonly pdf: boolean;
  /** The tolerance set of a what-if run. */
  readonly given: GivenTolerances | null;
  /** Of all reports of the run; absent: each in that of its job. */
  readonly language?: Languages;
  /** The look of the reports; null: that of waysheet. */
  readonly brand: Brand | null;
}

/**
 * job.json is one of the inputs and names all others: if it is the same, so is the list.
 *
 * @returns null: the report must be made, whatever the files are.
 */
export function claimOf(
  folder: string,
  issued: string,
  { key, inputs, outputs, whatIf, issue, language: made }: Manifest,
  { pdf, given, brand, language }: HowMade,
): Claim | null {
  if (key === undefined || inputs.length === 0) return null;
  if (whatIf?.tolerances !== given?.input.path) return null;
  if (!outputs.some(({ path }) => path === RESULTS)) return null;
  // Quick, and often enough: another version or other templates.
  // An issued report stays as it is: with its PDF, even if the run prints none, and in its language.
  const asked = issue === undefined ? language : made;
  if (originOf(inputs, pdf || issue !== undefined, asked).key !== key) return null;
  const looks = (files: readonly { readonly path: string; readonly sha256: string }[]) =>
    files.map(({ path, sha256 }) => `${path} ${sha256}`).join('\n');
  if (looks(inputs.filter(({ path }) => isBrandPath(path))) !== looks(brand?.files ?? [])) return null;
  const read: Claim['inputs'][number][] = [];
  for (const { path, sha256 } of inputs) {
    if (path === given?.input.path) {
      if (sha256 !== given.input.sha256) return null;
      continue;
    }
    if (isBrandPath(path)) continue;
    const root = toleranceRoot(path);
    if (root === null) return null;
    read.push({ path, root, sha256 });
  }
  return { folder, issued, inputs: read, outputs };
}

const RESULTS = 'results.json';

/** true: every file is as claimed. */
export async function isAsClaimed({ folder, issued, inputs, outputs }: Claim): Promise<boolean> {
  for (const input of inputs) if (!(await isSameInput(folder, input))) return false;
  return outputs.every((output) => hashFile(join(issued, output.path), output.bytes) === output.sha256);
}

/** The same, with the content of results.json. @returns null: the report must be made. */
export async function unchangedResults(claim: Claim): Promise<Results | null> {
  const results = claim.outputs.find(({ path }) => path === RESULTS)!;
  const text = Buffer.alloc(results.bytes);
  if (hashFile(join(claim.issued, RESULTS), results.bytes, text) !== results.sha256) return null;
  const others = claim.outputs.filter((output) => output !== results);
  return (await isAsClaimed({ ...claim, outputs: others })) ? (JSON.parse(text.toString()) as Results) : null;
}

/** Read as the loader reads it: a file that it would refuse now does not count as unchanged. */
async function isSameInput(
  folder: string,
  { path, root, sha256 }: Claim['inputs'][number],
): Promise<boolean> {
  const file = await readInputFile(folder, path, root, MAX_READINGS_BYTES, { file: path });
  return file.ok && file.value.sha256 === sha256;
}

/** One buffer for all files: a new one for each would have to be cleared and collected. */
const piece = Buffer.allocUnsafe(2 ** 20);

/**
 * SHA-256 of a file of a stated size. Synchronous, because the caller has nothing else to do.
 *
 * @param into Receives the bytes too.
 * @returns null: it does not exist, is no file, or has another size.
 */
function hashFile(path: string, bytes: number, into: Buffer | null = null): string | null {
  let file: number | null = null;
  try {
    // Opening a pipe would wait.
    file = openSync(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    const stat = fstatSync(file);
    if (!stat.isFile() || stat.size !== bytes) return null;
    const hash = createHash('sha256');
    let at = 0;
    for (let n = readSync(file, piece); n > 0; n = readSync(file, piece)) {
      if (at + n > bytes) return null;
      const read = piece.subarray(0, n);
      hash.update(read);
      if (into !== null) read.copy(into, at);
      at += n;
    }
    return at === bytes ? hash.digest('hex') : null;
  } catch {
    return null;
  } finally {
    if (file !== null) closeSync(file);
  }
}
