/**
 * changes.json: what an archive's reports say now against what they said before, and why. Made from the two sets of
 * deliverables alone, without a clock. Units as in results.json: deviations µm, slopes µm/m, positions mm.
 */
import { z } from 'zod';
import { phaseName } from '../../survey/job/job-schema.js';
import { verdicts } from '../../results/results-schema.js';
import { characteristicPlace } from '../characteristic-place.js';
import { worstSchema } from '../register/register.js';

/** What two reports of one job can differ in, in the order in which they are told. */
export const causes = [
  /** A readings file. */
  'readings',
  /** job.json in anything but tolerances and decision rule. */
  'job-file',
  /** The tolerances in force, wherever they stand. */
  'tolerances',
  /** Decision rule or coverage. */
  'decision',
  /** METHOD of version.ts, or the seed of the simulation. */
  'method',
  'software',
  'template',
  /** Whether and with what a PDF was printed. */
  'printing',
  /** Nothing that is recorded differs. */
  'unknown',
] as const;

const causeList = z.array(z.enum(causes));
const verdict = z.enum(verdicts);

const judged = z.strictObject({
  value: z.number().nullable(),
  u: z.number().nullable(),
  interval: z.tuple([z.number(), z.number()]).nullable(),
  limit: z.number().nullable(),
  /** Limits that differ to two sides; null: that side is open. */
  zone: z.strictObject({ from: z.number().nullable(), to: z.number().nullable() }).optional(),
  probability: z.number().nullable(),
  verdict,
});

export const movedFields = ['verdict', 'value', 'u', 'interval', 'limit', 'probability'] as const;

const characteristicChange = z.strictObject({
  ...characteristicPlace.shape,
  signed: z.boolean(),
  /** null: the report has no such characteristic. */
  before: judged.nullable(),
  after: judged.nullable(),
  /** What differs by more than rounding; empty where one side has none. */
  moved: z.array(z.enum(movedFields)),
  causes: causeList,
  /** Of the verdict alone: what would have flipped it by itself; empty where it is the same. */
  verdictCauses: causeList,
});

const figure = z.strictObject({ value: z.number().nullable(), u: z.number().nullable() });

const figureChange = z.strictObject({
  phase: phaseName,
  of: z.enum(['station', 'setup']),
  /** 'A:7' or the set-up's id. */
  name: z.string(),
  quantity: z.string(),
  unit: z.enum(['um', 'um/m']),
  before: figure.nullable(),
  after: figure.nullable(),
  /** Difference in last printed digits of the earlier report; null where one side has no value. */
  digits: z.number().nullable(),
});

const jobChange = z.strictObject({
  /**
   * changed: a verdict or a figure differs. redrawn: neither, but what it was made from does. same: nothing.
   * appeared, vanished: only one side has a report. not-reported: this run made none. not-compared: the earlier
   * report cannot be read or is damaged where it counts.
   */
  status: z.enum(['changed', 'redrawn', 'same', 'appeared', 'vanished', 'not-reported', 'not-compared']),
  job: z.string(),
  verdict: z.strictObject({ before: verdict.nullable(), after: verdict.nullable() }),
  causes: causeList,
  /** Of the later report, else of the earlier one. */
  about: z
    .strictObject({
      customer: z.string().nullable(),
      machine: z.strictObject({ name: z.string().nullable(), serial: z.string().nullable() }),
      datum: z.string().nullable(),
      /** The phase that the job's verdict is of. */
      phase: phaseName,
      worst: worstSchema.nullable(),
    })
    .nullable(),
  /** What a person had confirmed that looked wrong. */
  confirmed: z.strictObject({ before: z.int(), after: z.int() }),
  /** Of the job's verdict, where it flipped. */
  verdictCauses: causeList,
  /** Why it was not reported or not compared. */
  note: z.string().nullable(),
  /** Files of the earlier report that are not as they were issued. */
  damage: z.array(z.string()),
  /** Units of the later report, with the coverage of expanded uncertainties; null without one. */
  style: z
    .strictObject({
      length: z.string(),
      deviation: z.string(),
      slope: z.string(),
      paper: z.enum(['A4', 'Letter']),
      coverage: z.number(),
    })
    .nullable(),
  characteristics: z.array(characteristicChange),
  /** Figures of stations and set-ups; of very many the most moved only, `count` says how many there are. */
  figures: z.strictObject({ count: z.int(), causes: causeList, listed: z.array(figureChange) }),
  /** What else differs in results.json, by its part: how many places, and the first of them. */
  others: z.array(
    z.strictObject({
      part: z.string(),
      count: z.int(),
      first: z.strictObject({ place: z.string(), before: z.string(), after: z.string() }),
    }),
  ),
});

export const changesSchema = z.strictObject({
  format: z.literal('waysheet-changes/1'),
  software: z.strictObject({ name: z.literal('waysheet'), version: z.string(), method: z.string() }),
  /** Name of the folder that was compared with. */
  against: z.string(),
  /** Name of the tolerance set of a what-if run; absent in an ordinary one. */
  whatIf: z.string().nullable().optional(),
  /** false: the run was stopped before all jobs were reached. */
  isComplete: z.boolean(),
  /** By what a figure counts as moved, in words. */
  rule: z.string(),
  counts: z.strictObject({
    compared: z.int(),
    /** Of the compared: jobs whose verdict flipped. */
    flipped: z.int(),
    changed: z.int(),
    redrawn: z.int(),
    same: z.int(),
    appeared: z.int(),
    vanished: z.int(),
    notReported: z.int(),
    notCompared: z.int(),
    damaged: z.int(),
  }),
  byCause: z.array(
    z.strictObject({
      cause: z.enum(causes),
      jobs: z.int(),
      jobVerdicts: z.int(),
      characteristicVerdicts: z.int(),
      /** Characteristics of which a figure moved, and figures of stations and set-ups. */
      characteristics: z.int(),
      figures: z.int(),
    }),
  ),
  /** All but those that are the same, and undamaged. */
  jobs: z.array(jobChange),
});

export type Cause = (typeof causes)[number];
export type MovedField = (typeof movedFields)[number];
export type JudgedFigures = z.infer<typeof judged>;
export type CharacteristicChange = z.infer<typeof characteristicChange>;
export type FigureChange = z.infer<typeof figureChange>;
export type JobChange = z.infer<typeof jobChange>;
export type Changes = z.infer<typeof changesSchema>;
