/**
 * The register of an archive: a line for every job that a batch was about, whatever became of it. Made from the
 * deliverables alone, without a clock, so that the same archive has the same register however it was made.
 */
import { z } from 'zod';
import { verdicts } from '../../results/results-schema.js';
import { characteristicPlace } from '../characteristic-place.js';

const text = z.string().nullable();

export const worstSchema = z.strictObject({
  ...characteristicPlace.shape,
  value: z.number().nullable(),
  u: z.number().nullable(),
  limit: z.number(),
  /** (limit − |value|) / limit: 1 at nought, 0 at the limit, below 0 beyond it. */
  margin: z.number().nullable(),
  /** That the true value meets the limit. */
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
  /** Where the job lies, relative to the folder that the batch searched. */
  folder: z.string(),
  title: text,
  customer: text,
  site: text,
  machine: z.strictObject({ name: text, serial: text }),
  surveyed: text,
  readingsTaken: z.strictObject({ from: text, to: text }),
  prepared: text,
  verdict: z.enum(verdicts),
  /** The judged phase's worst characteristic with a tolerance; null without any. */
  worst: worstSchema.nullable(),
  /** Over all phases. */
  suspects: z.int(),
  warnings: z.int(),
  /** What looked wrong and was confirmed by a person; absent: nothing was. */
  confirmed: z.int().optional(),
  /** What of the judged phase was read: "read 13 of 15 stations of B: not stations 14 and 15"; absent: the report does not say it. */
  read: z.array(z.string()).optional(),
  /** Of these, what the job declares and was not read; absent: nothing. */
  unread: z.array(z.string()).optional(),
  /** Absent in a draft. `standing` is what the log of issued reports says of it. */
  issue: z
    .strictObject({
      number: z.string(),
      on: z.string(),
      standing: z.enum(['issued', 'amended', 'withdrawn']),
    })
    .optional(),
  toleranceSet: text,
  /** The manifest's key: what the report follows from. */
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

/** Not for the input's sake: the disk, the browser, a defect; another run may get further. */
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
  /** Only of a what-if run: the set that judged every job in place of its own tolerances. */
  whatIf: z.strictObject({ name: text, source: text, sha256: z.string() }).optional(),
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
export type FailedRow = z.infer<typeof failedRow>;
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
  whatIf?: Register['whatIf'],
): Register {
  const count = (status: RegisterRow['status']) => rows.filter((r) => r.status === status).length;
  const ofVerdict = (verdict: string) =>
    rows.filter((r) => r.status === 'reported' && r.verdict === verdict).length;
  // Parsed for the order of the keys: whether a row was made here or read from a part, its text is the same.
  return registerSchema.parse({
    format: 'waysheet-register/1',
    software,
    shard,
    whatIf,
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
