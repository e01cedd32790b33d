/** Whether an issued report still stands: it would be made from the same, and every file of it is as it was issued. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { MAX_READINGS_BYTES, readInputFile } from '../../job/input-file.js';
import type { GivenTolerances } from '../../job/given-tolerances.js';
import { toleranceRoot } from '../../job/job-paths.js';
import type { Results } from '../../results/results-schema.js';
import { originOf } from '../content-key.js';
import { sha256, type Manifest } from '../manifest.js';

/**
 * job.json is among the inputs, and decides which other files are: when it is the same, so is the list.
 *
 * @param folder The job folder. @param issued Where the report is. @param given As of the run that asks.
 * @returns null when the report has to be made.
 */
export async function unchangedResults(
  folder: string,
  issued: string,
  manifest: Manifest,
  pdf: boolean,
  given: GivenTolerances | null,
): Promise<Results | null> {
  const { key, inputs, outputs, whatIf } = manifest;
  if (key === undefined || inputs.length === 0) return null;
  if (whatIf?.tolerances !== given?.input.path) return null;
  // Cheap and often enough: another version or other templates.
  if (originOf(inputs, pdf).key !== key) return null;
  const sameInputs = await Promise.all(inputs.map((input) => isSameInput(folder, input, given)));
  if (sameInputs.includes(false)) return null;
  let results: Results | null = null;
  const sameOutputs = await Promise.all(
    outputs.map(async ({ path, bytes, sha256: hash }) => {
      const found = await readFile(join(issued, path)).catch(() => null);
      if (found === null || found.length !== bytes || sha256(found) !== hash) return false;
      if (path === 'results.json') results = JSON.parse(found.toString()) as Results;
      return true;
    }),
  );
  return sameOutputs.includes(false) ? null : results;
}

/** Read as the loader reads it, so that what it would refuse now is not taken for unchanged. */
async function isSameInput(
  folder: string,
  { path, sha256: hash }: Manifest['inputs'][number],
  given: GivenTolerances | null,
): Promise<boolean> {
  if (path === given?.input.path) return hash === given.input.sha256;
  const root = toleranceRoot(path);
  if (root === null) return false;
  const file = await readInputFile(folder, path, root, MAX_READINGS_BYTES, { file: path });
  return file.ok && file.value.sha256 === hash;
}
