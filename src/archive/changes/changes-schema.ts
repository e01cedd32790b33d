/**
 * changes.json: the differences between an archive's reports and earlier ones, and their causes. It is made from the two sets of
 * deliverables alone, without a clock. Units as in results.json: deviations µm, slopes µm/m, positions mm.
 */
import * as z from 'zod';
import { languages } from '../../survey/job/languages.js';
import { phaseName } from '../../survey/job/job-schema.js';
import { judgedChange, verdicts } from '../../results/results-schema.js';
import { worstSchema } from '../register/register.js';

/** Parts in which two reports of one job can differ, in the order in which they are listed. */
export const causes = [
  /** A readings file. */
  'readings',
  /** job.json, except for tolerances and decision rule. */
  'job-file',
  /** The tolerances, in job.json or in a set. */
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

const movedFields = ['verdict', 'value', 'u', 'interval', 'limit', 'probability'] as const;

const characteristicChange = z.strictObject({
  ...judgedChange.shape,
  /** Fields that differ by more than rounding; empty if one side has no such characteristic. */
  moved: z.array(z.enum(movedFields)),
  causes: causeList,
  /** Causes that would have changed the verdict by themselves; empty if it is the same. */
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
  /** Difference in units of the last printed digit of the earlier report; null: one side has no value. */
  digits: z.number().nullable(),
});

const jobChange = z.strictObject({
  /**
   * changed: a verdict or a figure differs. redrawn: only what the report was made from differs. same: nothing differs.
   * appeared, vanished: only one side has a report. not-reported: this run made none. not-compared: the earlier
   * report cannot be read, or its results are damaged.
   */
  status: z.enum(['changed', 'redrawn', 'same', 'appeared', 'vanished', 'not-reported', 'not-compared']),
  job: z.string(),
  verdict: z.strictObject({ before: verdict.nullable(), after: verdict.nullable() }),
  causes: causeList,
  /** From the later report; if there is none, from the earlier one. */
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
  /** Number of findings that a person confirmed. */
  confirmed: z.strictObject({ before: z.int(), after: z.int() }),
  /** Causes of the change of the job's verdict. */
  verdictCauses: causeList,
  /** Why it was not reported or not compared. */
  note: z.string().nullable(),
  /** Files of the earlier report that were changed since they were made. */
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
  /** Figures of stations and set-ups. Only those that moved most are listed; `count` is the number of all. */
  figures: z.strictObject({ count: z.int(), causes: causeList, listed: z.array(figureChange) }),
  /** Other differences in results.json, for each part: number of places, and the first of them. */
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
  /** Of its page, as asked for the run; left out: English. */
  language: z.enum(languages).optional(),
  /** false: the run was stopped before all jobs were reached. */
  isComplete: z.boolean(),
  /** When a figure counts as moved, in words. */
  rule: z.string(),
  counts: z.strictObject({
    compared: z.int(),
    /** Compared jobs whose verdict changed. */
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
      /** Number of characteristics with a moved figure, and of moved figures of stations and set-ups. */
      characteristics: z.int(),
      figures: z.int(),
    }),
  ),
  /** All jobs, except for those that are the same and undamaged. */
  jobs: z.array(jobChange),
});

export type Cause = (typeof causes)[number];
export type MovedField = (typeof movedFields)[number];
export type CharacteristicChange = z.infer<typeof characteristicChange>;
export type FigureChange = z.infer<typeof figureChange>;
export type JobChange = z.infer<typeof jobChange>;
export type Changes = z.infer<typeof changesSchema>;
