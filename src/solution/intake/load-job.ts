/**
 * The front door: a job folder as its job and its readings, every problem of both at once, and what the solution would
 * find out. Nothing that must be confirmed goes past it.
 */
import type { Language } from '../../survey/job/languages.js';
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
import { withoutConsequences, withoutSignsOfMisfit } from './consequences.js';
import { FEWEST_CHECKS } from '../causes/identify.js';
import { adjust, type Adjustment } from '../solve/adjustment.js';
import { buildNetwork, type Network } from '../solve/network.js';
import { askAll } from '../characteristics/ask.js';
import { solutionFindings } from './solution-findings.js';
import { whatWasRead, type PhaseRead } from '../../survey/readings/what-was-read.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { foresee } from './foresee.js';
import { OF_THE_WHOLE, unreadMonuments, unreadStations, type Solved } from './planned-findings.js';
import { leftOutWithoutNote, repeatedFiles, unnamedFiles } from './look-around.js';
import { implausibleDays, implausibleGeometry, implausibleLimits } from './plausible.js';
import { explainMisfits, type CauseFix } from './try-fixes.js';
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
  /** The set that judges the job in place of its own; its bytes do not lie in the folder. */
  readonly given?: GivenTolerances | null;
  /** Asked for this run in place of the job’s own; absent: the job’s own. */
  readonly language?: Language;
  /** How the report looks; its files are among the inputs. */
  readonly brand?: Brand | null;
  /** Each phase as it was solved at the door; absent: not yet. */
  readonly solved?: ReadonlyMap<PhaseName, Adjustment>;
}

/** What a folder holds, as far as it can be read; for whoever wants to say more than what is wrong. */
export interface Inspection {
  /** The job's id as it stands in job.json; null without one. */
  readonly id: string | null;
  /** null when anything at all is wrong. */
  readonly loaded: LoadedJob | null;
  /** The same where nothing is wrong but that stations are not read yet: for whoever follows a survey as it is read. */
  readonly soFar: LoadedJob | null;
  /** The same where something is to be confirmed: while a rail is adjusted, its readings contradict each other. */
  readonly usable: LoadedJob | null;
  /** What was declared and what was read, by phase; null where `readings` or the job is. */
  readonly read: ReadonlyMap<PhaseName, PhaseRead> | null;
  /** null when job.json is too faulty to say what the job declares. */
  readonly frame: Frame | null;
  readonly readings: Readings | null;
  readonly inputs: readonly InputFile[];
  /** For files with columns that are not known. */
  readonly suggestions: readonly MappingSuggestion[];
  /** Fixes of what is wrong that stood their trial; each cause in the order of its diagnostic. */
  readonly causeFixes: readonly CauseFix[];
  /** Sorted by file and row, job.json first. */
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Reads and checks everything that goes in. A faulty job.json does not keep the readings from being checked
 * against as much of it as is sound.
 *
 * @param folder The job folder.
 * @param given A tolerance set that judges the job in place of its own.
 * @param limit Seconds that reporting it may take; null: as long as it takes.
 * @returns Fails: with every problem, job.json first, then by file and row. Warnings come with either end.
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
  /** Read in place of the folder's job.json, to try a change before it is made. */
  readonly jobText?: string | null;
}

/**
 * A job with all that is wrong with it; never throws for what the files say. This is the only place that finds anything:
 * every command, page and document draws from it.
 */
