/**
 * May the crew leave? What was planned and read, what should be read again, and which tolerances are decided. A crew may
 * leave if everything that was planned was read, no reading is contradicted beyond chance, and each tolerance is decided or
 * cannot be decided by a reading at the machine. One function for `check --leave` and for `follow`.
 */
import type { Diagnostic } from '../base/diagnostics/diagnostic.js';
import { greatestBy } from '../base/lists.js';
import { factorOfAll, SURVEY_LEVEL } from '../base/statistics/normal.js';
import type { Inspection } from '../solution/intake/load-job.js';
import type { PhaseName } from '../survey/job/job-schema.js';
import { lookedAgain, type LookedAgain } from '../survey/readings/looked-again.js';
import type { BlankRow } from '../survey/readings/readings.js';
import type { PhaseRead } from '../survey/readings/what-was-read.js';
import { adjustPhase } from './adjusted-phase.js';
import { undecidedOf } from './helps-section.js';
import { helpOfOneReading, type HelpfulReading } from './one-reading.js';
import { phaseSection } from './phase-section.js';
import {
  leftOpen,
  type CharacteristicResult,
  type ClosureResult,
  type PhaseResults,
  type Remedy,
} from './results-schema.js';

/** The reason why a crew may leave, or not. The first that applies. */
export type LeaveReason =
  'problems' | 'to-read' | 'to-repeat' | 'to-decide' | 'nothing-decides' | 'no-limits' | 'all-decided';

/** The reading that would decide an open tolerance. */
export type DecidedBy =
  | { readonly kind: 'missing'; readonly why: string }
  | { readonly kind: 'reading'; readonly reading: HelpfulReading }
  | { readonly kind: 'passes'; readonly times: number }
  | { readonly kind: 'way'; readonly way: Remedy; readonly narrower: number }
  | { readonly kind: 'suspect' }
  /** Planned readings are still missing. They come first, because their effect is not known yet. */
  | { readonly kind: 'planned' };

export interface ToleranceLeft {
  readonly made: CharacteristicResult;
  readonly isDecided: boolean;
  /** For an open tolerance: what a crew can still do; null: no reading at the machine would decide it. */
  readonly by: DecidedBy | null;
}

/** A reading to take again, and the reason. */
export interface ToRepeat {
  readonly what: string;
  readonly file: string | null;
  readonly row: number | null;
  readonly axis: string;
  readonly because: 'contradicted' | 'not-closed' | 'helps-most';
  /** Chance alone causes this in fewer than one survey of 1,000; the crew stays until it is explained. */
  readonly isCertain: boolean;
  /** For the reading that helps most: share of the width that an open interval loses. */
  readonly narrower?: number;
}

export interface Leave {
  /** The last phase with readings; null: none yet. */
  readonly phase: PhaseName | null;
  readonly mayGo: boolean;
  readonly because: LeaveReason;
  readonly read: PhaseRead | null;
  /** Planned rows of this phase without a reading. */
  readonly blank: readonly BlankRow[];
  /** Errors, and findings that must be confirmed. */
  readonly problems: readonly Diagnostic[];
  readonly closures: { readonly exceeded: number; readonly widest: ClosureResult | null };
  readonly repeat: ToRepeat | null;
  readonly setups: readonly LookedAgain[];
  readonly tolerances: readonly ToleranceLeft[];
}

/** Greatest share of honest surveys in which a crew stays because of a good reading. */
const KEPT_BY_CHANCE = 0.001;
/** Greatest number of passes that a crew can still read, as a multiple of the passes so far. */
const MOST_PASSES = 4;
/** Remedies that a crew can still carry out on the same day; the others need more than readings. */
const AT_THE_MACHINE: ReadonlySet<Remedy> = new Set<Remedy>([
  'more-passes',
  'other-end',
  'middle',
  'new-setups',
  'turned-level',
  'even-air',
  'centred-target',
  'turned-target',
  'own-placings',
  'lower-rod',
  'quicker',
  'monuments-again',
  'heights-again',
  'one-target',
]);
/** Reasons for a missing value that no reading removes. */
const NOT_BY_READING: ReadonlySet<string> = new Set([
  'no-joints',
  'same-place-across',
  'squareness-not-known',
  'no-stations-beside-datum',
]);

type Inspected = Pick<Inspection, 'soFar' | 'read' | 'readings' | 'diagnostics'>;

