/**
 * What would explain readings that do not agree: each likely mistake is tried in the model, one at a time, and the one
 * after which they agree best is named. Nothing is changed by it.
 */
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import type { Axis, Job, Setup } from '../../survey/job/job.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import type { OffsetReading, Reading } from '../../survey/readings/readings.js';
import { adjust, type Adjustment } from '../solve/adjustment.js';
import { buildNetwork } from '../solve/network.js';
import { findSuspects } from '../solve/suspects.js';
import { sharedUnknowns } from './size.js';
import { leastOf, mostOf } from '../../base/statistics/extent.js';

/** Chance does as much in less than one survey of so many. */
const BEYOND_CHANCE = 1e-5;
/** By so much χ² must fall: a likelihood of 3e8 to one. */
const BETTER = 40;
/** Beyond this, no claim about an instrument is that far off. */
const FAR = 8;
/** Of fewer checks one slip makes all of the scatter. */
const FEWEST_CHECKS = 10;
/** An explanation must bring the scatter below this, or to less than half of what it was. */
const AGREES = 1.4;
const HALF = 0.5;
/** More suspects than these are no slips of the pen. */
const MOST_SUSPECTS = 4;
/** What all trials together may cost, in steps of the elimination: beyond it, whole set-ups alone are tried. */
const MOST_COST = 1e9;
/** Of one reading. */
const READING = 500;
/** Factors between units that people take for each other (unit-factors.ts). */
const FACTORS = [25.4, 39.37, 1000];

interface Trial {
  /** A sign turned round, which a few slips of the pen do not look like. */
  readonly isSign?: boolean;
  readonly cause: string;
  readonly mend: string;
  readonly readings: () => readonly Reading[];
}

/**
 * MISFIT_EXPLAINED or NOISE_FAR_ABOVE_CLAIM, to be confirmed, where the readings of a phase contradict each other beyond
 * anything that noise or a mistaken claim does; null where they do not.
 */
export function explainMisfit(
  job: Job,
  phase: PhaseName,
  readings: readonly Reading[],
  adjustment: Adjustment,
): Diagnostic | null {
  const { sigma0, chiSquare, redundancy } = adjustment;
  if (sigma0 === null || chiSquare === null) return null;
  const isContradiction = chiSquare.upperTail < BEYOND_CHANCE;
  const tried = trialsOf(job, readings, isContradiction)
    .flatMap((trial) => {
      const after = solved(job, trial.readings());
      return after === null ? [] : [{ trial, ...after }];
    })
    .sort((a, b) => a.sigma0 - b.sigma0);
  const [best, next] = tried;
  // A few readings that stand out are what suspects are for: the report lists them, and nothing else is wrong.
  const few = findSuspects(adjustment).slice(0, MOST_SUSPECTS);
  const stray = new Set(few.map(({ observation }) => adjustment.network.observations[observation]));
  const withoutSuspects =
    stray.size === 0
      ? sigma0
      : (solved(
          job,
          readings.filter((r) => !stray.has(r)),
        )?.sigma0 ?? sigma0);
  const at = { file: fileOf(readings) };
  const number = (v: number) => v.toFixed(v < 10 ? 2 : 0);
  const isExplained =
    best !== undefined &&
    chiSquare.statistic - best.chiSquare > BETTER &&
    (best.sigma0 < AGREES || (sigma0 > FAR && best.sigma0 < HALF * sigma0)) &&
    // Where setting a few readings aside is enough, nothing larger needs to have happened.
    (best.trial.isSign === true ? best.sigma0 < withoutSuspects : withoutSuspects > AGREES);
  if (isExplained) return found(best, next);
  if (!isContradiction || sigma0 < FAR || redundancy < FEWEST_CHECKS || withoutSuspects < HALF * sigma0)
    return null;
  const data = { phase: phaseWords(phase), sigma0: number(sigma0), redundancy };
  return { code: 'NOISE_FAR_ABOVE_CLAIM', severity: 'confirm', data, at };

  function found(first: { trial: Trial; sigma0: number }, second: typeof next): Diagnostic {
    const others = second === undefined ? '' : `${second.trial.cause}: ${number(second.sigma0)} times`;
    const data = {
      phase: phaseWords(phase),
      cause: first.trial.cause,
      before: number(sigma0!),
      after: number(first.sigma0),
      others,
      mend: first.trial.mend,
    };
    return { code: 'MISFIT_EXPLAINED', severity: 'confirm', data, at };
  }
}

