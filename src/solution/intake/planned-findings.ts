/** Findings about what the job declares and nobody read; their effect on a verdict decides their severity. */
import { applies } from '../characteristics/applies.js';
import { estimateOf } from '../characteristics/estimate.js';
import type { Question } from '../characteristics/question.js';
import type { Diagnostic, DiagnosticCode } from '../../base/diagnostics/diagnostic.js';
import { positionMm, type Job, type Rail } from '../../survey/job/job.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { fromMm } from '../../base/units/units.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import type { ExcludedRow, OffsetReading, Readings } from '../../survey/readings/readings.js';
import {
  listWords,
  numberWords,
  stationWords,
  type PhaseRead,
  type Plane,
  type RailRead,
} from '../../survey/readings/what-was-read.js';
import { adjust, type Adjustment } from '../solve/adjustment.js';
import { buildNetwork } from '../solve/network.js';
import { noiseIn } from '../solve/noise-in.js';

/** Findings about a survey as a whole, which no single row or column causes. */
export const OF_THE_WHOLE: ReadonlySet<DiagnosticCode> = new Set<DiagnosticCode>([
  'STATIONS_UNREAD',
  'SETUP_UNREAD',
  'LIMIT_IMPLAUSIBLE',
  'GEOMETRY_IMPLAUSIBLE',
  'DATE_IMPLAUSIBLE',
  'PHASES_REVERSED',
]);

/** Share of a rail's stations that may be left out with a note and without a question; one is always allowed. */
const MOST_LEFT_OUT = 0.1;

/**
 * Declared stations that no used reading is of. Asks: STATIONS_UNREAD where the last phase judges the rail; warns of it in
 * other phases, of rails without a limit, and where a person left out a station or two and wrote why.
 */
export function unreadStations(
  job: Job,
  { excluded }: Readings,
  read: ReadonlyMap<PhaseName, PhaseRead>,
  solved: ReadonlyMap<PhaseName, Solved>,
): Diagnostic[] {
  const last = [...read.keys()].at(-1);
  return [...read].flatMap(([phase, { rails }]) => {
    const judged = judgedPlanes(job, solved.get(phase));
    return rails.flatMap((own): Diagnostic[] => {
      const rail = job.rails.find(({ id }) => id === own.rail)!;
      // A rail that nobody read has no value of any characteristic, and that is reported (foresee.ts).
      const planes = own.planes.filter(({ unread }) => unread.length > 0);
      if (planes.length === 0) return [];
      const isJudged = planes.some(({ plane }) => judged === null || judged.has(`${rail.id}|${plane}`));
      const isKnown = planes.every(({ unread }) => isLeftOutOnPurpose(own, unread, excluded, phase));
      const severity = isJudged && phase === last && !isKnown ? 'confirm' : 'warning';
      const column = `rails[${job.rails.indexOf(rail)}].stations`;
      return [
        {
          code: 'STATIONS_UNREAD',
          severity,
          data: { rail: rail.id, phase: phaseWords(phase), ...unreadWords(job, rail, own) },
          at: { file: 'job.json', column },
        },
      ];
    });
  });
}

/** true: each of these stations was read and left out with a note, they are few, and none is at an end. */
function isLeftOutOnPurpose(
  { rail, leftOut, declared }: RailRead,
  unread: readonly number[],
  excluded: readonly ExcludedRow[],
  phase: PhaseName,
): boolean {
  if (unread.length > Math.max(1, MOST_LEFT_OUT * declared)) return false;
  const hasNote = (station: number) =>
    excluded.some(
      (row) =>
        row.phase === phase &&
        row.note.trim() !== '' &&
        (row.stations ?? []).some((s) => s.rail === rail && s.station === station),
    );
  return unread.every(
    (n) =>
      leftOut.includes(n) &&
      hasNote(n) &&
      n > 1 &&
      n < declared &&
      !unread.includes(n - 1) &&
      !unread.includes(n + 1),
  );
}

