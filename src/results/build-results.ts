/** results.json, from a resolved job and its readings. Pure: the same inputs give the same document. */
import { pick } from '../base/pick.js';
import { SEED } from '../solution/characteristics/answer.js';
import { SOFTWARE } from '../base/version.js';
import { railLengthMm, type Job } from '../survey/job/job.js';
import type { PhaseName } from '../survey/job/job-schema.js';
import { readWords, whatWasRead } from '../survey/readings/what-was-read.js';
import type { Readings } from '../survey/readings/readings.js';
import type { InputFile } from '../base/input/input-file.js';
import { levelsOf } from '../solution/verdict/decision-rule.js';
import { sagittaUm } from '../base/geometry/earth-curvature.js';
import type { AdjustedPhase } from './adjusted-phase.js';
import { phaseSection } from './phase-section.js';
import type { PhaseResults, Results } from './results-schema.js';
import { correctionsSection } from './corrections-section.js';
import { surveySection } from './survey-section.js';

/** A warning in words, as the report prints it. */
export type WarningLine = Results['warnings'][number];

export interface ResultsInput {
  readonly job: Job;
  readonly readings: Readings;
  /** Adjusted readings, by phase. */
  readonly adjusted: ReadonlyMap<PhaseName, AdjustedPhase>;
  readonly inputs: readonly InputFile[];
  readonly warnings: readonly WarningLine[];
  readonly confirmations: NonNullable<Results['confirmations']>;
}

function whatIfOf({ toleranceSet: { whatIf, file } }: Job): Pick<Results, 'whatIf'> {
  if (whatIf === undefined || file === null) return {};
  return { whatIf: { tolerances: file, inPlaceOf: whatIf.inPlaceOf } };
}

/** Optional records of a job. @see ISO/IEC 17025:2017, 7.8.2.1 */
function recordOf(job: Job): Partial<Results['subject']> {
  const { approved, contacts, revision, procedure, externalProviders } = job;
  return {
    ...((approved.by ?? approved.on ?? approved.role) !== null && { approved }),
    ...((contacts.issuer ?? contacts.customer) !== null && { contacts }),
    ...(revision !== null && { revision }),
    ...(procedure !== null && { procedure }),
    ...(externalProviders.length > 0 && { externalProviders: [...externalProviders] }),
  };
}

/** The job's statements about one phase; absent keys are not stated. */
function factsOf(job: Job, name: PhaseName): Pick<PhaseResults, 'facts'> {
  const facts = job.phases.find((phase) => phase.name === name);
  if (facts === undefined) return {};
  const { surveyed, temperatureC, note, machineState, instruments } = facts;
  const isSaid =
    (surveyed.by ?? surveyed.on ?? temperatureC ?? note ?? machineState) !== null || instruments.length > 0;
  return isSaid
    ? { facts: { surveyed, temperatureC, note, machineState, instruments: [...instruments] } }
    : {};
}

/** results.json without the plan of corrections. */
export function buildResults({
  job,
  readings,
  adjusted,
  inputs,
  warnings,
  confirmations,
}: ResultsInput): Results {
  const phases: Record<PhaseName, PhaseResults> = {};
  const draws: number[] = [];
  const read = whatWasRead(job, readings);
  for (const [name, phase] of adjusted) {
    const results = phaseSection(job, phase);
    const declared = read.get(name);
    phases[name] = {
      ...results,
      ...(declared !== undefined && { read: { ...declared, words: readWords(declared) } }),
      ...factsOf(job, name),
    };
    draws.push(phase.answers.drawCount);
  }
  const last = Object.values(phases).at(-1);
  const times = [...readings.phases.values()]
    .flat()
    .flatMap((r) => (r.time === null ? [] : [r.time.slice(0, 10)]));
  times.sort();
  const longest = job.rails
    .filter((r) => r.direction === 'along')
    .reduce((most, r) => Math.max(most, railLengthMm(r)), 0);
  return {
    format: 'waysheet-results/1',
    job: job.id,
    verdict: last?.verdict ?? 'reported',
    software: SOFTWARE,
    inputs: inputs.map((input) => pick(input, 'path', 'bytes', 'sha256', 'read')),
    settings: {
      ...pick(job.decision, 'rule', 'coverage'),
      ...(job.decision.guardBand !== 1 && { guardBand: job.decision.guardBand }),
      ...(isAnyGuarded(job) && { risk: levelsOf(job.decision).accept }),
      draws: draws.length === 0 ? 0 : Math.min(...draws),
      seed: `0x${SEED.toString(16)}`,
    },
    subject: {
      ...pick(job, 'title', 'issuer', 'customer', 'site', 'machine', 'surveyed', 'prepared'),
      ...recordOf(job),
      readingsTaken: { from: times[0] ?? null, to: times[times.length - 1] ?? null },
      temperatureC: job.conditions.temperatureC,
      conditionsNote: job.conditions.note,
    },
    style: job.style,
    survey: surveySection(
      job,
      readings,
      times[times.length - 1] ?? job.surveyed.on,
      [...read.values()].at(-1),
    ),
    toleranceSet: {
      ...pick(job.toleranceSet, 'name', 'source', 'file'),
      ...(job.toleranceSet.grade !== null && { grade: job.toleranceSet.grade }),
      ...(job.toleranceSet.basedOn.length > 0 && { basedOn: [...job.toleranceSet.basedOn] }),
    },
    ...whatIfOf(job),
    phases,
    excluded: readings.excluded.map((e) => ({ ...e.source, phase: e.phase, what: e.what, note: e.note })),
    warnings: [...warnings],
    confirmations: [...confirmations],
    curvature: { lengthMm: longest, sagittaUm: sagittaUm(longest) },
    corrections: correctionsSection(job),
  };
}

const isAnyGuarded = ({ decision, toleranceSet: { tolerances } }: Job): boolean =>
  [decision, ...tolerances].some(({ rule }) => rule === 'guarded');
