/**
 * The register of an archive: a row for every job of a batch, whatever its outcome. It is made from the deliverables alone,
 * without a clock, so that the same archive has the same register however it was made.
 */
import * as z from 'zod';
import { languages } from '../../survey/job/languages.js';
import { characteristicPlace, verdicts } from '../../results/results-schema.js';

const text = z.string().nullable();

export const worstSchema = z.strictObject({
  ...characteristicPlace.shape,
  value: z.number().nullable(),
  u: z.number().nullable(),
  limit: z.number(),
  /** (limit − |value|) / limit: 1 at zero, 0 at the limit, negative beyond it. */
  margin: z.number().nullable(),
  /** Confidence that the true value meets the limit. */
  probability: z.number().nullable(),
  verdict: z.enum(verdicts),
});

/** Paths are relative to the folder of the register, with `/` between parts. */
const links = z.strictObject({
  html: z.string(),
  pdf: text,
  results: z.string(),
  stations: z.string(),
  manifest: z.string(),
});

const reportedRow = z.strictObject({
  status: z.literal('reported'),
  job: z.string(),
  /** The job's folder, relative to the folder that the batch searched. */
  folder: z.string(),
  title: text,
  customer: text,
  site: text,
  machine: z.strictObject({ name: text, serial: text }),
  surveyed: text,
  readingsTaken: z.strictObject({ from: text, to: text }),
  prepared: text,
  verdict: z.enum(verdicts),
  /** The worst characteristic with a tolerance, of the judged phase; null: there is none. */
  worst: worstSchema.nullable(),
  /** Suspect readings of all phases. */
  suspects: z.int(),
  warnings: z.int(),
  /** Number of findings that a person confirmed; left out: none. */
  confirmed: z.int().optional(),
  /** What was read in the judged phase: "read 13 of 15 stations of B: not stations 14 and 15"; left out: the report does not say it. */
  read: z.array(z.string()).optional(),
  /** What the job declares and was not read; left out: nothing. */
  unread: z.array(z.string()).optional(),
  /** Left out for a draft. `standing`: what the log of issued reports says about it. */
  issue: z
    .strictObject({
      number: z.string(),
      on: z.string(),
      standing: z.enum(['issued', 'amended', 'withdrawn']),
    })
    .optional(),
  toleranceSet: text,
  /** Key of the manifest: from what the report was made. */
  key: z.string(),
  links,
});

const problem = z.strictObject({
  code: z.string(),
  file: text,
  row: z.int().nullable(),
  column: text,
  message: z.string(),
});

const refusedRow = z.strictObject({
  status: z.literal('refused'),
  job: text,
  folder: z.string(),
  problems: z.array(problem),
  problemCount: z.int(),
});

/** The disk, the browser or the program failed, not the input; another run may succeed. */
const failedRow = z.strictObject({
  status: z.literal('failed'),
  job: text,
  folder: z.string(),
  message: z.string(),
});

/** The run was stopped before. */
const notDoneRow = z.strictObject({ status: z.literal('not-done'), job: text, folder: z.string() });

const row = z.discriminatedUnion('status', [reportedRow, refusedRow, failedRow, notDoneRow]);

export const registerSchema = z.strictObject({
  format: z.literal('waysheet-register/1'),
  software: z.strictObject({ name: z.literal('waysheet'), version: z.string(), method: z.string() }),
  /** 'i/n' of a part; null for a whole archive. */
  shard: text,
  /** Only in a what-if run: the set by which every job was judged instead of its own tolerances. */
  whatIf: z.strictObject({ name: text, source: text, sha256: z.string() }).optional(),
  /** Of its pages, as asked for the run; left out: English. */
  language: z.enum(languages).optional(),
  counts: z.strictObject({
    jobs: z.int(),
    reported: z.int(),
    refused: z.int(),
    failed: z.int(),
    notDone: z.int(),
    verdicts: z.record(z.enum(verdicts), z.int()),
  }),
  jobs: z.array(row),
});

export type Register = z.infer<typeof registerSchema>;
export type RegisterRow = z.infer<typeof row>;
export type ReportedRow = z.infer<typeof reportedRow>;
export type RefusedRow = z.infer<typeof refusedRow>;
export type WorstCharacteristic = z.infer<typeof worstSchema>;

/** Names in the output folder that no job may have. */
export const isRegisterName = (name: string): boolean =>
  /^(?:(?:register(?:-\d+-of-\d+)?|changes)\.(?:json|csv|html|pdf)|what-if\.json|earlier-reports|drafts|issued\.jsonl)$/i.test(
    name,
  );

export function buildRegister(
  rows: readonly RegisterRow[],
  software: Register['software'],
  shard: string | null,
  { whatIf, language }: Pick<Register, 'whatIf' | 'language'> = {},
): Register {
  const count = (status: RegisterRow['status']) => rows.filter((r) => r.status === status).length;
  const ofVerdict = (verdict: string) =>
    rows.filter((r) => r.status === 'reported' && r.verdict === verdict).length;
  // Parsed for the order of the keys: the text is then the same for a row that was made here and one that was read.
  return registerSchema.parse({
    format: 'waysheet-register/1',
    software,
    shard,
    whatIf,
    language,
    counts: {
      jobs: rows.length,
      reported: count('reported'),
      refused: count('refused'),
      failed: count('failed'),
      notDone: count('not-done'),
      verdicts: Object.fromEntries(verdicts.map((v) => [v, ofVerdict(v)])) as Register['counts']['verdicts'],
    },
    jobs: [...rows].sort(byJobThenFolder),
  });
}

/** By code units: the same on every machine, whatever its language. Jobs without an id come last. */
function byJobThenFolder(a: RegisterRow, b: RegisterRow): number {
  if (a.job !== b.job) {
    if (a.job === null) return 1;
    if (b.job === null) return -1;
    return a.job < b.job ? -1 : 1;
  }
  return a.folder < b.folder ? -1 : a.folder > b.folder ? 1 : 0;
}