function unreadWords(job: Job, rail: Rail, own: RailRead) {
  const isSame = own.planes.every(({ unread }) => unread.join() === own.unread.join());
  const missing = isSame
    ? stationWords(own.unread)
    : own.planes
        .filter(({ unread }) => unread.length > 0)
        .map(
          ({ plane, unread }) => `${plane === 'vertical' ? 'in height' : 'sideways'} ${stationWords(unread)}`,
        )
        .join('; ');
  const worst = own.planes.reduce((a, b) => (b.read < a.read ? b : a));
  const stations = rail.stations.filter(({ number }) => !worst.unread.includes(number));
  const at = (k: number) => positionMm(rail, stations.at(k)!);
  const shown = (mm: number) => `${Number(fromMm(mm, job.lengthUnit).toPrecision(6))}`;
  const from = positionMm(rail, rail.stations[0]!);
  const to = positionMm(rail, rail.stations.at(-1)!);
  const places = [from, ...stations.map((s) => positionMm(rail, s)), to];
  const gap = places.slice(1).reduce((most, mm, i) => Math.max(most, mm - places[i]!), 0);
  return {
    read: worst.read,
    declared: own.declared,
    missing,
    which:
      worst.unread
        .map((n) => `${rail.id}:${n}`)
        .slice(0, 4)
        .join(', ') + (worst.unread.length > 4 ? ', …' : ''),
    holds:
      stations.length === 1
        ? `at ${shown(at(0))} ${job.lengthUnit} only`
        : `from ${shown(at(0))} to ${shown(at(-1))} ${job.lengthUnit}`,
    whole: `from ${shown(from)} to ${shown(to)} ${job.lengthUnit}`,
    gap: `${shown(gap)} ${job.lengthUnit}`,
    end: worst.unread.includes(1) || worst.unread.includes(own.declared) ? 'yes' : '',
    leftOut: own.leftOut.length === 0 ? '' : numberWords(own.leftOut),
  };
}

export interface Solved {
  readonly adjustment: Adjustment;
  readonly questions: readonly Question[];
}

/** Rails and planes, as "B|vertical", whose readings make a value that has a limit; null: the phase was not solved. */
function judgedPlanes(job: Job, solved: Solved | undefined): ReadonlySet<string> | null {
  if (solved === undefined) return null;
  const judged = new Set<string>();
  for (const question of solved.questions) {
    const plane = planeOf(question);
    if (plane === null || !isLimited(job, question)) continue;
    if (estimateOf(question, solved.adjustment) === null) continue;
    const partner = question.against ?? (isOfPair(question) ? job.datum.id : question.rail);
    for (const rail of question.rails ?? [question.rail, partner]) judged.add(`${rail}|${plane}`);
  }
  return judged;
}

const isLimited = (job: Job, question: Question): boolean =>
  job.toleranceSet.tolerances.some((t) => applies(t, question));

const isOfPair = ({ what }: Question): boolean =>
  /^(?:parallelism|height-difference|cross-level|twist|coplanarity|squareness)/.test(what);

/** null: it depends on the distance across alone, which is usually read at a few places. */
const planeOf = ({ what }: Question): Plane | null =>
  what === 'span' ? null : what.includes('horizontal') || what === 'squareness' ? 'horizontal' : 'vertical';

/** A larger survey is not solved again to find the effect of a monument. */
const MOST_READINGS = 5000;
/** A smaller increase of U than this factor is not reported. */
const WORTH_A_WORD = 1.2;

/** Monuments that a set-up should have read. Warns: MONUMENT_UNREAD, with what that does to U of what has a limit. */
export function unreadMonuments(
  job: Job,
  phase: PhaseName,
  { setups }: PhaseRead,
  own: Solved,
): Diagnostic[] {
  return setups.flatMap(({ setup, monumentsUnread }): Diagnostic[] => {
    if (monumentsUnread.length === 0) return [];
    const effect = effectOf(job, own, setup, monumentsUnread);
    const data = {
      monument: listWords(monumentsUnread),
      count: monumentsUnread.length,
      setup,
      phase: phaseWords(phase),
      ...effect,
    };
    return [{ code: 'MONUMENT_UNREAD', severity: 'warning', data }];
  });
}

/** The characteristic whose U it would decrease most, and by which factor. */
function effectOf(
  job: Job,
  { adjustment, questions }: Solved,
  setup: string,
  monuments: readonly string[],
): { what: string; times: string } {
  const none = { what: '', times: '' };
  const own = adjustment.network.observations.flatMap((o) => (o.kind === 'prior' ? [] : [o]));
  if (own.length > MOST_READINGS) return none;
  const added = monuments.flatMap((monument) => {
    const isOf = (r: (typeof own)[number]): r is OffsetReading & (typeof own)[number] =>
      r.kind === 'offset' && r.point.kind === 'monument' && r.point.monument === monument;
    const elsewhere = own.filter(isOf);
    // What they read does not matter to an uncertainty.
    return elsewhere.filter((r) => r.setup === elsewhere[0]!.setup).map((r) => ({ ...r, setup }));
  });
  if (added.length === 0) return none;
  const then = adjust(buildNetwork(job, [...own, ...added]));
  let worst = { what: '', ratio: WORTH_A_WORD, times: '' };
  for (const question of questions) {
    const made = isLimited(job, question) ? estimateOf(question, adjustment) : null;
    if (made === null) continue;
    const ratio =
      noiseIn(adjustment, adjustment, made.functional) / noiseIn(then, adjustment, made.functional);
    if (ratio > worst.ratio)
      worst = {
        what: `${question.what} of rail ${question.rail}`,
        ratio,
        times: ratio.toFixed(ratio < 10 ? 1 : 0),
      };
  }
  return { what: worst.what, times: worst.times };
}
