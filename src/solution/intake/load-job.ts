/**
 * The front door: reads a job folder to its job and its readings, with every problem of both at once, and what the solution
 * shows. No job with a finding that must be confirmed passes it.
 */
import { inStage } from '../../base/cost/stages.js';
import type { Languages } from '../../survey/job/languages.js';
import { capPerCode } from '../../base/diagnostics/cap.js';
import { missingStations } from '../../survey/readings/suspicions/check-places.js';
import {
  sortDiagnostics,
  type Diagnostic,
  type DiagnosticCode,
  type Outcome,
} from '../../base/diagnostics/diagnostic.js';
import type { Brand } from '../../survey/brand/read-brand.js';
import type { GivenTolerances } from '../../survey/job/given-tolerances.js';
import type { Job } from '../../survey/job/job.js';
import type { JobDigests } from '../../survey/job/job-digests.js';
import { readResolved } from '../../survey/job/read-job.js';
import type { Frame } from '../../survey/job/resolve-job.js';
import { applyConfirmations } from './confirmations.js';
import { withoutConsequences, withoutEffects, withoutSignsOfMisfit } from './consequences.js';
import { FEWEST_CHECKS } from '../causes/identify.js';
import { adjust, type Adjustment } from '../solve/adjustment.js';
import { buildNetwork, type Network } from '../solve/network.js';
import { askAll } from '../characteristics/ask.js';
import { solutionFindings } from './solution-findings.js';
import { whatWasRead, type PhaseRead } from '../../survey/readings/what-was-read.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { foresee } from './foresee.js';
import { OF_THE_WHOLE, unreadMonuments, unreadStations, type Solved } from './planned-findings.js';
import { assumedSigns, leftOutWithoutNote, repeatedFiles, unnamedFiles } from './look-around.js';
import { implausibleDays, implausibleGeometry, implausibleLimits } from './plausible.js';
import { explainMisfits, type CauseFix, type Explained } from './try-fixes.js';
import { judgeSize, sharedUnknowns } from './size.js';
import { checkDriftTimes } from '../../survey/readings/drift-times.js';
import { readFiles } from '../../survey/readings/read-readings.js';
import type { Readings } from '../../survey/readings/readings.js';
import type { InputFile } from '../../base/input/input-file.js';
import { findSuspicions } from '../../survey/readings/suspicions/find-suspicions.js';
import type { MappingSuggestion } from '../../survey/readings/suggest/suggest-mapping.js';

export interface LoadedJob {
  readonly job: Job;
  readonly readings: Readings;
  /** job.json, the tolerance file if any, then the readings files in the order of the job. */
  readonly inputs: readonly InputFile[];
  readonly digests?: JobDigests | null;
  /** The set by which the job is judged instead of its own; its file is not in the folder. */
  readonly given?: GivenTolerances | null;
  /** The language of this run instead of the job's own; left out: the job's own. */
  readonly language?: Languages;
  /** The look of the report; its files are among the inputs. */
  readonly brand?: Brand | null;
  /** The solution of each phase from the front door; left out: not solved yet. */
  readonly solved?: ReadonlyMap<PhaseName, Adjustment>;
}

