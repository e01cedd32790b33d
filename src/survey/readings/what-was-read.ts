/**
 * What a job declares and what was read of it, phase by phase: stations of each rail, monuments from each set-up, passes,
 * sign checks. One function for all that say it: check, report, register and follow print the same words.
 */
import { axes, positionMm, railLengthMm, type Axis, type Job, type Rail } from '../job/job.js';
import type { PhaseName } from '../job/job-schema.js';
import type { Reading, Readings } from './readings.js';

export type Plane = 'vertical' | 'horizontal';

/** Stations of a rail that were read in one plane; `horizontal` of a cross rail is its `along`. */
export interface PlaneRead {
  readonly plane: Plane;
  readonly read: number;
  /** Numbers of declared stations that no used reading of this plane is of. */
  readonly unread: readonly number[];
}

export interface RailRead {
  readonly rail: string;
  /** Stations that job.json declares. */
  readonly declared: number;
  /** Of these, stations with a used reading in any pass and plane. */
  readonly read: number;
  /** Stations without any used reading. */
  readonly unread: readonly number[];
  /** Of `unread`, stations that were read and left out by a person (use = no). */
  readonly leftOut: readonly number[];
  /** First declared to last declared station, mm; and first read to last read, mm; 0: fewer than two were read. */
  readonly lengthMm: number;
  readonly readLengthMm: number;
  /** The fewest and the most passes in which a station that was read was read. */
  readonly passes: { readonly fewest: number; readonly most: number };
  /** Set-ups and files of slopes from which it was read. */
  readonly setups: readonly string[];
  /** The planes that were read at all. */
  readonly planes: readonly PlaneRead[];
}

export interface SetupRead {
  readonly setup: string;
  readonly readings: number;
  readonly passes: number;
  /** Ids of monuments that were read from here; and of those that were not, though this is a survey with monuments. */
  readonly monuments: readonly string[];
  readonly monumentsUnread: readonly string[];
  /** Axes whose sign was checked by moving a target. */
  readonly signChecks: readonly Axis[];
}

/** Declared and read in one phase. Its shape is that of `read` in results.json. */
export interface PhaseRead {
  readonly rails: readonly RailRead[];
  readonly setups: readonly SetupRead[];
}

/** Each phase that was read, in the order of the work. */
export const whatWasRead = (job: DeclaredSurvey, readings: Readings): ReadonlyMap<PhaseName, PhaseRead> =>
  new Map([...readings.phases].map(([name, list]) => [name, phaseRead(job, name, list, readings)]));

/** The parts of a job that say what is to be read. */
export type DeclaredSurvey = Pick<Job, 'rails' | 'monuments' | 'setups'>;

function phaseRead(
  job: DeclaredSurvey,
  phase: PhaseName,
  list: readonly Reading[],
  { excluded, signChecks = [] }: Readings,
): PhaseRead {
  const looks = looksOf(list);
  const leftOut = new Map<string, Set<number>>();
  for (const row of excluded) {
    if (row.phase !== phase) continue;
    for (const { rail, station } of row.stations ?? []) added(leftOut, rail, station);
  }
  const own = list.filter((r) => r.kind === 'offset');
  const inUse = new Set(own.map(({ setup }) => setup));
  const seen = new Map<string, Set<string>>();
  for (const { setup, point } of own) if (point.kind === 'monument') added(seen, setup, point.monument);
  return {
    rails: job.rails.map((rail) =>
      railRead(rail, looks.get(rail.id) ?? [], leftOut.get(rail.id) ?? new Set()),
    ),
    setups: job.setups
      .filter(({ id }) => inUse.has(id))
      .map(({ id }): SetupRead => {
        const from = own.filter(({ setup }) => setup === id);
        const monuments = job.monuments.map((m) => m.id);
        return {
          setup: id,
          readings: from.length,
          passes: new Set(from.map(({ pass }) => pass)).size,
          monuments: monuments.filter((m) => seen.get(id)?.has(m)),
          monumentsUnread: monuments.filter((m) => isMissed(m, id, seen)),
          signChecks: axes.filter((axis) =>
            signChecks.some((c) => c.phase === phase && c.setup === id && c.axis === axis),
          ),
        };
      }),
  };
}

/**
 * Whether a monument should have been read from a set-up and was not: it is read from fewer than two set-ups, so that it
 * ties nothing; or another set-up read it, with which this one has only one monument in common. Two carry a direction over.
 */
function isMissed(monument: string, setup: string, seen: ReadonlyMap<string, ReadonlySet<string>>): boolean {
  const own = seen.get(setup) ?? new Set<string>();
  if (own.has(monument)) return false;
  const readers = [...seen.values()].filter((monuments) => monuments.has(monument));
  if (readers.length < 2) return own.size > 0 || seen.size < 2;
  return readers.some((other) => [...other].filter((m) => own.has(m)).length === 1);
}

/** One look at a station. */
interface Look {
  readonly station: number;
  /** null: of the distance across, which tells of neither plane. */
  readonly plane: Plane | null;
  readonly pass: string;
  readonly from: string;
}

