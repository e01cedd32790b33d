/**
 * The front door: a job folder as its job and its readings, every problem of both at once, and what the solution would
 * find out. Nothing that must be confirmed goes past it.
 */
import { capPerCode } from '../../base/diagnostics/cap.js';
import { Findings, sortDiagnostics } from '../../base/diagnostics/diagnostic.js';
import { missingStations } from '../../survey/readings/suspicions/check-places.js';
import type { Diagnostic, DiagnosticCode, Outcome } from '../../base/diagnostics/diagnostic.js';
import type { GivenTolerances } from '../../survey/job/given-tolerances.js';
import type { Job } from '../../survey/job/job.js';
import type { JobDigests } from '../../survey/job/job-digests.js';
import { readSettled } from '../../survey/job/read-job.js';
import type { Frame } from '../../survey/job/settle-job.js';
import { applyConfirmations } from './confirmations.js';
import { withoutConsequences } from './consequences.js';
import { adjust, type Adjustment } from '../solve/adjustment.js';
import { buildNetwork, type Network } from '../solve/network.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { foresee } from './foresee.js';
import { identicalFiles, leftOutWithoutNote, unnamedFiles } from './look-around.js';
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
}

/** What a folder holds, as far as it can be read; for whoever wants to say more than what is wrong. */
export interface Inspection {
  /** The job's id as it stands in job.json; null without one. */
  readonly id: string | null;
  /** null when anything at all is wrong. */
  readonly loaded: LoadedJob | null;
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

export interface Inspecting {
  /** Also what the report would find out (foresee.ts); for whoever only wants to know. */
  readonly foreseeing?: boolean;
  readonly limit?: number | null;
  /** Read in place of the folder's job.json, to try a change before it is made. */
  readonly jobText?: string | null;
}

/** A job with all that is wrong with it; never throws for what the files say. */
export async function inspectJob(
  folder: string,
  given: GivenTolerances | null = null,
  { foreseeing = false, limit = null, jobText = null }: Inspecting = {},
): Promise<Inspection> {
  const settled = await readSettled(folder, given, jobText);
  const { job, frame, id, digests, text } = settled;
  const read = frame === null ? null : await readFiles(folder, frame);
  const inputs = [...settled.inputs, ...(read?.inputs ?? [])];
  const readings = read?.readings ?? null;
  if (job !== null && readings !== null && read !== null)
    checkDriftTimes(job.setups, readings, read.findings);
  const suspicions = frame !== null && readings !== null ? findSuspicions(readings, frame) : [];
  let causeFixes: readonly CauseFix[] = [];
  let found = [...settled.findings.list, ...(read?.findings.list ?? []), ...suspicions];
  const isUsable = job !== null && readings !== null && read?.findings.hasErrors === false;
  if (isUsable) {
    found.push(...identicalFiles(job, inputs));
    if (foreseeing) {
      const places = new Findings();
      missingStations(readings, frame!, places);
      const isSaid = (d: Diagnostic) => found.some((f) => f.code === d.code && f.at?.row === d.at?.row);
      found.push(...capPerCode(places.list.filter((d) => !isSaid(d))).list);
      found.push(...leftOutWithoutNote(readings), ...(await unnamedFiles(folder, job)));
    }
    if (limit !== null || foreseeing) found.push(...judgeSize(job, readings, limit));
    const isTooLarge = found.some(({ code }) => code === 'JOB_TOO_LARGE');
    if (!isTooLarge) {
      const adjustments = solveAll(job, readings);
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
      const explained = await explainMisfits(door, searched(readings, adjustments, found));
      causeFixes = explained.fixes;
      found = [...withoutGuesses(found, explained.judged), ...explained.diagnostics];
      if (foreseeing)
        found.push(...[...adjustments].flatMap(([phase, adjustment]) => foresee(job, phase, adjustment)));
    }
  }
  const diagnostics = sortDiagnostics(
    applyConfirmations(withoutConsequences(found), job?.confirmed ?? [], isUsable),
  );
  const isClear = isUsable && diagnostics.every(({ severity }) => severity === 'warning');
  return {
    id,
    loaded: isClear ? { job, readings, inputs, digests, given } : null,
    frame,
    readings,
    inputs,
    causeFixes,
    suggestions: read?.suggestions ?? [],
    diagnostics,
  };
}

/** Larger surveys are not solved at the door: it takes as long as the report. */
const MOST_TRIED = 50_000;
const MOST_SHARED = 400;

function solveAll(job: Job, { phases }: Readings): ReadonlyMap<PhaseName, Adjustment> {
  const small = [...phases].filter(
    ([, list]) => list.length > 0 && list.length <= MOST_TRIED && sharedUnknowns(job, list) <= MOST_SHARED,
  );
  return new Map(small.map(([phase, list]) => [phase, adjust(buildNetwork(job, list))]));
}

/** Causes are looked for in surveys of so many readings: the search tries each of them. */
const MOST_SEARCHED = 5000;

/** What the files themselves show to be wrong is not explained a second time. */
function searched(
  { phases }: Readings,
  adjustments: ReadonlyMap<PhaseName, Adjustment>,
  known: readonly Diagnostic[],
): ReadonlyMap<PhaseName, Network> {
  const asked = new Set(
    known
      .filter(({ severity, code }) => severity === 'confirm' && !GUESSES.has(code))
      .map(({ at }) => at?.file),
  );
  const isFree = ([phase]: readonly [PhaseName, Adjustment]) => {
    const readings = phases.get(phase)!;
    return readings.length <= MOST_SEARCHED && !readings.some(({ source }) => asked.has(source.file));
  };
  return new Map([...adjustments].filter(isFree).map(([phase, { network }]) => [phase, network]));
}

/**
 * Suspicions about passes that are held against each other without the model. Where the readings check each other the model is the
 * better judge: what it explains is no guess any more, and what fits it is none either.
 */
const GUESSES: ReadonlySet<DiagnosticCode> = new Set<DiagnosticCode>([
  'PASSES_MIRRORED',
  'UNIT_SUSPECT',
  'STATIONS_SHIFTED',
  'READINGS_STEP',
  'READING_STANDS_OUT',
]);

/** @param judged Files whose readings the model has judged. */
export const withoutGuesses = (found: readonly Diagnostic[], judged: ReadonlySet<string>): Diagnostic[] =>
  found.filter(({ code, at }) => !(GUESSES.has(code) && at !== undefined && judged.has(at.file)));