/** The content of a folder, as far as it can be read, with all its problems. */
export interface Inspection {
  /** The job's id as it is in job.json; null: there is none. */
  readonly id: string | null;
  /** The same of its language. */
  readonly language: Languages | null;
  /** null: something is wrong. */
  readonly loaded: LoadedJob | null;
  /** The same if the only problem is that stations are not read yet: for a survey that is followed while it is read. */
  readonly soFar: LoadedJob | null;
  /** The same even if something must be confirmed: while a rail is adjusted, its readings contradict each other. */
  readonly usable: LoadedJob | null;
  /** What was declared and what was read, by phase; null: `readings` or the job is null. */
  readonly read: ReadonlyMap<PhaseName, PhaseRead> | null;
  /** null: job.json is too faulty to tell what the job declares. */
  readonly frame: Frame | null;
  readonly readings: Readings | null;
  readonly inputs: readonly InputFile[];
  /** For files with columns that are not known. */
  readonly suggestions: readonly MappingSuggestion[];
  /** Fixes that were tried and work; each cause in the order of its diagnostic. */
  readonly causeFixes: readonly CauseFix[];
  /** Sorted by file and row, job.json first. */
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Reads and checks all input. If job.json is faulty, the readings are still checked against its sound parts.
 *
 * @param folder The job folder.
 * @param given A tolerance set by which the job is judged instead of its own.
 * @param limit Seconds that reporting it may take; null: as long as it takes.
 * @returns Fails: with every problem, job.json first, then by file and row. There may be warnings in both cases.
 */
export async function loadJob(
  folder: string,
  given: GivenTolerances | null = null,
  limit: number | null = null,
): Promise<Outcome<LoadedJob>> {
  const { loaded, diagnostics } = await inspectJob(folder, given, { limit });
  return loaded === null ? { ok: false, diagnostics } : { ok: true, value: loaded, diagnostics };
}

/** The same job, to be reported in the look of an office. */
export const withBrand = (loaded: LoadedJob, brand: Brand | null): LoadedJob =>
  brand === null
    ? loaded
    : {
        ...loaded,
        brand,
        inputs: [
          ...loaded.inputs,
          ...brand.files.map(({ path, bytes, sha256, read }) => ({ path, bytes, sha256, read })),
        ],
      };

export interface Inspecting {
  /** Seconds that reporting it may take; null: as long as it takes. */
  readonly limit?: number | null;
  /** Read instead of the folder's job.json, to try a change before it is made. */
  readonly jobText?: string | null;
  /** Within the trial of a change: no further changes are tried, and none is offered. */
  readonly isTrial?: boolean;
}

/**
 * A job with all its problems; never throws because of the content of files. Every command, page and document takes its
 * findings from here.
 */
export async function inspectJob(
  folder: string,
  given: GivenTolerances | null = null,
  { limit = null, jobText = null, isTrial = false }: Inspecting = {},
): Promise<Inspection> {
  const resolved = await readResolved(folder, given, jobText);
  const { job, frame, id, language, digests } = resolved;
  const files = frame === null ? null : await readFiles(folder, frame);
  const inputs = [...resolved.inputs, ...(files?.inputs ?? [])];
  const readings = files?.readings ?? null;
  if (job !== null && readings !== null && files !== null)
    checkDriftTimes(job.setups, readings, files.findings);
  const suspicions = frame !== null && readings !== null ? findSuspicions(readings, frame) : [];
  const found = [...resolved.findings.list, ...(files?.findings.list ?? []), ...suspicions];
  const survey =
    job === null || frame === null || readings === null
      ? null
      : { folder, job, frame, readings, inputs, given, read: whatWasRead(job, readings) };
  const usable = files?.findings.hasErrors === false ? survey : null;
  const again = async (other: string) =>
    (await inspectJob(folder, given, { limit, jobText: other, isTrial: true })).diagnostics;
  const text = isTrial ? null : resolved.text;
  const { causeFixes, solved, all } =
    usable === null
      ? { causeFixes: [], solved: NOT_SOLVED, all: found }
      : await inspectSurvey(usable, found, limit, { text, again });
  const answered = applyConfirmations(withoutConsequences(all), job?.confirmed ?? [], usable !== null);
  const confirmed = withoutEffects(answered);
  const diagnostics = sortDiagnostics(
    readings === null ? confirmed : withoutSignsOfMisfit(confirmed, readings),
  );
  const adjustments = new Map([...solved].map(([phase, { adjustment }]) => [phase, adjustment]));
  const whole = usable && {
    job: usable.job,
    readings: usable.readings,
    inputs,
    digests,
    given,
    solved: adjustments,
  };
  const wholeIf = (isFine: (d: Diagnostic) => boolean) => (diagnostics.every(isFine) ? whole : null);
  return {
    id,
    language,
    loaded: wholeIf(({ severity }) => severity === 'warning'),
    soFar: wholeIf(({ severity, code }) => severity === 'warning' || isOfTheWhole(code)),
    usable: whole,
    read: survey?.read ?? null,
    frame,
    readings,
    inputs,
    causeFixes,
    suggestions: files?.suggestions ?? [],
    diagnostics,
  };
}

const NOT_SOLVED: ReadonlyMap<PhaseName, Solved> = new Map();

/** A survey whose files could all be read. */
interface Survey {
  readonly folder: string;
  readonly job: Job;
  readonly frame: Frame;
  readonly readings: Readings;
  readonly inputs: readonly InputFile[];
  readonly given: GivenTolerances | null;
  readonly read: NonNullable<Inspection['read']>;
}

/** Checks of a usable survey: its surroundings, its size, its solution, and what is unusual in it. */
async function inspectSurvey(
  { folder, job, frame, readings, inputs, given, read }: Survey,
  before: readonly Diagnostic[],
  limit: number | null,
  trial: Pick<Parameters<typeof explainMisfits>[0], 'text' | 'again'>,
): Promise<{
  readonly causeFixes: readonly CauseFix[];
  readonly solved: ReadonlyMap<PhaseName, Solved>;
  readonly all: readonly Diagnostic[];
}> {
  const known = [
    ...before,
    ...repeatedFiles(job, inputs, readings),
    ...leftOutWithoutNote(readings),
    ...assumedSigns(job, readings),
    ...(await unnamedFiles(folder, job)),
    ...judgeSize(job, readings, limit),
  ];
  const isTooLarge = known.some(({ code }) => code === 'JOB_TOO_LARGE');
  const solved = isTooLarge ? NOT_SOLVED : await inStage('solve', () => solveAll(job, readings));
  const ofJob = [
    ...implausibleLimits(job, solved, given === null ? 'confirm' : 'warning'),
    ...implausibleGeometry(job, readings, read),
    ...implausibleDays(job, readings),
    ...unreadStations(job, readings, read, solved),
  ];
  const door = { job, frame, readings, known: [...known, ...ofJob], ...trial };
  // What is confirmed hides nothing: readings that still contradict each other are asked about next.
  const open = applyConfirmations(known, job.confirmed, false);
  const explained = isTooLarge
    ? null
    : await inStage('causes', () => explainMisfits(door, searched(job, readings, solved, open)));
  const ofModel =
    explained === null
      ? known
      : [
          ...withUnitOnce(withoutGuesses(known, explained.judged), explained),
          ...ofSolution(job, read, solved),
        ];
  const all = [...ofModel, ...ofJob, ...thinPasses(readings, frame)];
  return { causeFixes: explained?.fixes ?? [], solved, all };
}

const ASKED_OF_THE_WHOLE: ReadonlySet<DiagnosticCode> = new Set([
  ...OF_THE_WHOLE,
  'MISFIT_EXPLAINED',
  'NOISE_FAR_ABOVE_CLAIM',
]);

/** true: a finding about the survey as a whole; the figures so far can still be shown. */
export const isOfTheWhole = (code: DiagnosticCode): boolean => ASKED_OF_THE_WHOLE.has(code);

/** Passes without stations that another pass has. Warns: STATIONS_MISSING, unless a suspicion reports it. */
const thinPasses = (readings: Readings, frame: Frame): readonly Diagnostic[] =>
  capPerCode(
    missingStations(readings, frame)
      .filter(({ data }) => data.doubled === '')
      .map(({ data, at }) => ({ code: 'STATIONS_MISSING', severity: 'warning', data, at })),
  ).list;

function solveAll(job: Job, { phases }: Readings): ReadonlyMap<PhaseName, Solved> {
  const solved = new Map<PhaseName, Solved>();
  for (const [phase, list] of phases) {
    if (list.length === 0) continue;
    const adjustment = adjust(buildNetwork(job, list));
    solved.set(phase, { adjustment, questions: askAll(job, adjustment.network) });
  }
  return solved;
}

/** What the solution of each phase shows: how its readings fit, what has no value, what nothing checks, what was not read. */
function ofSolution(
  job: Job,
  read: ReadonlyMap<PhaseName, PhaseRead>,
  solved: ReadonlyMap<PhaseName, Solved>,
): Diagnostic[] {
  return [...solved].flatMap(([phase, own]) => [
    ...solutionFindings(job, phase, own.adjustment),
    ...foresee(job, phase, own.adjustment, own.questions),
    ...unreadMonuments(job, phase, read.get(phase)!, own),
  ]);
}

/**
 * Causes are searched in surveys of at most this many readings, because the search tries each reading. Larger surveys are searched
 * only if their misfit as a whole is beyond chance.
 */
const MAX_SEARCHED = 2500;
const MAX_EXPLAINED = 50_000;
const BEYOND_CHANCE = 1e-3;
const MAX_SHARED = 400;

/** The phases to explain; null: the phase is too large to be searched, and fits as a whole. What the files show themselves is not explained again. */
function searched(
  job: Job,
  { phases }: Readings,
  solved: ReadonlyMap<PhaseName, Solved>,
  known: readonly Diagnostic[],
): ReadonlyMap<PhaseName, Network | null> {
  const asked = new Set(
    known
      .filter(({ severity, code }) => severity === 'confirm' && !GUESSES.has(code) && code !== UNIT)
      .map(({ at }) => at?.file),
  );
  return new Map(
    [...solved].flatMap(([phase, { adjustment }]): [PhaseName, Network | null][] => {
      const readings = phases.get(phase)!;
      const { chiSquare, redundancy, network } = adjustment;
      const isHard = readings.length > MAX_SEARCHED || sharedUnknowns(job, readings) > MAX_SHARED;
      if (isHard && redundancy >= FEWEST_CHECKS && chiSquare!.upperTail >= BEYOND_CHANCE)
        return [[phase, null]];
      const isImpossible = readings.length > MAX_EXPLAINED || sharedUnknowns(job, readings) > MAX_SHARED;
      const isFree = !readings.some(({ source }) => asked.has(source.file));
      return isFree && !isImpossible ? [[phase, network]] : [];
    }),
  );
}

/**
 * Suspicions about passes that are held against each other without the model. Where the readings check each other the model is the
 * better judge: what it explains is no guess any more, and what fits it is none either.
 */
const GUESSES: ReadonlySet<DiagnosticCode> = new Set<DiagnosticCode>([
  'UNIT_SUSPECT',
  'READINGS_STEP',
  'READING_STANDS_OUT',
]);

const UNIT: DiagnosticCode = 'UNIT_IMPLAUSIBLE';

/** With what the model says of a phase. Of a file in another unit one of both is said: the model, where it names the unit. */
function withUnitOnce(
  found: readonly Diagnostic[],
  { diagnostics, inOtherUnit }: Pick<Explained, 'diagnostics' | 'inOtherUnit'>,
): Diagnostic[] {
  const kept = found.filter(({ code, at }) => code !== UNIT || !inOtherUnit.has(at!.file));
  const files = new Set(kept.flatMap(({ code, at }) => (code === UNIT ? [at!.file] : [])));
  return [...kept, ...diagnostics.filter(({ at }) => at === undefined || !files.has(at.file))];
}

/** @param judged Files whose readings the model has judged. */
export const withoutGuesses = (found: readonly Diagnostic[], judged: ReadonlySet<string>): Diagnostic[] =>
  found.filter(({ code, at }) => !(GUESSES.has(code) && at !== undefined && judged.has(at.file)));
