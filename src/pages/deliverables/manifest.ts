/** manifest.json: what a folder of deliverables was made from, by what, and what it holds. No clock, no paths. */
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { z } from 'zod';
import type { JobDigests } from '../../survey/job/job-digests.js';
import { verdicts, type Results } from '../../results/results-schema.js';
import type { Origin } from './content-key.js';
import { readDocument } from '../../base/input/read-document.js';
import type { Deliverables } from './deliverables.js';

const fileEntry = z.strictObject({ path: z.string(), bytes: z.int(), sha256: z.string() });

export const manifestSchema = z.strictObject({
  format: z.literal('waysheet-manifest/1'),
  job: z.string(),
  /** Number of the issued report; absent in a draft. */
  issue: z.string().optional(),
  verdict: z.enum(verdicts),
  software: z.strictObject({ name: z.literal('waysheet'), version: z.string(), method: z.string() }),
  /** What printed the PDF; null when none was asked for. */
  browser: z.string().nullable(),
  /** Everything that could have made these deliverables come out otherwise, in one SHA-256 (content-key.ts). */
  key: z.string().optional(),
  /** SHA-256 over the report's templates and fonts. */
  templates: z.string().optional(),
  /** SHA-256 of parts of job.json and of the tolerances in force (job-digests.ts): they tell which of them changed. */
  digests: z.strictObject({ job: z.string(), tolerances: z.string() }).optional(),
  /** The input that judged the job in place of its own tolerances; absent in an issued report. */
  whatIf: z.strictObject({ tolerances: z.string() }).optional(),
  /** Files of the job folder; `attachedAs` names the copy inside report.pdf. */
  inputs: z.array(fileEntry.extend({ attachedAs: z.string().nullable() })),
  outputs: z.array(fileEntry),
});
export type Manifest = z.infer<typeof manifestSchema>;

/** As 64 hexadecimal digits. */
export const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** @param attachedAs Name of the copy inside the PDF, by path of the input. @param browser Which one printed; null: none. */
export function buildManifest(
  results: Results,
  files: Deliverables,
  browser: string | null,
  attachedAs: ReadonlyMap<string, string>,
  origin?: Origin,
  digests: JobDigests | null = null,
): Manifest {
  return {
    format: 'waysheet-manifest/1',
    job: results.job,
    ...(results.issue !== undefined && { issue: results.issue.number }),
    verdict: results.verdict,
    software: results.software,
    browser,
    ...origin,
    ...(digests !== null && { digests }),
    ...(results.whatIf !== undefined && { whatIf: { tolerances: results.whatIf.tolerances } }),
    inputs: results.inputs.map(({ path, bytes, sha256: hash }) => ({
      path,
      bytes,
      sha256: hash,
      attachedAs: attachedAs.get(path) ?? null,
    })),
    outputs: [...files]
      .map(([path, bytes]) => ({ path, bytes: bytes.length, sha256: sha256(bytes) }))
      .sort((a, b) => (a.path < b.path ? -1 : 1)),
  };
}

/** Of a job's report in an output folder. @returns null: there is none, or none that this version reads. */
export async function readManifest(out: string, job: string): Promise<Manifest | null> {
  // The id is not checked yet, and must not lead anywhere else.
  if (/[/\\]|^\./.test(job)) return null;
  const manifest = await readDocument(join(out, job, 'manifest.json'), manifestSchema);
  return manifest?.job === job ? manifest : null;
}
