/**
 * A report that a new one of other inputs takes the place of is kept: its readings may be found nowhere else any more.
 * One that followed from the same inputs can be made again, and is replaced.
 */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { readManifest, type Manifest } from '../pages/deliverables/manifest.js';

/** Below the output folder. No job may have this name (register.ts). */
export const EARLIER = 'earlier-reports';

/**
 * Where the report that stands in the output folder goes.
 *
 * @param inputs Of the new one.
 * @returns null: there is none, or it follows from the same inputs, or is a what-if.
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
  if (words(earlier.inputs) === words(inputs)) return null;
  const taken = new Set(await readdir(join(out, EARLIER)).catch(() => []));
  let n = 1;
  while (taken.has(`${job}-${n}`)) n++;
  return join(out, EARLIER, `${job}-${n}`);
}
