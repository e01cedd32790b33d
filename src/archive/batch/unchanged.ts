/**
 * Whether an issued report still stands: it would be made from the same, and every file of it is as it was issued.
 * Every byte is read once, and nothing is loaded for it but what reads and hashes: an archive of which nothing changed
 * costs little more than its reading.
 */
import { createHash } from 'node:crypto';
import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs';
import { join } from 'node:path';
import { MAX_READINGS_BYTES, readInputFile } from '../../survey/job/input-file.js';
import type { Language } from '../../survey/job/languages.js';
import { isBrandPath, type Brand } from '../../survey/brand/read-brand.js';
import type { GivenTolerances } from '../../survey/job/given-tolerances.js';
import { toleranceRoot } from '../../survey/job/job-paths.js';
import type { Results } from '../../results/results-schema.js';
import { originOf } from '../../pages/deliverables/content-key.js';
import type { Manifest } from '../../pages/deliverables/manifest.js';

/** What an issued report says of the files that it was made from and that it holds. Plain data: it crosses to threads. */
export interface Claim {
  /** The job folder. */
  readonly folder: string;
  /** Where the report lies. */
  readonly issued: string;
  /** `root`: see readInputFile. */
  readonly inputs: readonly { readonly path: string; readonly root: string; readonly sha256: string }[];
  readonly outputs: Manifest['outputs'];
}

/**
 * job.json is among the inputs, and decides which other files are: when it is the same, so is the list.
 *
 * @param given As of the run that asks; so is `brand`.
 * @returns null when the report has to be made, whatever the files are.
 */
export function claimOf(
  folder: string,
  issued: string,
  { key, inputs, outputs, whatIf, issue, language: made }: Manifest,
  pdf: boolean,
  given: GivenTolerances | null,
  brand: Brand | null,
  language: Language | undefined,
): Claim | null {
  if (key === undefined || inputs.length === 0) return null;
  if (whatIf?.tolerances !== given?.input.path) return null;
  if (!outputs.some(({ path }) => path === RESULTS)) return null;
  // Cheap and often enough: another version or other templates.
  // An issued report stays as it is: with its PDF, though the run prints none, and in its language.
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

/** Whether every file is as claimed. */
export async function stands({ folder, issued, inputs, outputs }: Claim): Promise<boolean> {
  for (const input of inputs) if (!(await isSameInput(folder, input))) return false;
  return outputs.every((output) => hashFile(join(issued, output.path), output.bytes) === output.sha256);
}

/** The same, with what results.json says. @returns null when the report has to be made. */
export async function unchangedResults(claim: Claim): Promise<Results | null> {
  const results = claim.outputs.find(({ path }) => path === RESULTS)!;
  const text = Buffer.alloc(results.bytes);
  if (hashFile(join(claim.issued, RESULTS), results.bytes, text) !== results.sha256) return null;
  const others = claim.outputs.filter((output) => output !== results);
  return (await stands({ ...claim, outputs: others })) ? (JSON.parse(text.toString()) as Results) : null;
}

/** Read as the loader reads it, so that what it would refuse now is not taken for unchanged. */
async function isSameInput(
  folder: string,
  { path, root, sha256 }: Claim['inputs'][number],
): Promise<boolean> {
  const file = await readInputFile(folder, path, root, MAX_READINGS_BYTES, { file: path });
  return file.ok && file.value.sha256 === sha256;
}

/** One for all files: a fresh one for each would have to be cleared and collected. */
const piece = Buffer.allocUnsafe(2 ** 20);

/**
 * SHA-256 of a file that should have so many bytes, without a promise for every step: whoever calls has nothing else to do.
 *
 * @param into Takes the bytes too.
 * @returns null: it is not there, no file, or of another size.
 */
function hashFile(path: string, bytes: number, into: Buffer | null = null): string | null {
  let file: number | null = null;
  try {
    // A pipe would keep the open waiting.
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