export async function inspectJob(
  folder: string,
  given: GivenTolerances | null = null,
  { limit = null, jobText = null }: Inspecting = {},
): Promise<Inspection> {
  const resolved = await readResolved(folder, given, jobText);
  const { job, frame, id, digests, text } = resolved;
  const files = frame === null ? null : await readFiles(folder, frame);
  const inputs = [...resolved.inputs, ...(files?.inputs ?? [])];
  const readings = files?.readings ?? null;
  if (job !== null && readings !== null && files !== null)
    checkDriftTimes(job.setups, readings, files.findings);
  const suspicions = frame !== null && readings !== null ? findSuspicions(readings, frame) : [];
  let causeFixes: readonly CauseFix[] = [];
  let found = [...resolved.findings.list, ...(files?.findings.list ?? []), ...suspicions];
  const read = job === null || readings === null ? null : whatWasRead(job, readings);
  const isUsable = job !== null && readings !== null && read !== null && files?.findings.hasErrors === false;
  let solved: ReadonlyMap<PhaseName, Solved> = new Map();
  if (isUsable) {
    found.push(...repeatedFiles(job, inputs, readings));
    found.push(...leftOutWithoutNote(readings), ...(await unnamedFiles(folder, job)));
    found.push(...judgeSize(job, readings, limit));
    const isTooLarge = found.some(({ code }) => code === 'JOB_TOO_LARGE');
    if (!isTooLarge) {
      solved = solveAll(job, readings);
      const again = async (other: string) =>
        (await inspectJob(folder, given, { limit, jobText: other })).diagnostics;
      const door = {
        job,
        frame: frame!,
        readings,
        known: found,
        text: jobText === null ? text : null,
        again,
      };
      const explained = await explainMisfits(door, searched(job, readings, solved, found));
      causeFixes = explained.fixes;
      found = [
        ...withoutGuesses(found, explained.judged),
        ...explained.diagnostics,
        ...ofSolution(job, read, solved),
      ];
    }
    found.push(
      ...implausibleLimits(job, solved, given === null ? 'confirm' : 'warning'),
      ...implausibleGeometry(job),
      ...implausibleDays(job, readings),
    );
    found.push(...unreadStations(job, readings, read, solved), ...thinPasses(readings, frame!));
  }
  const settledOnes = applyConfirmations(withoutConsequences(found), job?.confirmed ?? [], isUsable);
  const diagnostics = sortDiagnostics(
    readings === null ? settledOnes : withoutSignsOfMisfit(settledOnes, readings),
  );
  const isClear = (isFine: (d: Diagnostic) => boolean) => isUsable && diagnostics.every(isFine);
  const adjustments = new Map([...solved].map(([phase, { adjustment }]) => [phase, adjustment]));
  const whole = isUsable ? { job, readings, inputs, digests, given, solved: adjustments } : null;
  return {
    id,
    loaded: isClear(({ severity }) => severity === 'warning') ? whole : null,
    soFar: isClear(({ severity, code }) => severity === 'warning' || isOfTheWhole(code)) ? whole : null,
    usable: whole,
    read,
    frame,
    readings,
    inputs,
    causeFixes,
    suggestions: files?.suggestions ?? [],
    diagnostics,
  };
}

const ASKED_OF_THE_WHOLE: ReadonlySet<DiagnosticCode> = new Set([
  ...OF_THE_WHOLE,
  'MISFIT_EXPLAINED',
  'NOISE_FAR_ABOVE_CLAIM',
]);

/** A question about the survey as a whole: its figures so far can be shown all the same. */
export const isOfTheWhole = (code: DiagnosticCode): boolean => ASKED_OF_THE_WHOLE.has(code);

/** Passes that lack stations which another pass reads. Warns: STATIONS_MISSING, where no suspicion says it. */
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

/** What each phase, once solved, tells: how its readings fit, what has no value, what nothing checks, what was not read. */
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
 * Causes are looked for in surveys of so many readings: the search tries each of them. Of larger ones only where the misfit of the whole
 * is beyond chance: what is far too small to show there is not looked for.
 */
const MOST_SEARCHED = 2500;
const MOST_EXPLAINED = 50_000;
const BEYOND_CHANCE = 1e-3;
const MOST_SHARED = 400;

/** The phases to explain; null: the phase is too large to be searched, and fits as a whole. What the files show to be wrong is not explained twice. */
function searched(
  job: Job,
  { phases }: Readings,
  solved: ReadonlyMap<PhaseName, Solved>,
  known: readonly Diagnostic[],
): ReadonlyMap<PhaseName, Network | null> {
  const asked = new Set(
    known
      .filter(({ severity, code }) => severity === 'confirm' && !GUESSES.has(code))
      .map(({ at }) => at?.file),
  );
  return new Map(
    [...solved].flatMap(([phase, { adjustment }]): [PhaseName, Network | null][] => {
      const readings = phases.get(phase)!;
      const { chiSquare, redundancy, network } = adjustment;
      const isHard = readings.length > MOST_SEARCHED || sharedUnknowns(job, readings) > MOST_SHARED;
      if (isHard && redundancy >= FEWEST_CHECKS && chiSquare!.upperTail >= BEYOND_CHANCE)
        return [[phase, null]];
      const isImpossible = readings.length > MOST_EXPLAINED || sharedUnknowns(job, readings) > MOST_SHARED;
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

/** @param judged Files whose readings the model has judged. */
export const withoutGuesses = (found: readonly Diagnostic[], judged: ReadonlySet<string>): Diagnostic[] =>
  found.filter(({ code, at }) => !(GUESSES.has(code) && at !== undefined && judged.has(at.file)));