/** @param solved The results of the last phase, if they were calculated already. */
export function leaveOf({ soFar, read, readings, diagnostics }: Inspected, solved?: PhaseResults): Leave {
  const phase = [...(readings?.phases.keys() ?? [])].at(-1) ?? null;
  const blank = (readings?.blank ?? []).filter((row) => row.phase === phase);
  const problems = diagnostics.filter(({ severity }) => severity !== 'warning');
  const list = phase === null ? [] : readings!.phases.get(phase)!;
  const about = {
    phase,
    read: phase === null ? null : (read?.get(phase) ?? null),
    blank,
    problems,
    setups: lookedAgain(list),
  };
  if (soFar === null || phase === null || list.length === 0)
    return {
      ...about,
      mayGo: false,
      because: isUnreadOnly(problems) ? 'to-read' : 'problems',
      closures: { exceeded: 0, widest: null },
      repeat: null,
      tolerances: [],
    };
  const adjusted = adjustPhase(soFar.job, list, soFar.solved?.get(phase));
  const results = solved ?? phaseSection(soFar.job, adjusted);
  const open = undecidedOf(adjusted, results.characteristics);
  const helpful = helpOfOneReading(soFar.job, adjusted.adjustment, open);
  const tolerances = results.characteristics
    .filter(({ limit }) => limit !== null)
    .map((made): ToleranceLeft => {
      const isDecided = made.verdict === 'conforms' || made.verdict === 'does-not-conform';
      return {
        made,
        isDecided,
        by: isDecided ? null : decidedBy(made, helpful.of.get(made), blank.length > 0),
      };
    });
  const doubtful = repeatOf(results);
  const best = blank.length === 0 && tolerances.some(({ by }) => by !== null) ? helpful.best : null;
  const repeat: ToRepeat | null =
    doubtful ?? (best === null ? null : { ...best, because: 'helps-most', isCertain: false });
  const left = tolerances.filter(({ isDecided }) => !isDecided);
  const because: LeaveReason =
    problems.length > 0
      ? isUnreadOnly(problems)
        ? 'to-read'
        : 'problems'
      : blank.length > 0
        ? 'to-read'
        : doubtful?.isCertain === true
          ? 'to-repeat'
          : left.some(({ by }) => by !== null)
            ? 'to-decide'
            : left.length > 0
              ? 'nothing-decides'
              : tolerances.length === 0
                ? 'no-limits'
                : 'all-decided';
  return {
    ...about,
    mayGo: because === 'all-decided' || because === 'no-limits' || because === 'nothing-decides',
    because,
    closures: closuresIn(results.closures),
    repeat,
    tolerances,
  };
}

/** Findings that disappear when all planned rows are read. */
const TO_BE_READ: ReadonlySet<string> = new Set([
  'STATIONS_UNREAD',
  'NO_READINGS_USED',
  'SETUP_READS_NOTHING',
  'SETUP_UNREAD',
]);

/** Findings that follow from them. */
const FOLLOWS_FROM_UNREAD: ReadonlySet<string> = new Set(['TOLERANCE_WITHOUT_VALUE', 'STATIONS_MISSING']);

/** true: the list of empty planned rows says it already. */
export const isSaidByRows = (code: string): boolean =>
  code === 'READING_ROW_EMPTY' || TO_BE_READ.has(code) || FOLLOWS_FROM_UNREAD.has(code);

/** true: the only problem is that something was not read yet. */
const isUnreadOnly = (problems: readonly Diagnostic[]): boolean =>
  problems.every(({ code }) => TO_BE_READ.has(code));

function decidedBy(
  made: CharacteristicResult,
  reading: HelpfulReading | undefined,
  isUnread: boolean,
): DecidedBy | null {
  if (made.value === null) {
    const codes = (made.reasons ?? []).map(({ code }) => code);
    return codes.length > 0 && codes.every((code) => NOT_BY_READING.has(code))
      ? null
      : { kind: 'missing', why: made.why };
  }
  if (isUnread) return { kind: 'planned' };
  const needed = made.helps?.needed ?? 1;
  if (made.settling?.code === 'readings-disagree') return { kind: 'suspect' };
  if (reading !== undefined && reading.narrower >= needed) return { kind: 'reading', reading };
  const times = made.settling?.code === 'more-passes' ? Number(made.settling.data['times']) : Infinity;
  if (times <= MOST_PASSES) return { kind: 'passes', times };
  const way = made.helps?.ways.find((one) => one.narrower >= needed && AT_THE_MACHINE.has(one.way));
  return way === undefined ? null : { kind: 'way', ...way };
}

/** The reading that the others contradict most, or the widest closure; null: all agree. */
function repeatOf({ adjustment, closures }: PhaseResults): ToRepeat | null {
  const suspects = adjustment.suspects.filter(({ prior }) => prior === null);
  const beyond = factorOfAll(adjustment.readings, 1 - KEPT_BY_CHANCE) * adjustment.scale;
  const worst = greatestBy(suspects, ({ standardised }) => Math.abs(standardised));
  const isCertain = worst !== null && Math.abs(worst.standardised) > beyond;
  const open = closuresIn(closures).widest;
  // The allowance of closures is for all of them together; another level has another factor.
  const share =
    open === null ? 0 : leftOpen(open) / open.allowed / adjustment.scale / strictness(closures.length);
  if (open !== null && open.exceeded && (worst === null || (share > 1 && !isCertain)))
    return {
      what: `${open.point} from ${open.setup}`,
      file: open.last.row.file,
      row: open.last.row.row,
      axis: open.axis,
      because: 'not-closed',
      isCertain: share > 1,
    };
  if (worst === null) return null;
  const { what, file, row, axis } = worst;
  return { what, file, row, axis, because: 'contradicted', isCertain };
}

/** Ratio of the allowances of `count` closures at the level of a certain contradiction and at the survey's level. */
const strictness = (count: number): number =>
  Math.max(1, factorOfAll(count, 1 - KEPT_BY_CHANCE) / factorOfAll(count, 1 - SURVEY_LEVEL));

function closuresIn(closures: readonly ClosureResult[]): Leave['closures'] {
  const widest = greatestBy(closures, (c) => leftOpen(c) / c.allowed);
  return { exceeded: closures.filter(({ exceeded }) => exceeded).length, widest };
}
