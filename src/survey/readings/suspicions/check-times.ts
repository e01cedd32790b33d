/** Times of readings against the survey's day, the calibration's end, and each other. */
import { groupBy, leastBy } from '../../../base/lists.js';
import type { Findings } from '../../../base/diagnostics/diagnostic.js';
import { axes } from '../../job/job.js';
import type { Frame } from '../../job/resolve-job.js';
import { hoursOf } from '../clock.js';
import type { Reading, Readings } from '../readings.js';
import { isReadingTime } from '../../../base/input/time.js';

/** Readings no further apart than this, in hours, belong to one survey: a night's rest is within it. */
const REST = 16;
/** As-found readings are older than the survey of as-left; not by more than this, in days. */
const OLDEST_AS_FOUND = 366;

interface Moment {
  readonly time: string;
  /** As written: the day of the clock that the crew read. */
  readonly day: string;
  readonly hours: number;
  /** false: the day alone is known, and counts as noon. */
  readonly hasClock: boolean;
}

interface Timed extends Moment {
  readonly reading: Reading;
}

/** Warns: TIME_OUTSIDE_SURVEY, CALIBRATION_OVERDUE, SETUPS_INTERLEAVED. */
export function checkTimes(readings: Readings, frame: Frame, findings: Findings): void {
  for (const [phase, list] of readings.phases) {
    const timed = timesOf(list).sort((a, b) => a.hours - b.hours);
    const isBefore = phase !== frame.phases.at(-1);
    const outside = frame.surveyedOn === null ? [] : checkDay(timed, isBefore, frame.surveyedOn, findings);
    const doubtful = new Set(outside);
    checkSetups(
      timed.filter((t) => !doubtful.has(t)),
      frame,
      findings,
    );
  }
  checkCalibration(readings, frame, findings);
}

function timesOf(list: readonly Reading[]): Timed[] {
  const timed: Timed[] = [];
  let before: string | null = null;
  let moment: Moment | null = null;
  for (const reading of list) {
    const { time } = reading;
    if (time === null) continue;
    // All readings of a row have its time.
    if (time !== before) moment = momentOf(time);
    before = time;
    if (moment !== null) timed.push({ ...moment, reading });
  }
  return timed;
}

function momentOf(time: string): Moment | null {
  if (!isReadingTime(time)) return null;
  const day = time.slice(0, 10);
  const clock = hoursOf(time);
  const hours = clock ?? hoursOf(`${day}T12:00`);
  return hours === null ? null : { time, day, hours, hasClock: clock !== null };
}

/**
 * A survey may take a night or several days, as long as no long break lies between.
 *
 * @param isBefore Of a phase before the last, which may be long before.
 * @returns What does not fit.
 */
function checkDay(timed: readonly Timed[], isBefore: boolean, on: string, findings: Findings): Timed[] {
  const days = daysOfSurvey(timed, on);
  const oldest = new Date(Date.parse(on) - OLDEST_AS_FOUND * 86_400_000).toISOString().slice(0, 10);
  const isFine = ({ day }: Timed) => days.has(day) || (isBefore && day < on && day >= oldest);
  const outside = timed.filter((t) => !isFine(t));
  for (const list of groupBy(outside, ({ reading }) => reading.source.file).values()) {
    const first = leastBy(list, ({ reading }) => reading.source.row)!;
    const data = { time: first.time, on, count: list.length };
    findings.warn('TIME_OUTSIDE_SURVEY', data, { ...first.reading.source, column: 'time' });
  }
  return outside;
}

/** The days that hang together with the survey's own. */
function daysOfSurvey(timed: readonly Timed[], on: string): Set<string> {
  const days = new Set([on]);
  const isLinked = (a: Timed, b: Timed) => Math.abs(a.hours - b.hours) <= REST;
  for (const order of [timed, [...timed].reverse()]) {
    for (const [i, t] of order.entries()) {
      const before = order[i - 1];
      if (before !== undefined && days.has(before.day) && isLinked(before, t)) days.add(t.day);
    }
  }
  return days;
}

/** By the readings' own days, where the day of the survey itself does not tell already. */
function checkCalibration(readings: Readings, frame: Frame, findings: Findings): void {
  const reported = new Set<string>();
  for (const list of readings.phases.values()) {
    for (const reading of list) {
      if (reading.time === null) continue;
      const id = instrumentOf(reading, frame);
      const due = frame.instruments.get(id)?.calibrationDue ?? null;
      const day = reading.time.slice(0, 10);
      if (due === null || day <= due || reported.has(id) || !isReadingTime(reading.time)) continue;
      reported.add(id);
      if (frame.surveyedOn !== null && due < frame.surveyedOn) continue;
      findings.warn(
        'CALIBRATION_OVERDUE',
        { instrument: id, due, on: day },
        { ...reading.source, column: 'time' },
      );
    }
  }
}

const instrumentOf = (reading: Reading, frame: Frame): string =>
  reading.kind === 'offset' ? (frame.setups.get(reading.setup)?.instrument ?? '') : reading.instrument;

interface Stay {
  readonly setup: string;
  readonly list: Timed[];
}

/** An instrument is in one place at a time, and one that comes back is a new set-up. */
function checkSetups(timed: readonly Timed[], frame: Frame, findings: Findings): void {
  const stays = new Map<string, Stay>();
  for (const t of timed) {
    if (t.reading.kind !== 'offset' || !t.hasClock) continue;
    const { setup } = t.reading;
    const stay = stays.get(setup) ?? { setup, list: [] };
    stay.list.push(t);
    stays.set(setup, stay);
  }
  const ordered = [...stays.values()].sort((a, b) => a.list[0]!.hours - b.list[0]!.hours);
  for (const [i, one] of ordered.entries()) {
    const instrument = frame.setups.get(one.setup)?.instrument;
    for (const other of ordered.slice(i + 1)) {
      if (other.list[0]!.hours >= one.list[one.list.length - 1]!.hours) break;
      if (instrument === undefined || frame.setups.get(other.setup)?.instrument !== instrument) continue;
      if (!isOneStand(frame, one.setup, other.setup)) reportStays(instrument, one, other, findings);
    }
  }
}

/** Set-ups at one place that differ in what a plus means: one stand, with readings of turned signs told apart. */
function isOneStand(frame: Frame, one: string, other: string): boolean {
  const [a, b] = [frame.setups.get(one), frame.setups.get(other)];
  if (!a || !b) return false;
  const isSamePlace = a.alongMm === b.alongMm && a.acrossMm === b.acrossMm;
  return isSamePlace && axes.some((axis) => a.sign[axis] !== b.sign[axis]);
}

/** The fewer readings that would have to move for the two stays to follow each other are the ones to look at. */
function reportStays(instrument: string, one: Stay, other: Stay, findings: Findings): void {
  const [start, end] = [other.list[0]!.hours, one.list[one.list.length - 1]!.hours];
  const late = one.list.filter((t) => t.hours > start);
  const early = other.list.filter((t) => t.hours < end);
  const [odd, stray, host] =
    early.length <= late.length ? [early, other.setup, one.setup] : [late, one.setup, other.setup];
  const data = {
    instrument,
    one: host,
    other: stray,
    from: odd[0]!.time,
    to: odd[odd.length - 1]!.time,
    count: odd.length,
  };
  const first = leastBy(odd, ({ reading }) => reading.source.row)!;
  findings.warn('SETUPS_INTERLEAVED', data, { ...first.reading.source, column: 'time' });
}
