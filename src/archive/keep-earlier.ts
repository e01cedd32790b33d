/**
 * If a new report was made from other inputs, the earlier report is kept: its readings may exist nowhere else.
 * A report from the same inputs can be made again, and is replaced.
 */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { readManifest, type Manifest } from '../pages/deliverables/manifest.js';

/** Below the output folder. No job may have this name (register.ts). */
export const EARLIER = 'earlier-reports';

/**
 * Where the earlier report of the output folder is kept.
 *
 * @param inputs Inputs of the new report.
 * @returns null: there is none, or it was made from the same inputs, or it is a what-if report.
 */
export async function placeForEarlier(
  out: string,
  job: string,
  inputs: readonly Pick<Manifest['inputs'][number], 'path' | 'sha256'>[],
): Promise<string | null> {
  const earlier = await readManifest(out, job);
  if (earlier === null || earlier.whatIf !== undefined) return null;
  const words = (list: typeof inputs) =>
    list
      .map(({ path, sha256 }) => `${path} ${sha256}`)
      .sort()
      .join('\n');
  return words(earlier.inputs) === words(inputs) ? null : freePlace(out, job);
}

/** Where one more report of a job can be kept. */
export async function freePlace(out: string, job: string): Promise<string> {
  const taken = new Set(await readdir(join(out, EARLIER)).catch(() => []));
  let n = 1;
  while (taken.has(`${job}-${n}`)) n++;
  return join(out, EARLIER, `${job}-${n}`);
}
