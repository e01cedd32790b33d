/**
 * Causes of misfit with fixes that were tried: each fix is made in memory, and the front door is run again. A fix is not offered if
 * anything else is then refused, or if the readings still contradict each other.
 */
import { FEWEST_CHECKS, identify } from '../causes/identify.js';
import { contextOf } from '../causes/projection.js';
import { findCauses, sayCauses, type Cause, type FoundCauses } from '../causes/find-causes.js';
import { applyFix, type Fix } from '../causes/fix.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import type { Job } from '../../survey/job/job.js';
import type { Frame } from '../../survey/job/resolve-job.js';
import type { Reading, Readings } from '../../survey/readings/readings.js';
import { findSuspicions } from '../../survey/readings/suspicions/find-suspicions.js';
import type { Network } from '../solve/network.js';
import { phaseWords } from '../../survey/readings/phase-words.js';

/** A fix that was tried and works, and what it is for. */
export interface CauseFix {
  readonly code: Diagnostic['code'];
  readonly phase: PhaseName;
  readonly file: string;
  /** A clause: what happened. */
  readonly cause: string;
  readonly fix: Fix;
}

export interface Explained {
  readonly diagnostics: readonly Diagnostic[];
  readonly fixes: readonly CauseFix[];
  /** Files whose readings check each other well enough for the model to judge them. */
  readonly judged: ReadonlySet<string>;
  /** Files of phases for which the model names a unit. */
  readonly inOtherUnit: ReadonlySet<string>;
}

/** The front door, for trying a fix. */
export interface Door {
  readonly job: Job;
  readonly frame: Frame;
  readonly readings: Readings;
  /** Other problems that are known already. */
  readonly known: readonly Diagnostic[];
  /** The text of job.json; null: fixes are not tried, and none is offered (within a trial). */
  readonly text: string | null;
  /** All findings of the front door with another text of job.json, without trials of its own. */
  readonly again: (text: string) => Promise<readonly Diagnostic[]>;
}

/** Problems of the phases as the model shows them, each with the fixes that were tried and work. */
export async function explainMisfits(
  door: Door,
  networks: ReadonlyMap<PhaseName, Network | null>,
): Promise<Explained> {
  const diagnostics: Diagnostic[] = [];
  const fixes: CauseFix[] = [];
  const judged = new Set<string>();
  const inOtherUnit = new Set<string>();
  for (const [phase, network] of networks) {
    const readings = door.readings.phases.get(phase)!;
    if (network === null || isChecked(network)) for (const { source } of readings) judged.add(source.file);
    const found = network === null ? null : findCauses(door.job, phase, readings, network);
    if (found === null) continue;
    const isUnit =
      found.isAsked && found.identified.named.some(([first]) => first!.hypothesis.kind === 'unit');
    if (isUnit) for (const { source } of readings) inOtherUnit.add(source.file);
    const causes = await triedCauses(door, found);
    const said = sayCauses(found, causes);
    diagnostics.push(said);
    for (const { words, fix } of causes)
      if (fix !== null) fixes.push({ code: said.code, phase, file: found.file, cause: words, fix });
  }
  return { diagnostics, fixes, judged, inOtherUnit };
}

const isChecked = (network: Network): boolean => {
  const { redundancy } = contextOf(network);
  return redundancy >= FEWEST_CHECKS;
};

async function triedCauses(door: Door, found: FoundCauses): Promise<Cause[]> {
  const tried: Cause[] = [];
  for (const cause of found.causes)
    tried.push((await isSound(door, found, cause)) ? cause : { ...cause, fix: null });
  return tried;
}

async function isSound(door: Door, { phase }: FoundCauses, { fix, repaired }: Cause): Promise<boolean> {
  if (door.text === null || fix === null) return false;
  if (fix.kind === 'job') {
    const after = await door.again(applyFix(door.text, fix));
    return after.every((d) => !isRefused(d, door.known) && !isMisfit(d, phase));
  }
  return repaired === null || isSoundReading(door, phase, repaired());
}

/** Readings as a person would have them after the fix. */
function isSoundReading(door: Door, phase: PhaseName, readings: readonly Reading[]): boolean {
  const phases = new Map([...door.readings.phases, [phase, readings]]);
  const after = findSuspicions({ ...door.readings, phases }, door.frame);
  return after.every((d) => !isRefused(d, door.known)) && !identify(door.job, readings).detected;
}

/** true: refused because of something that was not there before. */
const isRefused = (d: Diagnostic, known: readonly Diagnostic[]): boolean =>
  d.severity !== 'warning' && !known.some((k) => k.code === d.code && k.at?.file === d.at?.file);

const isMisfit = ({ code, data }: Diagnostic, phase: PhaseName): boolean =>
  (code === 'MISFIT_EXPLAINED' || code === 'MISFIT_UNEXPLAINED' || code === 'NOISE_FAR_ABOVE_CLAIM') &&
  (data as { phase: string }).phase === phaseWords(phase);
