/** manifest.json: what a folder of deliverables was made from, by what, and what it holds. No clock, no paths. */
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import * as z from 'zod';
import type { JobDigests } from '../../survey/job/job-digests.js';
import { languagesSchema, type Languages } from '../../survey/job/languages.js';
import { verdicts, type Results } from '../../results/results-schema.js';
import type { Origin } from './content-key.js';
import { readDocument } from '../../base/input/read-document.js';
import type { Deliverables } from './deliverables.js';

const fileEntry = z.strictObject({ path: z.string(), bytes: z.int(), sha256: z.string() });

export const manifestSchema = z
  .strictObject({
    format: z.literal('waysheet-manifest/1').describe('The format of this file.'),
    job: z.string().describe('The id of the job.'),
    issue: z.string().optional().describe('Number of the issued report; absent in a draft.'),
    verdict: z.enum(verdicts).describe('As in results.json.'),
    software: z
      .strictObject({ name: z.literal('waysheet'), version: z.string(), method: z.string() })
      .describe('The program that made it.'),
    browser: z.string().nullable().describe('What printed the PDF; null: no PDF was asked for.'),
    key: z
      .string()
      .optional()
      .describe('One SHA-256 over everything that can change these files (content-key.ts).'),
    templates: z.string().optional().describe('SHA-256 over the templates and fonts of the report.'),
    digests: z
      .strictObject({ job: z.string(), tolerances: z.string() })
      .optional()
      .describe(
        'SHA-256 of parts of the job file and of the tolerances in force, to tell later which of them changed.',
      ),
    language: languagesSchema
      .optional()
      .describe('Language that was asked for the run; absent: that of the job.'),
    whatIf: z
      .strictObject({ tolerances: z.string() })
      .optional()
      .describe('The input that judged the job instead of its own tolerances; absent in an issued report.'),
    inputs: z
      .array(
        fileEntry.extend({
          attachedAs: z
            .string()
            .nullable()
            .describe('Name of the copy inside report.pdf; null: it has no copy.'),
        }),
      )
      .describe('Files of the job folder, with their SHA-256.'),
    outputs: z.array(fileEntry).describe('Every other file of the folder, with its SHA-256.'),
  })
  .describe('What a folder of deliverables was made from, the program that made it, and its files.');
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
  language?: Languages,
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
    ...(language !== undefined && { language }),
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