/** The file that most of a phase's readings come from. */
function fileOf(readings: readonly Reading[]): string {
  const counts = new Map<string, number>();
  for (const { source } of readings) counts.set(source.file, (counts.get(source.file) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0]?.[0] ?? 'job.json';
}

function solved(job: Job, readings: readonly Reading[]): { sigma0: number; chiSquare: number } | null {
  if (readings.length === 0) return null;
  const { sigma0, chiSquare } = adjust(buildNetwork(job, readings));
  return sigma0 === null || chiSquare === null ? null : { sigma0, chiSquare: chiSquare.statistic };
}

interface Group {
  readonly words: string;
  readonly setup: Setup;
  readonly axis: Axis;
  /** null: all rails that the set-up reads, and monuments. */
  readonly rail: string | null;
  readonly pass: string | null;
  readonly list: ReadonlySet<Reading>;
}

function trialsOf(job: Job, readings: readonly Reading[], isContradiction: boolean): Trial[] {
  const groups = groupsOf(job, readings);
  const perTrial = READING * Math.max(1, readings.length) + sharedUnknowns(job, readings) ** 3;
  // Signs are always tried, for a wrong one can hide in what noise allows; all else where the readings contradict each other.
  const few = isContradiction && groups.length * 7 * perTrial <= MOST_COST;
  const some = few ? groups : groups.filter(({ rail, pass }) => rail === null && pass === null);
  if (some.length * perTrial > MOST_COST) return [];
  const trials: Trial[] = some.map((group) => turned(group, readings));
  if (few) {
    for (const group of groups) {
      if (group.pass === null || group.rail === null) continue;
      for (const factor of FACTORS)
        trials.push(scaled(group, readings, factor), scaled(group, readings, 1 / factor));
      for (const by of [1, -1]) trials.push(...shifted(job, group, readings, by));
    }
    trials.push(...monumentsLeftOut(job, readings));
  }
  return trials;
}

/** Offsets by set-up and axis; by rail, pass and both where these are parts of it. */
function groupsOf(job: Job, readings: readonly Reading[]): Group[] {
  const setups = new Map(job.setups.map((s) => [s.id, s]));
  const groups = new Map<string, { group: Omit<Group, 'list'>; list: Set<Reading> }>();
  const put = (r: OffsetReading, rail: string | null, pass: string | null) => {
    const setup = setups.get(r.setup)!;
    const key = [r.setup, r.axis, rail ?? '', pass ?? ''].join('|');
    const known = groups.get(key) ?? {
      group: { words: wordsOf(r, rail, pass), setup, axis: r.axis, rail, pass },
      list: new Set<Reading>(),
    };
    known.list.add(r);
    groups.set(key, known);
  };
  for (const r of readings) {
    if (r.kind !== 'offset') continue;
    put(r, null, null);
    if (r.point.kind === 'monument') {
      put(r, `monument ${r.point.monument}`, null);
      continue;
    }
    put(r, r.point.rail, null);
    put(r, null, r.pass);
    put(r, r.point.rail, r.pass);
  }
  // A part that is the whole is not tried twice: the wider one stands first.
  const sizes = new Set<string>();
  return [...groups.values()].flatMap(({ group, list }) => {
    const first = [...list][0] as OffsetReading;
    const key = `${group.setup.id}|${group.axis}|${list.size}|${first.source.file}|${first.source.row}`;
    if (sizes.has(key)) return [];
    sizes.add(key);
    return [{ ...group, list }];
  });
}

function wordsOf({ setup, axis }: OffsetReading, rail: string | null, pass: string | null): string {
  const what = rail === null ? '' : rail.startsWith('monument') ? ` of ${rail}` : ` of rail ${rail}`;
  return `the ${axis} readings${pass === null ? '' : ` of pass ${pass}`}${what} from set-up ${setup}`;
}

const OTHER_SIDE: Readonly<Record<Axis, readonly [plus: string, minus: string]>> = {
  vertical: ['up', 'down'],
  horizontal: ['left', 'right'],
  along: ['ahead', 'back'],
};

function turned(group: Group, readings: readonly Reading[]): Trial {
  const { setup, axis, rail, pass, list, words } = group;
  const now = OTHER_SIDE[axis][setup.sign[axis] === 1 ? 0 : 1];
  const other = OTHER_SIDE[axis][setup.sign[axis] === 1 ? 1 : 0];
  const isWhole = rail === null && pass === null;
  const mend = isWhole
    ? `In job.json, set-up ${setup.id}: "plus": { "${axis}": "${other}" } in place of "${now}".`
    : `Give these readings (${rowWords(list)}) a set-up of their own: in job.json { "id": "${setup.id}-turned", … all else as in ${setup.id}, "plus": { … "${axis}": "${other}" } }, and ${setup.id}-turned in their column setup.`;
  return {
    isSign: true,
    cause: `${words} have the other sign`,
    mend,
    readings: () => readings.map((r) => (list.has(r) && r.kind === 'offset' ? { ...r, um: -r.um } : r)),
  };
}

function scaled({ words, list }: Group, readings: readonly Reading[], factor: number): Trial {
  const shown =
    factor >= 1 ? `${factor} times as large` : `${Number((1 / factor).toPrecision(4))} times as small`;
  return {
    cause: `${words} are ${shown}`,
    mend: `Look at the unit of these readings (${rowWords(list)}): write it into their column or into the file's entry in job.json.`,
    readings: () =>
      readings.map((r) => (list.has(r) && r.kind === 'offset' ? { ...r, um: r.um * factor } : r)),
  };
}

function shifted(job: Job, { words, rail, list }: Group, readings: readonly Reading[], by: number): Trial[] {
  const count = job.rails.find((r) => r.id === rail)?.stations.length ?? 0;
  const moved = (r: Reading): Reading[] => {
    if (!list.has(r) || r.kind !== 'offset' || r.point.kind !== 'station') return [r];
    const station = r.point.station + by;
    return station < 1 || station > count ? [] : [{ ...r, point: { ...r.point, station } }];
  };
  if (list.size < 4) return [];
  return [
    {
      cause: `each station of ${words} is counted one ${by > 0 ? 'higher' : 'lower'}`,
      mend: `Look for a row that was left out or typed twice (${rowWords(list)}).`,
      readings: () => readings.flatMap(moved),
    },
  ];
}

/** A monument may have moved between two set-ups: then leaving it out of one of them helps. */
function monumentsLeftOut(job: Job, readings: readonly Reading[]): Trial[] {
  return job.monuments.flatMap(({ id }) => {
    const own = (r: Reading) => r.kind === 'offset' && r.point.kind === 'monument' && r.point.monument === id;
    const setups = [...new Set(readings.filter(own).map((r) => (r as OffsetReading).setup))];
    if (setups.length < 2) return [];
    return setups.map((setup): Trial => ({
      cause: `monument ${id} as read from set-up ${setup} is left out`,
      mend: `Has monument ${id} moved, or was another one read? Read it again, or leave its rows out with use = no and a note.`,
      readings: () => readings.filter((r) => !(own(r) && (r as OffsetReading).setup === setup)),
    }));
  });
}

/** "readings/as-left.csv, rows 2 to 22" */
function rowWords(list: ReadonlySet<Reading>): string {
  const byFile = new Map<string, number[]>();
  for (const { source } of list) byFile.set(source.file, [...(byFile.get(source.file) ?? []), source.row]);
  return [...byFile]
    .map(([file, rows]) => {
      const [first, last] = [leastOf(rows), mostOf(rows)];
      return `${file}, ${first === last ? `row ${first}` : `rows ${first} to ${last}`}`;
    })
    .join('; ');
}