function looksOf(list: readonly Reading[]): Map<string, Look[]> {
  const looks = new Map<string, Look[]>();
  const add = (rail: string, look: Look) => {
    const known = looks.get(rail);
    if (known === undefined) looks.set(rail, [look]);
    else known.push(look);
  };
  for (const r of list) {
    const { pass } = r;
    if (r.kind === 'span') {
      add(r.rail, { station: r.station, plane: null, pass, from: r.source.file });
      add(r.other, { station: r.otherStation, plane: null, pass, from: r.source.file });
      continue;
    }
    const plane = r.axis === 'vertical' ? 'vertical' : 'horizontal';
    if (r.kind === 'slope')
      for (const { rail, station } of [r.from, r.to])
        add(rail, { station, plane, pass, from: r.source.file });
    else if (r.point.kind === 'station')
      add(r.point.rail, { station: r.point.station, plane, pass, from: r.setup });
  }
  return looks;
}

function railRead(rail: Rail, looks: readonly Look[], leftOut: ReadonlySet<number>): RailRead {
  const numbers = rail.stations.map((station) => station.number);
  const passes = new Map<number, Set<string>>();
  for (const { station, pass, from } of looks) added(passes, station, `${from}|${pass}`);
  const perStation = [...passes.values()].map((own) => own.size);
  const unread = numbers.filter((n) => !passes.has(n));
  const read = rail.stations.filter((station) => passes.has(station.number));
  return {
    rail: rail.id,
    declared: numbers.length,
    read: read.length,
    unread,
    leftOut: unread.filter((n) => leftOut.has(n)),
    lengthMm: rail.stations.length < 2 ? 0 : railLengthMm(rail),
    readLengthMm: read.length < 2 ? 0 : positionMm(rail, read.at(-1)!) - positionMm(rail, read[0]!),
    passes: {
      fewest: perStation.reduce((least, n) => Math.min(least, n), perStation[0] ?? 0),
      most: perStation.reduce((most, n) => Math.max(most, n), 0),
    },
    setups: [...new Set(looks.map(({ from }) => from))],
    planes: (['vertical', 'horizontal'] as const).flatMap((plane) => {
      const own = new Set(looks.filter((l) => l.plane === plane).map(({ station }) => station));
      if (own.size === 0) return [];
      return [{ plane, read: own.size, unread: numbers.filter((n) => !own.has(n)) }];
    }),
  };
}

function added<K, V>(map: Map<K, Set<V>>, key: K, value: V): void {
  const known = map.get(key);
  if (known === undefined) map.set(key, new Set([value]));
  else known.add(value);
}

/** "4", "4 and 5", "4, 7 to 9 and 12" */
export const numberWords = (numbers: readonly number[]): string =>
  listWords(numberRuns(numbers, (from, to) => `${from} to ${to}`));

/** Three numbers or more in a row as one text. */
export function numberRuns(
  numbers: readonly number[],
  run: (from: number, to: number) => string,
): readonly string[] {
  const parts: string[] = [];
  for (let i = 0; i < numbers.length;) {
    let end = i;
    while (numbers[end + 1] === numbers[end]! + 1) end++;
    if (end - i >= 2) parts.push(run(numbers[i]!, numbers[end]!));
    else for (let k = i; k <= end; k++) parts.push(String(numbers[k]!));
    i = end + 1;
  }
  return parts;
}

/** "M1", "M1 and M2", "M1, M2 and M3" */
export const listWords = (parts: readonly string[]): string =>
  parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)!}`;

/**
 * What was read, in the words that every command and page uses, one line for each thing: "read 13 of 15 stations of B:
 * not stations 14 and 15", "M2 not read from S2", "no sign check at S2".
 *
 * @param isShort Only what is missing of stations and monuments.
 */
export function readWords({ rails, setups }: PhaseRead, isShort = false): string[] {
  const lines: string[] = [];
  for (const rail of rails) {
    if (isShort && rail.unread.length === 0 && rail.planes.every(({ unread }) => unread.length === 0))
      continue;
    const missing =
      rail.unread.length === 0 || rail.read === 0 ? '' : `: not ${stationWords(rail.unread)}${ofThem(rail)}`;
    lines.push(`read ${rail.read} of ${rail.declared} stations of ${rail.rail}${missing}`);
    for (const { plane, unread } of rail.planes) {
      const more = unread.filter((n) => !rail.unread.includes(n));
      if (more.length > 0) lines.push(`${rail.rail} not read ${planeWords[plane]} at ${stationWords(more)}`);
    }
  }
  for (const { setup, monumentsUnread } of setups)
    if (monumentsUnread.length > 0) lines.push(`${listWords(monumentsUnread)} not read from ${setup}`);
  if (isShort) return lines;
  const unchecked = setups.filter(({ signChecks }) => signChecks.length === 0).map(({ setup }) => setup);
  if (unchecked.length > 0) lines.push(`no sign check at ${listWords(unchecked)}`);
  return lines;
}

const planeWords: Readonly<Record<Plane, string>> = { vertical: 'in height', horizontal: 'sideways' };

const ofThem = ({ unread, leftOut }: RailRead): string =>
  leftOut.length === 0
    ? ''
    : leftOut.length === unread.length
      ? ' (left out)'
      : ` (of these left out: ${numberWords(leftOut)})`;

export const stationWords = (numbers: readonly number[]): string =>
  `station${numbers.length === 1 ? '' : 's'} ${numberWords(numbers)}`;
